/**
 * A league from nothing, as its secretary and its clubs have it: started with words of its own, clubs admitted by their codes with and
 * without the league's key at hand, one of them with no network; rules set, fixtures made, what became of them said, and one table
 * at every club.
 */
import { readFile } from "node:fs/promises";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import { expectAccessible, inStep, startRelayWithApp, toScreen } from "./at-a-desk.ts";
import {
  addMember,
  askToJoin,
  eventually,
  follow,
  heading,
  openFront,
  press,
  readText,
  shownText,
  start,
  takeCode,
  toLeague,
} from "./league-founding.ts";

const CLUBS = ["Heronsgate", "Larkfield", "Withy"] as const;
type Club = (typeof CLUBS)[number];

const PEOPLE: Readonly<Record<Club, readonly (readonly [string, string])[]>> = {
  Heronsgate: [["Ivo Larch", "8"]],
  Larkfield: [["Bryn Oake", "4"]],
  Withy: [["Pip Rowan", "6"]],
};

let relay: TestRelay;
let browser: Browser;
let office: Device;
/** A recorder's device of Heronsgate, from before the club was in the league. */
let tablet: Device;
let leagueWords: readonly string[] = [];
const devices = {} as Record<Club, Device>;
const clubWords = {} as Record<Club, readonly string[]>;

beforeAll(async () => {
  [relay, browser] = [await startRelayWithApp(), await launch()];
});
afterAll(async () => {
  await browser?.close();
  await relay?.close();
});

test("a league is started with no signal, with words of its own; until clubs come, each screen says what is to be done", async () => {
  office = await openFront(browser, relay.origin);
  const { page } = office;
  await office.goOffline();
  leagueWords = await start(page, "league", "Osier League", true);
  await toLeague(page);
  await page.getByRole("heading", { level: 2, name: "Osier League" }).waitFor();
  await page.getByText("The league has set no fixtures yet.").waitFor();
  await follow(page, "Table");
  await page.getByRole("heading", { name: "No clubs yet" }).waitFor();
  await follow(page, "The league's clubs");
  await page.getByRole("heading", { name: "No club has come in yet" }).waitFor();
  await expectAccessible(page);
  await toLeague(page);
  await follow(page, "All fixtures");
  await follow(page, "Set the rules first");
  await page.getByRole("heading", { name: "This league has no rules yet" }).waitFor();
  await office.online();
  await inStep(page);
});

test("three clubs are started, one with a second device", async () => {
  for (const club of CLUBS) {
    devices[club] = await openFront(browser, relay.origin);
    clubWords[club] = await start(devices[club].page, "club", club);
    for (const [name, handicap] of PEOPLE[club]) await addMember(devices[club].page, name, handicap);
  }
  tablet = await invited(devices.Heronsgate.page, "pavilion tablet");
});

test("three clubs show their codes: one is admitted with the league's words, two with its own key and one of these with no network at all", async () => {
  // With the words: this device is not the league's own key.
  const { page } = office;
  const heronsgate = devices.Heronsgate.page;
  await toLeague(page);
  await follow(page, "Clubs");
  await heading(page, "Clubs of the league");
  const asked = await askToJoin(heronsgate);
  await expectAccessible(heronsgate);
  await readText(page, asked.text);
  await press(page, "Admit the club");
  await page.getByText("Compare the digits first").waitFor();
  await press(page, "Not this one");
  await takeCode(page, asked);
  await page.getByText("The league's own key is also in this browser").waitFor();
  await page.getByLabel("The league's words").fill(clubWords.Heronsgate.join(" "));
  await press(page, "Admit the club");
  await page.getByText("These are another club's words.").waitFor();
  await page.getByLabel("The league's words").fill(leagueWords.join(" "));
  await expectAccessible(page);
  await press(page, "Admit the club");
  await page.getByRole("heading", { name: "Hand the answer over" }).waitFor();
  await readText(heronsgate, await shownText(page));
  await heronsgate.getByLabel("The club's words").fill(clubWords.Heronsgate.join(" "));
  await expectAccessible(heronsgate);
  await press(heronsgate, "Join the league");
  await heronsgate.getByRole("heading", { level: 2, name: "Osier League" }).waitFor();
  await press(page, "Done");

  // With the league's own key, from the front page.
  await page.goto(relay.origin);
  await page.getByRole("link", { name: /the league's own key$/ }).click();
  await inStep(page);
  await toLeague(page);
  await follow(page, "Clubs");
  await page.getByText("Heronsgate", { exact: true }).waitFor();
  for (const club of ["Larkfield", "Withy"] as const) {
    const own = devices[club];
    const offline = club === "Withy";
    if (offline) for (const one of [office, own]) await one.goOffline();
    await takeCode(page, await askToJoin(own.page));
    await press(page, "Admit the club");
    await page.getByRole("heading", { name: "Hand the answer over" }).waitFor();
    const waiting = page.waitForEvent("download");
    await press(page, "Save as a file");
    const file = await readFile((await (await waiting).path()) as string, "utf8");
    await readText(own.page, file);
    await own.page.getByLabel("The club's words").fill(clubWords[club].join(" "));
    await press(own.page, "Join the league");
    await own.page.getByRole("heading", { level: 2, name: "Osier League" }).waitFor();
    await press(page, "Done");
    if (offline) {
      await enterPlayers(own.page, 1);
      for (const one of [office, own]) await one.online();
    }
  }
  for (const club of ["Heronsgate", "Larkfield"] as const) await enterPlayers(devices[club].page, 1);
  for (const club of CLUBS) {
    await page.getByRole("listitem").filter({ hasText: club }).getByText("1 device, 1 player entered").waitFor();
  }
  await expectAccessible(page);
});

async function enterPlayers(page: Page, many: number): Promise<void> {
  await toLeague(page);
  await follow(page, "Clubs");
  await press(page, "Choose everybody");
  await press(page, `Enter ${many} player${many === 1 ? "" : "s"}`);
  await page.getByText("Every member with a name is entered.").waitFor();
}

/** A recorder's device, let into a club by an invitation. */
async function invited(handicapper: Page, label: string): Promise<Device> {
  await toScreen(handicapper, "Sharing");
  await press(handicapper, "Make an invitation");
  const making = handicapper.getByRole("dialog");
  await making.getByRole("button", { name: "Make it" }).click();
  await making.waitFor({ state: "hidden" });
  const device = await openFront(browser, relay.origin);
  await device.page.goto(await handicapper.getByLabel("Link", { exact: true }).first().inputValue());
  await device.page.getByLabel("This device").fill(label);
  await press(device.page, "Ask to join");
  await press(handicapper, "Admit…");
  const dialog = handicapper.getByRole("dialog");
  await dialog.getByLabel("The other screen shows the same code").check();
  await dialog.getByLabel("Whose device it is").fill("Bo Linnet");
  await dialog.getByRole("radio", { name: "Recorder" }).check();
  await dialog.getByRole("button", { name: "Admit", exact: true }).click();
  await inStep(device.page);
  return device;
}

test("a further device of a club comes in by its own handicapper's, without words; another club's does not", async () => {
  const handicapper = devices.Heronsgate.page;
  await toLeague(handicapper);
  await follow(handicapper, "Clubs");
  await readText(handicapper, (await askToJoin(devices.Withy.page)).text);
  await handicapper.getByText("That is another club's code.").waitFor();
  await press(handicapper, "Not this one");
  await takeCode(handicapper, await askToJoin(tablet.page));
  await press(handicapper, "Admit the device");
  await handicapper.getByRole("heading", { name: "Hand the answer over" }).waitFor();
  await eventually(() => shownText(handicapper)).toMatch(/^sward-parcel/);
  await readText(tablet.page, await shownText(handicapper));
  await tablet.page.getByText("This device is admitted.").waitFor();
  await press(tablet.page, "Join the league");
  await tablet.page.getByRole("heading", { level: 2, name: "Osier League" }).waitFor();
  await follow(tablet.page, "Clubs");
  await tablet.page.getByText("2 devices, 1 player entered").waitFor();
  await tablet.close();
});

test("the rules are set from a rule file, with what is different changed; clubs read them and cannot set them", async () => {
  const { page } = office;
  await toLeague(page);
  await follow(page, "Rules");
  await press(page, "Set the league's rules");
  await page.getByLabel("Begin with").selectOption({ label: "Evening teams of four, level play, every game a point" });
  await page.getByText("Change what is different").click();
  await page.getByLabel("What these rules are called").fill("Osier rules");
  await page.getByLabel("The matches of a fixture").fill("1 v 1, level, 13\n1 against 1");
  await press(page, "Set these rules");
  await page.getByText("Line 2, “1 against 1”, is not of the form").waitFor();
  await page.getByLabel("The matches of a fixture").fill("1 v 1, level, 13\n1 v 2, level, 13");
  await page.getByLabel("Conceded: points for the other club").fill("2");
  await page.getByText("Matches 1 to 2, singles, level play, 13 points: 1 v 1; 1 v 2.").waitFor();
  await expectAccessible(page);
  await press(page, "Set these rules");
  await page.getByText("Rules set from").waitFor();
  await page.getByRole("heading", { level: 2, name: "Osier rules" }).waitFor();
  await expectAccessible(page);
  const club = devices.Larkfield.page;
  await toLeague(club);
  await follow(club, "Rules");
  await club.getByRole("heading", { level: 2, name: "Osier rules" }).waitFor();
  await club
    .getByText("A fixture conceded is worth 2 points to the other club and 0 to the club that conceded.")
    .waitFor();
  await club.getByRole("link", { name: "Golf croquet team league rules, Tunbridge Wells Croquet Club" }).waitFor();
  await club.getByText("Only the league's own devices set its rules.").waitFor();
  expect(await club.getByRole("button", { name: "Change the rules" }).count()).toBe(0);
});

test("a season is looked at first and entered at once, taken back by one press, and entered again; everybody has it, byes and all", async () => {
  const { page } = office;
  await toLeague(page);
  await follow(page, "All fixtures");
  await page.getByRole("heading", { name: "3 rounds, 3 fixtures" }).waitFor();
  const rounds = page.locator(".make-rounds > li");
  // Berger table for four, the fourth nobody: FIDE Handbook C.05, Annex 1, https://handbook.fide.com/chapter/C05
  await eventually(async () => (await rounds.allInnerTexts()).map(meetingsIn)).toEqual([
    ["Larkfield v Withy", "Heronsgate: bye"],
    ["Heronsgate v Larkfield", "Withy: bye"],
    ["Withy v Heronsgate", "Larkfield: bye"],
  ]);
  await expectAccessible(page);
  await press(page, "Larkfield one place up");
  await eventually(async () => meetingsIn((await rounds.allInnerTexts())[0] ?? "")).toEqual([
    "Heronsgate v Withy",
    "Larkfield: bye",
  ]);
  await press(page, "Larkfield one place down");
  await page.getByLabel("Day of round 2").fill("2000-01-01");
  await press(page, "Enter all 3 fixtures");
  await page.getByText("A round is on an earlier day than the one before it.").waitFor();
  await page.getByLabel("Days from round to round").fill("14");
  await press(page, "Enter all 3 fixtures");
  await page.getByText("3 fixtures entered.").waitFor();
  await press(page, "Undo");
  await page.getByRole("heading", { name: "No fixtures yet" }).waitFor();
  await press(page, "Enter all 3 fixtures");
  const withy = devices.Withy.page;
  await toLeague(withy);
  await follow(withy, "All fixtures");
  for (const one of [page, withy]) {
    const list = one.getByRole("region", { name: "The season's fixtures" });
    await eventually(() => list.getByRole("link").allInnerTexts()).toEqual([
      "Larkfield v Withy",
      "Heronsgate v Larkfield",
      "Withy v Heronsgate",
    ]);
    await eventually(() => list.getByText(/: bye$/).allInnerTexts()).toEqual([
      "Heronsgate: bye",
      "Withy: bye",
      "Larkfield: bye",
    ]);
  }
  // The same meeting twice in a season is refused, and nothing changes.
  await page.getByText("Add one fixture by hand").click();
  await page.getByLabel("Home club").selectOption("Withy");
  await page.getByLabel("Visitors").selectOption("Larkfield");
  await page.getByLabel("Day", { exact: true }).fill("2099-01-01");
  await press(page, "Enter this fixture");
  await page.getByText("These two clubs have this fixture already").waitFor();
  await expectAccessible(page);
});

const meetingsIn = (text: string): string[] => text.split("\n").filter((line) => / v |: bye$/.test(line));

test("what became of fixtures is said by a club of its own and by the league of any, and the league's word goes first", async () => {
  const { page } = office;
  const withy = devices.Withy.page;
  const open = (on: Page, name: string) => press(on, `Say what became of it: ${name}`);
  expect(await withy.getByRole("button", { name: "Say what became of it: Heronsgate v Larkfield" }).count()).toBe(0);
  await devices.Withy.goOffline();
  await open(withy, "Larkfield v Withy");
  await press(withy, "Enter it");
  await withy.getByText("Say what became of it.", { exact: true }).waitFor();
  await withy.getByText("Give the reason.").waitFor();
  expect(await withy.getByLabel("Void").count()).toBe(0);
  await withy.getByLabel("Rained off").check();
  await withy.getByLabel("Reason").fill("The lawns are under water");
  await press(withy, "Enter it");
  await withy.getByText("Rained off, says Withy: The lawns are under water.").waitFor();
  await devices.Withy.online();
  await page.getByText("Rained off, says Withy: The lawns are under water.").waitFor();
  // The other club says something else: it waits for the league's word, and is settled by it.
  const larkfield = devices.Larkfield.page;
  await toLeague(larkfield);
  await follow(larkfield, "All fixtures");
  await larkfield.getByText("Rained off, says Withy: The lawns are under water.").waitFor();
  await open(larkfield, "Larkfield v Withy");
  await larkfield.getByLabel("Postponed").check();
  await larkfield.getByLabel("Reason").fill("We agreed another day");
  await press(larkfield, "Enter it");
  await toLeague(page);
  await follow(page, "To settle: 1 fixture");
  await page.getByText("Postponed, says Larkfield: We agreed another day.").waitFor();
  await page.getByText("Say for the league which it is; that goes first.").waitFor();
  await expectAccessible(page);
  await toLeague(page);
  await follow(page, "All fixtures");
  for (const [fixture, by] of [
    ["Larkfield v Withy", "Withy"],
    ["Heronsgate v Larkfield", "Larkfield"],
    ["Withy v Heronsgate", "Heronsgate"],
  ] as const) {
    await open(page, fixture);
    await page.getByLabel("Conceded", { exact: false }).first().check();
    await page.getByLabel("Conceded by").selectOption(by);
    await page.getByLabel("Reason").fill("No team");
    await press(page, "Enter it");
    await page.getByText(`${fixture}: conceded.`).waitFor();
  }
  await toLeague(larkfield);
  await follow(larkfield, "Nothing to settle");
  await larkfield.getByRole("heading", { level: 2, name: "Nothing to settle" }).waitFor();
  for (const one of [page, withy]) {
    await one.getByText("Also said, and not followed: rained off, by Withy: The lawns are under water.").waitFor();
    await one.getByRole("link", { name: "Withy conceded to Larkfield" }).waitFor();
  }
  await expectAccessible(page);
});

test("the table is the same at every club, says what told level clubs apart, and prints", async () => {
  const { page } = office;
  const everybody = [page, ...CLUBS.map((club) => devices[club].page)];
  for (const one of everybody) {
    await toLeague(one);
    await follow(one, "Table");
    await eventually(() => one.locator(".standings-why li").count()).toBe(3);
    await inStep(one);
  }
  const main = (one: Page): Promise<string> => one.getByRole("main").innerText();
  const sheet = await main(page);
  expect(sheet).toContain("Heronsgate, Larkfield and Withy share a place: nothing in the rules tells them apart.");
  expect(sheet).toMatch(/by hoops for less against: .*: still level/);
  expect(sheet).toContain("Conceded, says the league: No team.");
  for (const one of everybody) await eventually(() => main(one)).toBe(sheet);
  expect(await page.locator("table.standings tbody tr").first().innerText()).toMatch(/^1=\s+Heronsgate[\s\S]*\s2$/);
  await expectAccessible(page);
  await page.emulateMedia({ media: "print", colorScheme: "dark" });
  expect(await page.getByRole("button", { name: "Print the table" }).isVisible()).toBe(false);
  for (const selector of [".standings td", ".standings-more", ".standings-fixtures a"]) {
    const colour = await page
      .locator(selector)
      .first()
      .evaluate((element) => getComputedStyle(element).color);
    expect(colour, selector).toBe("rgb(0, 0, 0)");
  }
  for (const one of [office, ...CLUBS.map((club) => devices[club])]) expect(one.faults).toEqual([]);
});
