/** A fixture's matches at both clubs' devices, in real browsers at a real relay. */
import type { GameLine, PlayerId } from "@sward/core";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import { expectAccessible, openDevice, startRelayWithApp, today, toScreen } from "./at-a-desk.ts";
import type { LeagueClub, LeagueWorld } from "./league-world.ts";
import { foundLeagueWorld } from "./league-world.ts";

let relay: TestRelay;
let browser: Browser;
let world: LeagueWorld;
let home: Device;
let away: Device;

beforeAll(async () => {
  relay = await startRelayWithApp();
  browser = await launch();
  world = await foundLeagueWorld(relay.origin, today());
  home = await openDevice(browser, relay.origin, world.home.captain);
  away = await openDevice(browser, relay.origin, world.away.captain);
  for (const { page } of [home, away]) {
    await toScreen(page, "League");
    await page.getByRole("link", { name: "Heronsgate v Withy" }).click();
    await page.getByRole("heading", { name: "Heronsgate v Withy" }).waitFor();
  }
});
afterAll(async () => {
  await browser?.close();
  await world?.close();
  await relay?.close();
});

const match = (page: Page, number: number) => page.getByRole("region", { name: `Match ${number}`, exact: true });

/** Reports a singles slot from the keyboard's fields, home hoops first. */
async function report(page: Page, number: number, players: [string, string], hoops: [string, string]): Promise<void> {
  const slot = match(page, number);
  const open = slot.getByRole("button", { name: `Report match ${number}` });
  if (await open.isVisible()) await open.click();
  await slot.getByLabel("Heronsgate player", { exact: true }).selectOption(players[0]);
  await slot.getByLabel("Withy player", { exact: true }).selectOption(players[1]);
  await slot.getByLabel("Game 1, hoops of Heronsgate").fill(hoops[0]);
  await slot.getByLabel("Game 1, hoops of Withy").fill(hoops[1]);
  await slot.getByRole("button", { name: `Save match ${number}` }).click();
}

const lines = (club: LeagueClub, first: string): readonly GameLine[] =>
  club.book
    .state()
    .cards.get(club.players.get(first) as PlayerId)!
    .lines.filter((line) => line.line === "game");

test("handicaps come from our own card and from what the other club states, with the day", async () => {
  const slot = match(home.page, 1);
  await slot.getByText("not reported").waitFor();
  await slot.getByRole("button", { name: "Report match 1" }).click();
  await slot.getByLabel("Heronsgate player", { exact: true }).selectOption("Ivo Larch");
  await slot.getByLabel("Withy player", { exact: true }).selectOption("Quin Alder");
  expect(await slot.getByLabel("Heronsgate player's handicap").inputValue()).toBe("8");
  expect(await slot.getByLabel("Withy player's handicap").inputValue()).toBe("10");
  await slot.getByText("Our card says 8").waitFor();
  await slot.getByText("Withy states 10, as of").waitFor();
  await slot.getByText("Quin A. receives 2 extra strokes.").waitFor();
  await slot.getByLabel("Game 1, hoops of Heronsgate").fill("6");
  await slot.getByLabel("Game 1, hoops of Withy").fill("5");
  await slot.getByRole("button", { name: "Save match 1" }).click();
  await slot.getByText("6–5 cannot be the end of a 13-point game").waitFor();
  await expectAccessible(home.page);
  await slot.getByRole("button", { name: "Leave it" }).click();
  expect(world.league.state().matches.size).toBe(0);
});

test("reported by one club, then alike by the other: agreed, and it counts once on both cards", async () => {
  await report(home.page, 1, ["Ivo Larch", "Pip Rowan"], ["7", "4"]);
  await match(home.page, 1).getByText("reported by us only").waitFor();
  await match(away.page, 1).getByText("reported by Heronsgate only").waitFor();
  await match(away.page, 1).getByRole("button", { name: "We agree" }).click();
  for (const { page } of [home, away]) await match(page, 1).getByText("agreed", { exact: true }).waitFor();
  await home.page.getByText("Heronsgate 1, Withy 0; 2 matches open").waitFor();
  await expect.poll(() => lines(world.home, "Ivo").map(({ points }) => points)).toEqual([10]);
  await expect.poll(() => lines(world.away, "Pip").map(({ points }) => points)).toEqual([-10]);
});

test("reported differently: held at both, side by side, no index moved; theirs is right, and it counts", async () => {
  await report(home.page, 2, ["Nan Sedge", "Rae Bramble"], ["7", "6"]);
  await match(away.page, 2).getByText("reported by Heronsgate only").waitFor();
  await match(away.page, 2).getByRole("button", { name: "We have it differently" }).click();
  await report(away.page, 2, ["Nan Sedge", "Rae Bramble"], ["5", "7"]);
  for (const { page } of [home, away]) {
    const slot = match(page, 2);
    await slot.getByText("differs: held").waitFor();
    const reports = slot.getByRole("region");
    expect(await reports.count()).toBe(2);
    expect(await reports.nth(0).innerText()).toMatch(/Heronsgate[\s\S]*Hoops\s*! ?\s*differs\s*7–6/);
    expect(await reports.nth(1).innerText()).toMatch(/Withy[\s\S]*Hoops\s*! ?\s*differs\s*5–7/);
    expect(await reports.nth(0).innerText()).not.toMatch(/Players and handicaps\s*! ?\s*differs/);
    await expectAccessible(page);
  }
  expect(lines(world.home, "Nan")).toEqual([]);
  await match(home.page, 2).getByRole("button", { name: "Theirs is right" }).click();
  for (const { page } of [home, away]) await match(page, 2).getByText("agreed", { exact: true }).waitFor();
  await expect
    .poll(() => lines(world.home, "Nan").map(({ points, score }) => [points, ...score]))
    .toEqual([[-10, 5, 7]]);
  await expect.poll(() => lines(world.away, "Rae").map(({ points }) => points)).toEqual([10]);

  // Undo brings back what was corrected, and with it the difference.
  await home.page.getByRole("button", { name: "Undo" }).click();
  await match(away.page, 2).getByText("differs: held").waitFor();
});

test("a league officer rules, both clubs read why, and the ruling counts", async () => {
  const office = await openDevice(browser, relay.origin, world.secretary);
  await toScreen(office.page, "League");
  await office.page.getByRole("link", { name: "Heronsgate v Withy" }).click();
  const slot = match(office.page, 2);
  await slot.getByText("differs: held").waitFor();
  expect(await slot.getByRole("button", { name: /Correct|Theirs|agree/ }).count()).toBe(0);
  await slot.getByText("Rule on match 2").click();
  await slot.getByRole("button", { name: "Enter the ruling" }).click();
  await slot.getByText("Say which report counts.").waitFor();
  await slot.getByText("Give the reason.").waitFor();
  await slot.getByLabel("The report of Withy").check();
  await slot.getByLabel("Reason").fill("The sheet signed by both captains says so.");
  await slot.getByRole("button", { name: "Enter the ruling" }).click();
  for (const { page } of [home, away]) {
    await match(page, 2).getByText("ruled on").waitFor();
    await match(page, 2).getByText("The sheet signed by both captains says so.").waitFor();
  }
  await expect.poll(() => lines(world.home, "Nan").map(({ points }) => points)).toEqual([-10]);
  expect(office.faults).toEqual([]);
  await office.close();
});

test("without a signal a doubles match is reported and kept; with it back, the other club has it", async () => {
  await home.goOffline();
  const slot = match(home.page, 3);
  // Its form is open already: it was the next one to report.
  for (const [label, name] of [
    ["Heronsgate player", "Ivo Larch"],
    ["Heronsgate partner", "Oz Teasel"],
    ["Withy player", "Pip Rowan"],
    ["Withy partner", "Quin Alder"],
  ] as const) {
    await slot.getByLabel(label, { exact: true }).selectOption(name);
  }
  await slot.getByLabel("Game 1, hoops of Heronsgate").fill("7");
  await slot.getByLabel("Game 1, hoops of Withy").fill("3");
  await slot.getByRole("button", { name: "Save match 3" }).click();
  await slot.getByText("reported by us only").waitFor();
  await slot.getByText("The report", { exact: true }).click();
  await slot.getByText("saved here").waitFor();
  await home.online();
  await slot.getByText("at the relay").waitFor({ timeout: 60_000 });
  await match(away.page, 3).getByText("reported by Heronsgate only").waitFor();
  expect(home.faults).toEqual([]);
  expect(away.faults).toEqual([]);
});
