/**
 * The first screen, the members and a member's card on the built app in a real browser, at a real relay: what the screens say is
 * what the record says, and what is pressed is in the record, also with the server gone.
 */
import { encodePass } from "@sward/client";
import { handicapInForce } from "@sward/core";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { newDevice } from "../support/browser.ts";
import { members, player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, startScene, today } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

const root = () => scene.club.root.state();
const minus = (text: string): number => Number(text.replace("−", "-").replace("+", ""));
/** The box of one thing to do. */
const matter = (page: Page, title: string | RegExp) => page.getByRole("article", { name: title });

async function openCard(page: Page, name: string): Promise<void> {
  await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  await page.getByRole("link", { name, exact: true }).click();
  await page.getByRole("heading", { level: 1, name }).waitFor();
}

test("an address with a pass makes the browser a device: the pass leaves the address, and the front page lists it", async () => {
  const device = await newDevice(scene.browser);
  const { page } = device;
  await page.goto(scene.relay.origin);
  await page.getByText("This browser is not a device of a club yet").waitFor();

  await page.goto(`${scene.relay.origin}/#pass=not-a-whole-pass`);
  await page.getByText("That address is not complete").waitFor();
  expect(page.url()).toBe(`${scene.relay.origin}/`);

  await page.goto(`${scene.relay.origin}/d/nobody0000/members`);
  await page.getByText("This browser has no pass for that device").waitFor();

  await page.goto(`${scene.relay.origin}/?again#pass=${encodePass(scene.club.passes.reader)}`);
  await page.getByRole("heading", { level: 1, name: "What needs attention" }).waitFor();
  expect(page.url()).toMatch(/\/d\/[\w-]{10}\/$/);
  expect(await page.evaluate(() => JSON.stringify(Object.entries(localStorage)))).not.toContain("seed");
  await page.goto(scene.relay.origin);
  await page.getByRole("link", { name: "Open Thornfield reader" }).click();
  await page.getByText("Thornfield Croquet Club").waitFor();
  expect(device.faults).toEqual([]);
  await device.close();
});

test("members: everybody with the handicap in force, found by a few letters from the keyboard, sorted as asked", async () => {
  const device = await scene.open(scene.club.passes.recorder, "Members");
  const { page } = device;
  const table = page.getByRole("table").first();
  const rows = table.getByRole("row");
  await expect.poll(() => rows.count()).toBe(members.length + 2);
  for (const [key, name] of members) {
    const card = scene.card(key);
    const cells = await rows.filter({ hasText: name }).locator("td").allInnerTexts();
    expect(minus(cells[0]!.split("\n")[0]!)).toBe(handicapInForce(card, today()).handicap);
    expect(minus(cells[2]!.trim())).toBe(card.index);
  }
  const names = () =>
    table.locator("tbody tr").evaluateAll((all) => all.map((row) => row.querySelector("a")?.textContent));
  await page.getByLabel("In order of").selectOption("handicap");
  expect((await names())[0]).toBe("Hal Brindle");
  expect((await names()).at(-1)).toBe("Moss Everly");

  await page.getByLabel("Find").fill("und");
  await expect.poll(names).toEqual(["Kit Underlea"]);
  await page.keyboard.press("Enter");
  await page.getByRole("heading", { level: 1, name: "Kit Underlea" }).waitFor();
  await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).toBe("H1");
  await page.goBack();
  await expect.poll(names).toEqual(["Kit Underlea"]);
  await page.getByLabel("Find").fill("zz");
  await page.getByText("Nobody here is called “zz”.").waitFor();
  expect(device.faults).toEqual([]);
});

test("a card: each line as the record has it, newest first or oldest first, with the next trigger points", async () => {
  const device = await scene.open(scene.club.passes.recorder, "Members");
  const { page } = device;
  await openCard(page, "Kit Underlea");
  const card = scene.card("kit");
  const shown = () =>
    page.locator("tr.card-line:not(.card-set)").evaluateAll((rows) =>
      rows.map((row) => {
        const text = (cell: string) => row.querySelector(`.cell-${cell}`)?.textContent ?? "";
        return [text("score"), text("points"), text("index"), text("handicap")].map((each) =>
          each.replace(/^(Index|Handicap) /, "").replace(/ (won|lost|level)$/, ""),
        );
      }),
    );
  const number = (value: number) => (value < 0 ? `−${-value}` : String(value));
  const expected = scene
    .games("kit")
    .map(({ score, points, index, handicap }) => [
      `${score[0]}–${score[1]}`,
      points > 0 ? `+${points}` : number(points),
      number(index),
      number(handicap),
    ]);
  expect(await shown()).toEqual([...expected].reverse());
  await page.getByLabel("Order").selectOption("oldest-first");
  expect(await shown()).toEqual(expected);
  await page.getByText("Handicap 6 to 7: trigger point 1350 reached").waitFor();
  await page.getByText("✓ two reports agree", { exact: true }).first().waitFor();
  await page.getByText(/^↓ \d+ points to 5 \(at 1500\)$/).waitFor();
  const chart = page.getByRole("img", { name: `Index of Kit Underlea over time` });
  expect(await chart.getAttribute("aria-label")).toContain(`now ${card.index}`);
  await chart.locator(".chart-strong").last().hover();
  const changed = card.lines.findLast(({ moved }) => moved !== null)!;
  await expect.poll(() => chart.locator("title").textContent()).toContain(`Handicap ${changed.moved?.to}`);
  await page.getByText("The changes as a table").click();
  await page.locator(".card-changes tbody tr").first().waitFor();
  expect(await page.locator(".card-changes tbody tr").count()).toBe(card.lines.filter(({ moved }) => moved).length);
  expect(device.faults).toEqual([]);
});

test("a change is signed off in one press, the focus goes on, and one press undoes it: both are in the record", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "To do");
  const { page } = device;
  const signatures = () => scene.card("ada").signatures.map(({ standing }) => standing);
  expect(signatures()).toEqual([]);
  await matter(page, "Ada Wren: handicap 7 to 6").getByText("the trigger point 1400 was reached").waitFor();
  await matter(page, "Ada Wren: handicap 7 to 6")
    .getByRole("button", { name: /^Sign off up to/ })
    .click();
  await page.getByText("Ada Wren's card is signed off up to").waitFor();
  await expect.poll(() => matter(page, /^Ada Wren/).count()).toBe(0);
  await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toContain("Kit Underlea");
  await expect.poll(signatures, { timeout: 10_000 }).toEqual(["holds"]);

  await page.getByRole("button", { name: "Undo" }).focus();
  // A key that is held comes again and again; the focus has gone on to Close, which must not be pressed by it.
  for (let held = 0; held < 5; held += 1) await page.keyboard.down("Enter");
  await page.keyboard.up("Enter");
  await page.getByText("Undone: Ada Wren's card").waitFor();
  await matter(page, "Ada Wren: handicap 7 to 6").waitFor();
  await expect.poll(signatures, { timeout: 10_000 }).toEqual([]);
  expect(device.faults).toEqual([]);
});

test("a card that changed below its signature says what was signed and what stands there now; signing anew settles it", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "To do");
  const { page } = device;
  const box = matter(page, "Iris Copperdale: the card changed after it was signed");
  await box.getByText(/Signed up to .*: handicap 7, index 1320\./).waitFor();
  await box.getByText(/The card now says for that day: handicap 7, index 1330, with 1 line more\./).waitFor();
  await box.getByText(/It differs from here on: .*Dov Marram \(11\), 7–6, \+10/).waitFor();
  await box.getByRole("link", { name: "Look at the card" }).click();
  await page.locator(".card-line-shown").getByText("Dov Marram (11)").waitFor();
  await page.getByRole("button", { name: "Sign off this card" }).click();
  await page
    .getByRole("dialog")
    .getByText(/The card then says handicap 7/)
    .waitFor();
  await page.keyboard.press("Escape");
  expect(await page.getByRole("dialog").count()).toBe(0);
  await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toBe("Sign off this card");
  await page.keyboard.press("Enter");
  await page.getByRole("dialog").getByRole("button", { name: "Sign off" }).click();
  await page.getByText("Iris Copperdale's card is signed off up to").waitFor();
  await expect.poll(() => scene.card("iris").signatures.some(({ standing }) => standing === "holds")).toBe(true);
  expect(root().questions.some((each) => "player" in each && each.player === player("iris"))).toBe(false);
  expect(device.faults).toEqual([]);
});

test("two reports of a match side by side; the handicapper's decision counts, needs a reason, and can be undone", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "To do");
  const { page } = device;
  const box = matter(page, "Bo Linnet v Finn Sallow");
  expect(await box.getByText("differs", { exact: true }).count()).toBe(2);
  expect((await box.locator(".account-differs dd").allInnerTexts()).sort()).toEqual(["6–7", "7–6"]);
  expect(await box.getByRole("link", { name: "Correct this report" }).count()).toBe(2);
  await box.getByRole("button", { name: "Decide which counts" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Let it count" }).click();
  await dialog.getByText("Choose one.").waitFor();
  await dialog.getByText("Write the reason").waitFor();
  await dialog.getByText(": 7–6").click();
  await dialog.getByLabel("Reason").fill("both players agree now");
  await page.keyboard.press("Enter");
  const match = () => scene.matches("bo", "finn").find(({ reports }) => reports.length === 2)!;
  await expect.poll(() => match().status, { timeout: 10_000 }).toBe("ruled");
  expect(match().facts?.games[0]?.score.toSorted()).toEqual([6, 7]);
  await page.getByRole("button", { name: "Undo" }).click();
  await expect.poll(() => match().status, { timeout: 10_000 }).toBe("held");

  // The league's match is in this list once; deciding it is for the league, and that is said.
  const league = matter(page, /Cass Thorley v Una Farrow|Una Farrow v Cass Thorley/);
  expect(await league.count()).toBe(1);
  expect(await league.getByRole("button", { name: "Decide which counts" }).isDisabled()).toBe(true);
  await league.getByText("Deciding between the two clubs is for the league.").waitFor();
  expect(await league.getByRole("link", { name: "Correct our report" }).getAttribute("href")).toMatch(
    /entry\?correct=/,
  );
  expect(device.faults).toEqual([]);
});

test("somebody new joins with a handicap from the starting table and a name; undone, nobody has joined", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "Members");
  const { page } = device;
  await page.getByRole("button", { name: "Add somebody" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Save" }).click();
  await dialog.getByText("Write the name").waitFor();
  await dialog.getByLabel("Name", { exact: true }).fill("Ada Wren");
  await dialog.getByText("Somebody called Ada Wren is here already.").waitFor();
  await dialog.getByLabel("Name", { exact: true }).fill("Petra Vale");
  for (const [place, strokes] of ["20", "19", "19"].entries()) {
    await dialog.getByLabel(`Round ${place + 1}`).fill(strokes);
  }
  await dialog.getByText("58 strokes: the starting table gives handicap 9, index 1250.").waitFor();
  await dialog.getByText("The index starts at 1250").waitFor();
  expect(await dialog.getByLabel("How it was found").inputValue()).toBe("three-rounds test: 20 + 19 + 19 = 58 strokes");
  await dialog.getByLabel("Round 3").focus();
  await page.keyboard.press("Enter");
  await page.getByText("Petra Vale has joined with handicap 9.").waitFor();
  await page.getByRole("link", { name: "Petra Vale" }).waitFor();
  const joined = () => [...root().cards.values()].filter(({ index, lines }) => index === 1250 && lines.length === 1);
  await expect.poll(() => joined().length, { timeout: 10_000 }).toBe(1);
  const id = joined()[0]!.player;
  await expect
    .poll(() => scene.club.root.roster.get(id), { timeout: 10_000 })
    .toEqual({ name: "Petra Vale", short: "Petra V." });
  await page.getByRole("button", { name: "Undo" }).click();
  await expect.poll(() => root().players.has(id), { timeout: 10_000 }).toBe(false);
  expect(device.faults).toEqual([]);
});

test("a handicap set by decision needs its reason, shows the index it goes to, and is on the card", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "Members");
  const { page } = device;
  await openCard(page, "Gwen Ashdown");
  await page.getByRole("button", { name: "Set handicap" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("New handicap").selectOption("12");
  await dialog.getByText("The index is set to 1100").waitFor();
  await dialog.getByRole("button", { name: "Save" }).click();
  await dialog.getByText("Write the reason").waitFor();
  await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).toBe("TEXTAREA");
  await page.keyboard.type("wins nearly every game");
  await dialog.getByRole("button", { name: "Save" }).click();
  await page.getByRole("cell", { name: "set by the handicapper: wins nearly every game" }).waitFor();
  await expect.poll(() => scene.card("gwen").handicap, { timeout: 10_000 }).toBe(12);
  expect(scene.card("gwen").index).toBe(1100);
  expect(device.faults).toEqual([]);
});

test("a reader sees all of it, may press nothing, and is told why", async () => {
  const device = await scene.open(scene.club.passes.reader, "To do");
  const { page } = device;
  await page.getByText("This is a reader's device.").first().waitFor();
  for (const button of await page.getByRole("button", { name: /Sign off|Decide|Give a starting/ }).all()) {
    expect(await button.isDisabled()).toBe(true);
  }
  await openCard(page, "Kit Underlea");
  await page.getByText("Only a handicapper's device sets handicaps.").waitFor();
  expect(await page.getByRole("button", { name: "Set handicap" }).isDisabled()).toBe(true);
  expect(await page.getByRole("link", { name: /^Correct/ }).count()).toBe(0);
  expect(device.faults).toEqual([]);
});

test("these screens pass axe in light and dark, on a phone and on a wide screen, dialogs too", async () => {
  const { page } = await scene.open(scene.club.passes.handicapper, "To do");
  for (const colorScheme of ["light", "dark"] as const) {
    for (const width of [390, 1280]) {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize({ width, height: 844 });
      await page.getByRole("navigation").getByRole("link", { name: "To do" }).click();
      await matter(page, "Bo Linnet v Finn Sallow").waitFor();
      await expectAccessible(page);
      await matter(page, "Bo Linnet v Finn Sallow").getByRole("button", { name: "Decide which counts" }).click();
      await expectAccessible(page);
      await page.keyboard.press("Escape");
      await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
      await page.getByRole("link", { name: "Ada Wren" }).waitFor();
      await expectAccessible(page);
      await page.getByRole("button", { name: "Add somebody" }).click();
      await expectAccessible(page);
      await page.keyboard.press("Escape");
      await openCard(page, "Kit Underlea");
      await expectAccessible(page);
      await page.getByRole("button", { name: "Set handicap" }).click();
      await expectAccessible(page);
      await page.keyboard.press("Escape");
    }
  }
});
