/** A league match between two clubs from the teams to the result, in real browsers: one of the clubs without a signal in between. */
import type { LeagueRules } from "@sward/core";
import { findLeagueRules } from "@sward/core";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import { before } from "../support/small-club.ts";
import { expectAccessible, openDevice, startRelayWithApp, today, toScreen } from "./at-a-desk.ts";
import type { LeagueWorld } from "./league-world.ts";
import { foundLeagueWorld } from "./league-world.ts";

let relay: TestRelay;
let browser: Browser;
let world: LeagueWorld;
let home: Device;
let away: Device;

const slot = { play: "handicap", format: 13, bestOf: 1 } as const;
/** Two a side in the order of handicaps, nobody above 11; both play, then together: as the world's fixture is set. */
const rules: LeagueRules = {
  ...(findLeagueRules("everyone-meets") as LeagueRules),
  id: "two-a-side",
  team: { players: 2, order: "by-handicap", borrowed: 0, oneClub: true, reserves: { inFixture: 1, inSeason: 1 } },
  handicaps: { least: null, most: 11, totalAtLeast: null },
  slots: [
    { ...slot, home: [1], away: [1] },
    { ...slot, home: [2], away: [2] },
    { ...slot, home: [1, 2], away: [1, 2] },
  ],
};

beforeAll(async () => {
  relay = await startRelayWithApp();
  browser = await launch();
  world = await foundLeagueWorld(relay.origin, today(), "handicapper");
  const set = await world.league.append([
    { kind: "league-rules-set", body: { rules: { ...rules }, from: before(today(), 300) } },
  ]);
  if (!set.ok) throw new Error(JSON.stringify(set.fault));
  home = await openDevice(browser, relay.origin, world.home.captain);
  away = await openDevice(browser, relay.origin, world.away.captain, { viewport: { width: 390, height: 844 } });
  for (const { page } of [home, away]) await toFixture(page);
});
afterAll(async () => {
  await browser?.close();
  await world?.close();
  await relay?.close();
});

async function toFixture(page: Page): Promise<void> {
  await toScreen(page, "League");
  const fixture = page.getByRole("link", { name: "Heronsgate v Withy" });
  try {
    await fixture.click();
  } catch (cause) {
    throw new Error(`no fixture; the page says: ${await page.locator("body").innerText()}`, { cause });
  }
  await page.getByRole("heading", { level: 1, name: "Heronsgate v Withy" }).waitFor();
}

const teams = (page: Page) => page.getByRole("region", { name: "Teams" });
const match = (page: Page, number: number) => page.getByRole("region", { name: `Match ${number}`, exact: true });
const nobodyWrong = () => expect([...home.faults, ...away.faults]).toEqual([]);

test("a captain names the team: stated handicaps come along, what the rules advise against is said before play, the wrong order is refused", async () => {
  const { page } = home;
  await teams(page).getByText("Not named yet.").first().waitFor();
  await page.getByRole("link", { name: "Name Heronsgate's team" }).click();
  await page.getByRole("heading", { level: 1, name: "Team: Heronsgate" }).waitFor();
  await page.getByText("Choose the players.").waitFor();
  await page.getByLabel("Place 1, player").selectOption({ label: "Oz Teasel (12)" });
  await page.getByText(/^12 as of .*: stated by /).waitFor();
  await page.getByText("Oz Teasel has handicap 12; the league's limit is 11.").waitFor();
  await page.getByText("The team has 1 of 2 players.").waitFor();
  await page.getByLabel("Place 2, player").selectOption({ label: "Nan Sedge (5)" });
  await page.getByText("Place 2 has handicap 5, and the place before it 12.").waitFor();
  expect(await page.getByRole("button", { name: "Name the team" }).isDisabled()).toBe(true);
  await expectAccessible(page);
  await page.getByRole("button", { name: "Put in order" }).click();
  await expect.poll(() => page.getByLabel("Place 1, handicap").inputValue()).toBe("5");
  await page.getByLabel("Place 2 is a reserve").check();
  await page.getByRole("button", { name: "Name the team" }).click();
  await page.getByText("Heronsgate's team is named: 2 players.").waitFor();
  await teams(page).getByText("Nan Sedge (5)").waitFor();
  await teams(page).getByText("Oz Teasel (12) reserve").waitFor();
  // The other club sees it, and cannot name it.
  await teams(away.page).getByText("Nan Sedge (5)").waitFor();
  expect(await away.page.getByRole("link", { name: "Name Heronsgate's team" }).count()).toBe(0);
  await expectAccessible(away.page);
  nobodyWrong();
});

test("the other captain names a team without a signal; it is there when there is one, and later changes are told", async () => {
  const { page } = away;
  await away.goOffline();
  await page.getByRole("link", { name: "Name Withy's team" }).click();
  await page.getByLabel("Place 1, player").selectOption({ label: "Rae Bramble (3)" });
  await page.getByLabel("Place 2, player").selectOption({ label: "Quin Alder (10)" });
  await page.getByRole("button", { name: "Name the team" }).click();
  await page.getByText("Withy's team is named: 2 players.").waitFor();
  await teams(page).getByText("Quin Alder (10)").waitFor();
  expect(await teams(home.page).getByText("Quin Alder").count()).toBe(0);
  await away.online();
  await teams(home.page).getByText("Quin Alder (10)").waitFor();

  await page.getByRole("link", { name: "Change Withy's team" }).click();
  await page.getByLabel("Place 2, player").selectOption({ label: "Pip Rowan (6)" });
  await page.getByRole("button", { name: "Name the team" }).click();
  const told = teams(home.page);
  await told.getByText("Named anew once").click();
  await told.getByText("in: Pip Rowan; out: Quin Alder").waitFor();
  await told.getByText("Pip Rowan (6)").waitFor();
  nobodyWrong();
});

test("the match sheet has the teams with their strokes on both sides; reporting begins with them, and what it says is agreed", async () => {
  const { page } = home;
  await page.getByRole("link", { name: "Match sheet to print" }).click();
  await page.getByRole("heading", { level: 1, name: "Match sheet" }).waitFor();
  const sheet = await page.locator("main").innerText();
  for (const name of ["Nan Sedge", "Oz Teasel", "Rae Bramble", "Pip Rowan"]) expect(sheet).toContain(name);
  expect(sheet).toContain("as named for");
  await page.goBack();
  const first = match(page, 1);
  await first.getByRole("button", { name: "Report match 1" }).click();
  const chosen = first.getByLabel("Heronsgate player", { exact: true }).locator("option:checked");
  await expect.poll(() => chosen.innerText()).toContain("Nan Sedge");
  expect(await first.getByLabel("Withy player's handicap").inputValue()).toBe("3");
  await first.getByLabel("Game 1, hoops of Heronsgate").fill("7");
  await first.getByLabel("Game 1, hoops of Withy").fill("4");
  await first.getByRole("button", { name: "Save match 1" }).click();
  await match(away.page, 1).getByRole("button", { name: "We agree" }).click();
  for (const one of [home, away]) await match(one.page, 1).getByText("agreed", { exact: true }).waitFor();
  nobodyWrong();
});

test("handicaps are stated in one press, seen at the other club with their age, and a match played off another is told at both", async () => {
  // The home club's card has moved since the last statement: a game was played.
  const { page } = home;
  await toScreen(page, "League");
  await page.getByRole("link", { name: "Handicaps stated" }).click();
  const ours = page.getByRole("region", { name: "Heronsgate", exact: true });
  await ours.getByText("our club").waitFor();
  await ours.getByRole("button", { name: /^State \d+ handicaps? as of today$/ }).click();
  await ours.getByText("Everything stated is what our cards say.").waitFor();
  await expectAccessible(page);
  await page.getByRole("button", { name: "Undo" }).click();
  await ours.getByRole("button", { name: /^State \d+ handicaps? as of today$/ }).click();
  await ours.getByText("Everything stated is what our cards say.").waitFor();

  await toScreen(away.page, "League");
  await away.page.getByRole("link", { name: "Handicaps stated" }).click();
  const theirs = away.page.getByRole("region", { name: "Heronsgate", exact: true });
  await theirs
    .getByRole("row", { name: /Nan Sedge/ })
    .getByText("1510")
    .waitFor();
  expect(await theirs.getByRole("button").count()).toBe(0);
  const off = (at: Page) => at.getByRole("region", { name: "Played off another handicap" });
  await off(away.page).getByText("No match was played off another handicap").waitFor();

  await toFixture(page);
  const second = match(page, 2);
  await second.getByRole("button", { name: "Report match 2" }).click();
  await second.getByLabel("Heronsgate player's handicap").fill("9");
  await second.getByLabel("Game 1, hoops of Heronsgate").fill("7");
  await second.getByLabel("Game 1, hoops of Withy").fill("2");
  await second.getByRole("button", { name: "Save match 2" }).click();
  await second.getByText("reported by us only").waitFor();
  await toScreen(page, "League");
  await page.getByRole("link", { name: "Handicaps stated" }).click();
  for (const at of [page, away.page]) {
    await off(at).getByText("Oz Teasel was off 9; stated for the day was 12, as of").waitFor();
    await off(at)
      .getByText(/side by side: (3–0\. They would have been 6–0|0–3\. They would have been 0–6)\./)
      .waitFor();
    await expectAccessible(at);
  }
  nobodyWrong();
});
