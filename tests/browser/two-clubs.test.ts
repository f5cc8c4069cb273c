/**
 * The main job as two clubs do it: both phones out of reach, the same league match entered twice, other games beside it, the relay
 * killed meanwhile; then the signal comes back. Real browsers, real storage, the relay a process of its own, the demo's season.
 */
import type { FixtureId } from "@sward/core";
import type { Browser, Locator, Page } from "playwright-core";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch } from "../support/browser.ts";
import type { DemoRelay } from "../support/demo-relay.ts";
import { startDemoRelay } from "../support/demo-relay.ts";
import { inStep, openDevice } from "./at-a-desk.ts";
import { sidewaysFaults, takeMeasures } from "./measures.ts";

let relay: DemoRelay;
let browser: Browser;
let ferncombe: Device;
let winterbeck: Device;

const fixture = "dGVzdC1maXh0dXJlLTAwMQ" as FixtureId;
const [NORTH, SOUTH] = ["Ferncombe Croquet Club", "Winterbeck Croquet Club"] as const;

beforeAll(async () => {
  relay = await startDemoRelay(inject("app"));
  browser = await launch();
  const clubKey = (slug: string) => {
    const signer = relay.demo.signers.get(`${slug}/root`);
    if (signer === undefined) throw new Error(slug);
    return signer.id;
  };
  await relay.write("beck-and-combe", "beck-and-combe/league-secretarys-laptop", [
    {
      kind: "fixture-set",
      body: {
        fixture,
        date: "2026-11-21",
        home: clubKey("ferncombe"),
        away: clubKey("winterbeck"),
        slots: [
          { discipline: "singles", play: "handicap", format: 13 },
          { discipline: "singles", play: "handicap", format: 13 },
        ],
      },
    },
  ]);
  ferncombe = await openDevice(browser, relay.origin, relay.pass("ferncombe/handicappers-laptop"));
  winterbeck = await openDevice(browser, relay.origin, relay.pass("winterbeck/handicappers-laptop"), {
    viewport: { width: 390, height: 844 },
  });
  // Before the signal goes, all of the app must be kept.
  for (const { page } of both()) await page.evaluate(() => navigator.serviceWorker.ready.then(() => 0));
});

afterAll(async () => {
  await browser?.close();
  await relay?.close();
});

const both = (): readonly Device[] => [ferncombe, winterbeck];

async function goTo(page: Page, tab: string): Promise<void> {
  await page.getByRole("navigation").getByRole("link", { name: tab }).click();
}

async function toFixture(page: Page): Promise<Locator> {
  await goTo(page, "League");
  await page
    .getByRole("link", { name: `${NORTH} v ${SOUTH}` })
    .last()
    .click();
  await page.getByRole("heading", { name: "Match 1" }).waitFor();
  return page.getByRole("region", { name: "Match 1" });
}

/** The two players, by name, and what the record says each plays off. */
interface Pairing {
  readonly slot: number;
  readonly north: string;
  readonly south: string;
  readonly hoops: readonly [number, number];
}

async function reportSlot(page: Page, { slot, north, south, hoops }: Pairing): Promise<void> {
  await toFixture(page);
  const card = page.getByRole("region", { name: `Match ${slot}` });
  await card.getByRole("button", { name: `Report match ${slot}` }).click();
  await fillHoops(card, hoops, async () => {
    await card.getByRole("combobox", { name: `${NORTH} player` }).selectOption(north);
    await card.getByRole("combobox", { name: `${SOUTH} player` }).selectOption(south);
    await card.getByLabel("Played on").fill("2026-11-21");
  });
  await card.getByRole("button", { name: `Save match ${slot}` }).click();
  await card.getByRole("button", { name: `Save match ${slot}` }).waitFor({ state: "detached" });
}

async function fillHoops(card: Locator, [north, south]: readonly [number, number], before: () => Promise<void>) {
  await before();
  await card.getByLabel(`Game 1, hoops of ${NORTH}`).fill(String(north));
  await card.getByLabel(`Game 1, hoops of ${SOUTH}`).fill(String(south));
}

/** Enters a club match at the keyboard. */
async function enterMatch(page: Page, words: readonly string[], date: string): Promise<void> {
  await goTo(page, "Enter");
  await page.getByRole("heading", { name: "Enter a match" }).waitFor();
  await page.getByLabel("Played as").selectOption("club competition");
  await page.getByLabel("Date").fill(date);
  await page.getByRole("combobox", { name: "Player", exact: true }).focus();
  for (const word of words) {
    await page.keyboard.type(word);
    await page.keyboard.press("Enter");
  }
  await page.getByText("Saved: ").waitFor();
}

/** Index and handicap in the heading of a member's card. */
async function indexOf(page: Page, name: string): Promise<number> {
  await goTo(page, "Members");
  await page.getByRole("link", { name }).first().click();
  await page.getByRole("heading", { level: 1, name }).waitFor();
  return Number(await page.locator(".card-index-value").first().innerText());
}

const status = (page: Page, slot: number): Promise<string> =>
  page
    .getByRole("region", { name: `Match ${slot}` })
    .getByRole("heading")
    .first()
    .innerText();

const attention = async (page: Page): Promise<string> => {
  await goTo(page, "To do");
  await page.getByRole("heading", { name: /What needs attention|Nothing needs you/ }).waitFor();
  return page.getByRole("main").innerText();
};

async function goOffline(): Promise<void> {
  for (const device of both()) await device.goOffline();
}
async function comeBack(): Promise<void> {
  for (const device of both()) await device.online();
  for (const { page } of both()) await inStep(page);
}

test("no screen of the league is wider than a phone, though a club's name is", async () => {
  const { page } = winterbeck;
  await takeMeasures(page);
  await goTo(page, "League");
  await page.getByText(`reported by ${NORTH} only`).first().waitFor();
  const links = page.locator("main a[href*='/league/']");
  const places = new Set(await links.evaluateAll((all) => all.map((one) => (one as HTMLAnchorElement).pathname)));
  expect(places.size).toBeGreaterThan(8);
  expect(await sidewaysFaults(page), "League").toEqual([]);
  for (const place of places) {
    await page.goto(`${relay.origin}${place}`);
    await inStep(page);
    await takeMeasures(page);
    expect(await sidewaysFaults(page), place).toEqual([]);
  }
});

test("both offline, both enter the same match and others; back again it counts once, and nothing is asked", async () => {
  const [ours, theirs] = ["Ada Whitlow", "Thora Wensley"];
  const before = {
    ours: await indexOf(ferncombe.page, ours),
    theirs: await indexOf(winterbeck.page, theirs),
    asked: await Promise.all(both().map(({ page }) => attention(page))),
  };
  await goOffline();
  for (const { page } of both()) await reportSlot(page, { slot: 1, north: ours, south: theirs, hoops: [7, 4] });
  await enterMatch(ferncombe.page, ["silas", "tabitha", "7", "5"], "2026-11-23");
  await enterMatch(winterbeck.page, ["kezia", "nikhil", "7", "2"], "2026-11-23");
  // The card is right with no signal, and the device says that nobody else has it yet.
  expect(await indexOf(ferncombe.page, ours)).toBe(before.ours + 10);
  expect(await indexOf(winterbeck.page, theirs)).toBe(before.theirs - 10);

  await comeBack();
  for (const { page } of both()) {
    await toFixture(page);
    await expect.poll(() => status(page, 1), { timeout: 20_000 }).toMatch(/agreed/);
  }
  expect(await indexOf(ferncombe.page, ours)).toBe(before.ours + 10);
  expect(await indexOf(winterbeck.page, theirs)).toBe(before.theirs - 10);
  for (const [n, { page }] of both().entries()) {
    const asked = await attention(page);
    expect(asked).not.toMatch(new RegExp(`${ours} v ${theirs}`));
    expect(asked.match(/told in two ways/g)?.length).toBe(before.asked[n]?.match(/told in two ways/g)?.length);
  }
});

test("with different scores it is held at both, side by side; one club corrects, and it counts", async () => {
  const [ours, theirs] = ["Farida Haq", "Hamid Sarraf"];
  const before = { ours: await indexOf(ferncombe.page, ours), theirs: await indexOf(winterbeck.page, theirs) };
  await goOffline();
  await reportSlot(ferncombe.page, { slot: 2, north: ours, south: theirs, hoops: [7, 6] });
  await reportSlot(winterbeck.page, { slot: 2, north: ours, south: theirs, hoops: [6, 7] });
  await comeBack();
  for (const { page } of both()) {
    await toFixture(page);
    await expect.poll(() => status(page, 2), { timeout: 20_000 }).toMatch(/differs: held/);
    const shown = await page.getByRole("region", { name: "Match 2" }).innerText();
    expect(shown).toMatch(/7–6/);
    expect(shown).toMatch(/6–7/);
  }
  expect(await indexOf(ferncombe.page, ours)).toBe(before.ours);
  expect(await indexOf(winterbeck.page, theirs)).toBe(before.theirs);

  await toFixture(winterbeck.page);
  await winterbeck.page
    .getByRole("region", { name: "Match 2" })
    .getByRole("button", { name: "Theirs is right" })
    .click();
  for (const { page } of both()) {
    await toFixture(page);
    await expect.poll(() => status(page, 2), { timeout: 20_000 }).toMatch(/agreed/);
  }
  expect(await indexOf(ferncombe.page, ours)).toBe(before.ours + 10);
  expect(await indexOf(winterbeck.page, theirs)).toBe(before.theirs - 10);
});

test("a game dated last week arrives late, with the relay killed in between: every card after it is right, nothing is lost", async () => {
  const { page } = ferncombe;
  const [winner, loser] = ["Priya Venkat", "Quentin Marsh"];
  const before = { winner: await indexOf(page, winner), loser: await indexOf(page, loser) };
  await enterMatch(page, ["priya v", "quentin m", "7", "1"], "2026-11-24");
  await inStep(page);

  await relay.kill();
  await enterMatch(page, ["quentin m", "priya v", "7", "3"], "2026-11-16");
  // A reload with the relay gone: the app and the game are both still there.
  await page.reload();
  expect(await indexOf(page, winner)).toBe(before.winner);
  expect(await indexOf(page, loser)).toBe(before.loser);
  // Lines come after a card's front.
  await expect.poll(() => page.getByRole("main").innerText()).toMatch(/7–3 won/);

  await relay.start();
  await page.getByRole("link", { name: /In step$/ }).waitFor({ timeout: 60_000 });
  // Another device of the club, which was not there at all, has both games.
  const tablet = await openDevice(browser, relay.origin, relay.pass("ferncombe/pavilion-tablet"));
  // It reads a season; what it has read by now is shown meanwhile.
  await indexOf(tablet.page, loser);
  await expect.poll(() => tablet.page.locator(".card-index-value").first().innerText()).toBe(String(before.loser));
  const theirs = () => tablet.page.getByRole("main").innerText();
  await expect.poll(theirs).toMatch(/7–3 won/);
  expect(await theirs()).toMatch(/1–7 lost/);
  expect([...both(), tablet].flatMap(({ faults }) => faults)).toEqual([]);
});
