/**
 * Three clubs and their league in real browsers, from the fixtures to the table: teams named, matches reported by both clubs of a fixture
 * with no signal, one dispute settled by the club that slipped and one by the league, the table the same everywhere, and at the end a
 * player who moves from one of them to another with the whole record.
 */
import { readFile } from "node:fs/promises";
import type { LeagueRules } from "@sward/core";
import { canonicalText, findLeagueRules } from "@sward/core";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import { until } from "../support/meeting.ts";
import { before } from "../support/small-club.ts";
import { expectAccessible, inStep, openDevice, startRelayWithApp, today, toScreen } from "./at-a-desk.ts";
import type { LeagueClub, LeagueWorld } from "./league-world.ts";
import { foundLeagueWorld } from "./league-world.ts";

const CLUBS = ["Heronsgate", "Withy", "Larkfield"] as const;
type Name = (typeof CLUBS)[number];

let relay: TestRelay;
let browser: Browser;
let world: LeagueWorld;
let office: Device;
let devices: Readonly<Record<Name, Device>>;

const slot = { play: "handicap", format: 13, bestOf: 1 } as const;
const rules: LeagueRules = {
  ...(findLeagueRules("everyone-meets") as LeagueRules),
  id: "two-a-side",
  title: "Teams of two",
  team: { players: 2, order: "by-handicap", borrowed: 0, oneClub: true, reserves: { inFixture: null, inSeason: null } },
  slots: [
    { ...slot, home: [1], away: [1] },
    { ...slot, home: [2], away: [2] },
    { ...slot, home: [1, 2], away: [1, 2] },
  ],
  score: ["slots"],
  deadline: "12-31",
};

beforeAll(async () => {
  [relay, browser] = [await startRelayWithApp(), await launch()];
  world = await foundLeagueWorld(relay.origin, today(), "handicapper", true);
  const set = await world.league.append([
    { kind: "league-rules-set", body: { rules: { ...rules }, from: before(today(), 300) } },
  ]);
  if (!set.ok) throw new Error(JSON.stringify(set.fault));
  office = await openDevice(browser, relay.origin, world.secretary);
  const opened: [Name, Device][] = [];
  for (const { name, captain } of world.clubs) {
    opened.push([name as Name, await openDevice(browser, relay.origin, captain)]);
  }
  devices = Object.fromEntries(opened) as Record<Name, Device>;
});
afterAll(async () => {
  await browser?.close();
  await world?.close();
  await relay?.close();
});

const pageOf = (club: Name): Page => devices[club].page;
const everybody = (): readonly Page[] => [office.page, ...CLUBS.map(pageOf)];
const press = (page: Page, name: string) => page.getByRole("button", { name, exact: true }).click();
const follow = (page: Page, name: string) => page.getByRole("link", { name, exact: true }).click();
const match = (page: Page, number: number) => page.getByRole("region", { name: `Match ${number}`, exact: true });
const title = (page: Page, name: string) => page.getByRole("heading", { level: 1, name, exact: true }).waitFor();

async function toFixture(page: Page, home: Name, away: Name): Promise<void> {
  await page.getByRole("navigation").getByRole("link", { name: "League" }).click();
  await follow(page, `${home} v ${away}`);
  await title(page, `${home} v ${away}`);
}

/** At a club's own device, from the page of the fixture. */
async function nameTeam(club: Name, players: readonly [string, string]): Promise<void> {
  const page = pageOf(club);
  await follow(page, `Name ${club}'s team`);
  await title(page, `Team: ${club}`);
  for (const [at, name] of players.entries()) {
    const option = page.getByLabel(`Place ${at + 1}, player`).locator("option", { hasText: name });
    await page.getByLabel(`Place ${at + 1}, player`).selectOption((await option.getAttribute("value")) ?? "");
  }
  await press(page, "Name the team");
  await page.getByText(`${club}'s team is named: 2 players.`).waitFor();
}

/** The players are those of the named teams, so only the hoops are typed. */
async function report(page: Page, number: number, [home, away]: readonly [Name, Name], score: string): Promise<void> {
  const [one = "", two = ""] = score.split("-");
  const at = match(page, number);
  const open = at.getByRole("button", { name: `Report match ${number}` });
  if (await open.isVisible()) await open.click();
  await at.getByLabel(`Game 1, hoops of ${home}`).fill(one);
  await at.getByLabel(`Game 1, hoops of ${away}`).fill(two);
  await press(page, `Save match ${number}`);
  await at.getByText(/reported by us only|agreed|differs: held/).waitFor();
}

test("the secretary sets the other fixtures; each club names its teams, one of them without a signal", async () => {
  const { page } = office;
  await toScreen(page, "League");
  await follow(page, "All fixtures");
  for (const [home, away, days] of [
    ["Withy", "Larkfield", 6],
    ["Larkfield", "Heronsgate", 5],
  ] as const) {
    const form = page.getByText("Add one fixture by hand");
    if (!(await page.getByLabel("Home club").isVisible())) await form.click();
    await page.getByLabel("Home club").selectOption(home);
    await page.getByLabel("Visitors").selectOption(away);
    await page.getByLabel("Day", { exact: true }).fill(before(today(), days));
    await press(page, "Enter this fixture");
    await page.getByRole("link", { name: `${home} v ${away}` }).waitFor();
  }
  const teams = {
    Heronsgate: ["Nan Sedge", "Ivo Larch"],
    Withy: ["Rae Bramble", "Pip Rowan"],
    Larkfield: ["Yan Fern", "Uma Sorrel"],
  } as const;
  for (const [home, away] of [
    ["Heronsgate", "Withy"],
    ["Withy", "Larkfield"],
    ["Larkfield", "Heronsgate"],
  ] as const) {
    for (const club of [home, away] as const) {
      await toFixture(pageOf(club), home, away);
      if (club === "Larkfield") await devices[club].goOffline();
      await nameTeam(club, teams[club]);
      await devices[club].online();
    }
    for (const club of [home, away]) {
      const region = pageOf(club).getByRole("region", { name: "Teams" });
      for (const name of [...teams[home], ...teams[away]]) await region.getByText(name).waitFor();
    }
  }
});

test("both clubs report without a signal: alike it counts once", async () => {
  const pair = ["Heronsgate", "Withy"] as const;
  for (const club of pair) {
    await toFixture(pageOf(club), ...pair);
    await devices[club].goOffline();
    for (const [number, score] of [
      [1, "7-4"],
      [2, "5-7"],
      [3, "7-6"],
    ] as const)
      await report(pageOf(club), number, pair, score);
  }
  for (const club of pair) await devices[club].online();
  for (const club of pair) {
    for (const number of [1, 2, 3]) await match(pageOf(club), number).getByText("agreed", { exact: true }).waitFor();
    await pageOf(club).getByText("Heronsgate 2, Withy 1").waitFor();
  }
});

test("a dispute is settled by the club that slipped, another by the league with a reason", async () => {
  const slipped = ["Withy", "Larkfield"] as const;
  const ruled = ["Larkfield", "Heronsgate"] as const;
  for (const [pair, scores, others] of [
    [slipped, ["7-3", "3-7"], ["7-2", "7-1"]],
    [ruled, ["7-5", "6-7"], ["7-2", "2-7"]],
  ] as const) {
    for (const [at, club] of pair.entries()) {
      await toFixture(pageOf(club), pair[0], pair[1]);
      await devices[club].goOffline();
      await report(pageOf(club), 1, pair, scores[at] ?? "");
      if (at === 1) continue;
      // What one club alone reports counts in this league.
      await report(pageOf(club), 2, pair, others[0]);
      await report(pageOf(club), 3, pair, others[1]);
    }
    for (const club of pair) await devices[club].online();
    for (const club of pair) await match(pageOf(club), 1).getByText("differs: held").waitFor();
  }
  await toFixture(pageOf("Larkfield"), ...slipped);
  await match(pageOf("Larkfield"), 1).getByRole("button", { name: "Theirs is right" }).click();
  await match(pageOf("Larkfield"), 1).getByText("agreed", { exact: true }).waitFor();

  const { page } = office;
  await toFixture(page, ...ruled);
  const at = match(page, 1);
  await at.getByText("differs: held").waitFor();
  await at.getByText("Rule on match 1").click();
  await at.getByLabel("The report of Heronsgate").check();
  await at.getByLabel("Reason").fill("The sheet signed on the lawn says so.");
  await press(page, "Enter the ruling");
  await toFixture(pageOf("Larkfield"), ...ruled);
  for (const club of ruled) await match(pageOf(club), 1).getByText("ruled on").waitFor();
});

test("the table is the same at every club and the league, with every step that ordered it", async () => {
  for (const page of everybody()) {
    await page.getByRole("navigation").getByRole("link", { name: "League" }).click();
    await inStep(page);
    await follow(page, "Table");
    await page.locator("table.standings").waitFor();
  }
  const main = (page: Page): Promise<string> => page.getByRole("main").innerText();
  await expect.poll(() => office.page.locator("table.standings tbody tr").count()).toBe(3);
  // Heronsgate beat Withy 2-1 and, by the ruling, Larkfield 2-1; Withy beat Larkfield 3-0. Two points for each.
  const points = office.page.locator("table.standings tbody tr");
  await expect
    .poll(async () =>
      (await points.allInnerTexts()).map((row) => [/[A-Z]\w+/.exec(row)?.[0], row.trim().split(/\s+/).at(-1)]),
    )
    .toEqual([
      ["Heronsgate", "4"],
      ["Withy", "2"],
      ["Larkfield", "0"],
    ]);
  const sheet = await main(office.page);
  for (const page of everybody()) await expect.poll(() => main(page)).toBe(sheet);
  await expectAccessible(pageOf("Larkfield"));
});

test("a player moves from one of the clubs to another: the card is the same, byte for byte", async () => {
  const [withy, heronsgate] = [world.away, world.home];
  const rae = withy.players.get("Rae")!;
  const cardAt = ({ book }: LeagueClub): string => canonicalText(book.state().cards.get(rae) ?? null);
  await until("all of the season is on the card", () => withy.book.state().cards.get(rae)!.lines.length > 3);
  const from = pageOf("Withy");
  await toScreen(from, "Members");
  await from.getByRole("link", { name: "Rae Bramble" }).first().click();
  await title(from, "Rae Bramble");
  const [download] = await Promise.all([from.waitForEvent("download"), press(from, "Only give the record")]);
  const was = cardAt(withy);
  const to = pageOf("Heronsgate");
  await toScreen(to, "Members");
  await follow(to, "A player comes from another club");
  const buffer = await readFile(await download.path());
  await to
    .getByLabel("The player's record")
    .setInputFiles({ name: "record.jsonl", mimeType: "application/json", buffer });
  await to.getByRole("heading", { name: "The record from Withy" }).waitFor();
  await to.getByLabel("Name", { exact: true }).fill("Rae Bramble");
  await press(to, "Take the record in");
  await to.getByText("Rae Bramble has come.").waitFor();
  await until("the new club has the card", () => cardAt(heronsgate) !== "null");
  expect(cardAt(heronsgate)).toBe(was);
  for (const device of [office, ...Object.values(devices)]) expect(device.faults).toEqual([]);
});
