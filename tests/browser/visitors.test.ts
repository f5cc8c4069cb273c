/** A visitor's page, and linking a visitor to the home club's player and back, as a handicapper does it in a real browser. */
import { writeRecordFile } from "@sward/client";
import type { BookState } from "@sward/core";
import { playerCode } from "@sward/core";
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import { stateText } from "../support/state-text.ts";
import { openDevice, startRelayWithApp, today, toScreen } from "./at-a-desk.ts";
import type { LeagueWorld } from "./league-world.ts";
import { foundLeagueWorld } from "./league-world.ts";
import type { VisitorsHere } from "./visitors-world.ts";
import { expectAccessibleEveryWay, saveInto, withVisitors } from "./visitors-world.ts";

let relay: TestRelay;
let browser: Browser;
let world: LeagueWorld;
let here: VisitorsHere;
let device: Device;
let page: Page;

beforeAll(async () => {
  relay = await startRelayWithApp();
  browser = await launch();
  world = await foundLeagueWorld(relay.origin, today(), "handicapper");
  here = await withVisitors(world, today());
  device = await openDevice(browser, relay.origin, world.home.captain);
  page = device.page;
});
afterEach(() => device.context.setOffline(false));
afterAll(async () => {
  await browser?.close();
  await world?.close();
  await relay?.close();
});

const state = (): BookState => world.home.book.state();
const ivoIndex = (): number | undefined => state().cards.get(here.ivo)?.index;
const heading = (name: string) => page.getByRole("heading", { level: 1, name });
const dialog = () => page.getByRole("dialog");

/** What the book says, without how many entries it took to say it. */
const says = (): string => stateText({ ...state(), entries: 0, devices: new Map() });

/** Waits for the root's desk, which hears of it by the relay. */
const there = (what: () => unknown) => expect.poll(what, { timeout: 20_000 });

/** All scripts of the app are on this device, so that it does without a signal. */
async function appKept(of: Page): Promise<void> {
  await of.evaluate(() => navigator.serviceWorker.ready.then(() => 0));
  await expect.poll(() => of.evaluate(() => navigator.serviceWorker.controller !== null)).toBe(true);
}

async function toVisitor(name: string): Promise<void> {
  await toScreen(page, "Members");
  await page.getByRole("link", { name, exact: true }).click();
  await heading(name).waitFor();
}

async function typeCode(code: string): Promise<void> {
  await page.getByLabel("The player's code").fill(code);
  await page.getByRole("button", { name: "Read the code" }).click();
}

async function link(): Promise<void> {
  await dialog().getByRole("button", { name: "Link them" }).click();
  await expect.poll(() => dialog().count()).toBe(0);
}

async function unlink(): Promise<void> {
  await page.getByRole("button", { name: "Undo this link" }).click();
  const confirm = dialog().getByRole("button", { name: "Undo this link" });
  await expect.poll(() => confirm.isEnabled()).toBe(true);
  await confirm.click();
  await page.getByText("The link is undone; everything is as it was before it.").waitFor();
  await expect.poll(() => dialog().count()).toBe(0);
}

test("a visitor's page has club, handicap and games; linked to the league's player, a game written twice is one, and undone it is two", async () => {
  const before = says();
  expect(ivoIndex()).toBe(1320);
  await toVisitor("Pip Rowan");
  await page.getByText("A visitor from Withy CC.").waitFor();
  await page.getByText(/^Last played here off 6, on /).waitFor();
  const games = page.getByRole("region", { name: "Games here" });
  expect(await games.getByRole("row").count()).toBe(3);
  await games.getByRole("row", { name: /Pip Rowan \(6\) v Ivo Larch \(8\) 4–7/ }).waitFor();
  await page.getByText("Not linked to anybody yet.").waitFor();
  await page.getByRole("list", { name: "May be" }).waitFor();
  await expectAccessibleEveryWay(page);

  const candidate = page.getByRole("list", { name: "May be" }).getByRole("listitem");
  expect(await candidate.count()).toBe(1);
  await candidate.getByText("For: the same name, the same club, 1 game that looks the same on both sides.").waitFor();
  await candidate.getByRole("button", { name: /^See what it would change/ }).click();
  await dialog().getByRole("heading", { name: "Is this visitor Pip Rowan of Withy?" }).waitFor();
  await dialog().getByText("This match was written down twice and becomes one:").waitFor();
  const row = dialog().getByRole("row", { name: /^Ivo Larch/ });
  await row.getByText("handicap 8, index 1320, 4 games").waitFor();
  await row.getByText("handicap 8, index 1310, 3 games").waitFor();
  await expectAccessibleEveryWay(page);
  // Nothing is saved by looking.
  await page.keyboard.press("Escape");
  await expect.poll(() => dialog().count()).toBe(0);
  expect(says()).toBe(before);

  await candidate.getByRole("button", { name: /^See what it would change/ }).click();
  await dialog().getByText("This match was written down twice and becomes one:").waitFor();
  await link();
  await page.getByText("Pip Rowan is linked to Pip Rowan of Withy.").waitFor();
  await there(ivoIndex).toBe(1310);
  await page.getByText(/^Pip Rowan \(entry .{4}\) is Pip Rowan \(entry .{4}\): linked by this device, /).waitFor();
  await page.getByText(/^Withy says handicap 6, from .* \(Osier League\)\.$/).waitFor();
  expect(await page.getByRole("region", { name: "Games here" }).getByRole("row").count()).toBe(3);

  // On the member's card it is one line, and says whose word it rests on.
  await toVisitor("Ivo Larch");
  const told = page.getByText("· told by");
  await told.first().waitFor();
  expect(await told.count()).toBe(1);
  expect(await told.textContent()).toContain("Withy");
  await page.getByText("The player's code").click();
  await page.getByText(playerCode(here.ivo)).waitFor();
  await page.getByRole("img", { name: "QR code of Ivo Larch's code" }).waitFor();

  await toVisitor("Pip Rowan");
  await unlink();
  await there(ivoIndex).toBe(1320);
  expect(says()).toBe(before);
  await page.getByText("Not linked to anybody yet.").waitFor();
  expect(device.faults).toEqual([]);
});

test("by the player's code, without a signal: refused in words where it cannot be, else linked, shared later and undone", async () => {
  const before = says();
  await toVisitor("Pip Rowan");
  const code = playerCode(here.pip);
  await typeCode(code.slice(0, -3));
  await page.getByText("The code has 25 symbols.").waitFor();
  const wrong = code.endsWith("0") ? "1" : "0";
  await typeCode(code.slice(0, -1) + wrong);
  await page.getByText("The code is not quite right.").waitFor();

  await typeCode(playerCode(here.visitor));
  await dialog().getByText("That is the same player twice.").waitFor();
  expect(await dialog().getByRole("button", { name: "Link them" }).count()).toBe(0);
  await page.keyboard.press("Escape");
  await typeCode(playerCode(here.ivo));
  await dialog().getByText("These two have played in one match.").waitFor();
  await page.keyboard.press("Escape");
  await expect.poll(() => dialog().count()).toBe(0);
  expect(says()).toBe(before);

  await appKept(device.page);
  await device.goOffline();
  await typeCode(code.toLowerCase().replaceAll("-", " "));
  await dialog().getByText("This match was written down twice and becomes one:").waitFor();
  await link();
  await page.getByText("1 waiting").waitFor();
  expect(says()).toBe(before);
  // Round in a circle: the person is that player already.
  await typeCode(playerCode(here.visitor));
  await dialog().getByText("These two are one person already.").waitFor();
  await page.keyboard.press("Escape");
  await device.online();
  await there(ivoIndex).toBe(1310);
  await unlink();
  await there(ivoIndex).toBe(1320);
  expect(says()).toBe(before);
  expect(device.faults).toEqual([]);
});

test("by the player's record: whose it is and what it has in common; another person's, a whole book and an altered file are refused or warned of", async () => {
  const before = says();
  const at = `${today()}T12:00:00Z`;
  const record = async (player: typeof here.pip | null): Promise<string> => {
    const written = await writeRecordFile(world.away.book, world.away.root, { player, at });
    if (!written.ok) throw new Error(written.fault.type);
    return written.value.text;
  };
  const give = (name: string, text: string) =>
    page.getByLabel("The player's record, as a file").setInputFiles({
      name,
      mimeType: "text/plain",
      buffer: Buffer.from(text),
    });
  await toVisitor("Pip Rowan");
  await give("book", await record(null));
  await page.getByText("That is a whole book, and no one player's record.").waitFor();
  const text = await record(here.pip);
  await give(
    "altered",
    text.replace(/.(?="\n$)/, (last) => (last === "A" ? "Q" : "A")),
  );
  await page.getByRole("alert").filter({ hasText: "signature" }).waitFor();
  await give("ivo", await record(here.ivo));
  await dialog().getByText("These two have played in one match.").waitFor();
  await page.keyboard.press("Escape");
  await expect.poll(() => dialog().count()).toBe(0);
  expect(says()).toBe(before);

  await give("pip", text);
  await dialog()
    .getByText("A record of Withy. 1 game in the record looks like games that were written down here.")
    .waitFor();
  await dialog().getByText("This match was written down twice and becomes one:").waitFor();
  await link();
  await there(ivoIndex).toBe(1310);
  await unlink();
  await there(says).toBe(before);

  // Somebody from elsewhere with nothing in common: possible, and said to be odd.
  await toVisitor("Tam Osier");
  await give("pip", text);
  await dialog().getByText("Written down here as from Harrow Green, and at home at Withy.").waitFor();
  await dialog()
    .getByText(/^A record of Withy\. No game in the record looks like one/)
    .waitFor();
  await page.keyboard.press("Escape");
  await expect.poll(() => dialog().count()).toBe(0);
  expect(says()).toBe(before);
  expect(device.faults).toEqual([]);
});

test("what needs attention asks who a visitor may be, until it is answered, and about two home clubs, until one is taken back", async () => {
  await saveInto(world.home, {
    kind: "player-joined",
    body: { player: here.stranger, standing: "visitor", home: { club: "Sedge End" } },
  });
  await toScreen(page, "To do");
  const mayBe = page.getByRole("article", { name: "Pip Rowan may be Pip Rowan of Withy" });
  await mayBe.getByText("For: the same name, the same club, 1 game that looks the same on both sides.").waitFor();
  const homes = page.getByRole("article", { name: "Tam Osier was written down with two home clubs" });
  await homes.getByText("taken for now").waitFor();
  await expectAccessibleEveryWay(page);
  await homes.getByRole("button", { name: "It is Harrow Green" }).click();
  await page.getByText("Tam Osier's home club is Harrow Green.").waitFor();
  await expect.poll(() => homes.count()).toBe(0);
  await there(() => state().players.get(here.stranger)?.home).toEqual({ club: "Harrow Green" });

  await mayBe.getByRole("link", { name: /^Look at it/ }).click();
  await heading("Pip Rowan").waitFor();
  await page.getByRole("list", { name: "May be" }).waitFor();
  await toScreen(page, "To do");
  await mayBe.getByRole("button", { name: /^Not the same/ }).click();
  await expect.poll(() => mayBe.count()).toBe(0);
  await page.reload();
  await page.getByText(/^This device last met the relay/).waitFor();
  expect(await mayBe.count()).toBe(0);
  // The page still says who it may be.
  await toVisitor("Pip Rowan");
  await page.getByRole("list", { name: "May be" }).waitFor();
  expect(device.faults).toEqual([]);
});
