/** No relay and no network at all: two clubs of a league bring each other their reports as files, and come to the same. */
import { readFile } from "node:fs/promises";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import { expectAccessible, openDevice, startRelayWithApp, today, toScreen } from "./at-a-desk.ts";
import type { LeagueWorld } from "./league-world.ts";
import { foundLeagueWorld } from "./league-world.ts";

let relay: TestRelay;
let browser: Browser;
let world: LeagueWorld;
let home: Device;
let away: Device;

beforeAll(async () => {
  [relay, browser] = [await startRelayWithApp(), await launch()];
  world = await foundLeagueWorld(relay.origin, today());
  home = await openDevice(browser, relay.origin, world.home.captain);
  away = await openDevice(browser, relay.origin, world.away.captain);
  for (const { page } of [home, away]) {
    await toScreen(page, "League");
    await page.getByRole("link", { name: "Heronsgate v Withy" }).waitFor();
    // All screens are here before the network goes.
    await page.evaluate(async () => void (await navigator.serviceWorker.ready));
  }
  for (const device of [home, away]) await device.goOffline();
});
afterAll(async () => {
  await browser?.close();
  await world?.close();
  await relay?.close();
});

const tab = (page: Page, name: string) => page.getByRole("navigation").getByRole("link", { name }).click();
const match = (page: Page, number: number) => page.getByRole("region", { name: `Match ${number}`, exact: true });

async function toMatch(page: Page): Promise<void> {
  await tab(page, "League");
  await page.getByRole("link", { name: "Heronsgate v Withy" }).click();
  await page.getByRole("heading", { level: 1, name: "Heronsgate v Withy" }).waitFor();
}

async function leagueFile(page: Page): Promise<Buffer> {
  await tab(page, "Sharing");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save Osier League as a file" }).click(),
  ]);
  return readFile(await download.path());
}

async function take(page: Page, buffer: Buffer): Promise<void> {
  await tab(page, "Sharing");
  const file = { name: "league.jsonl", mimeType: "application/jsonl", buffer };
  await page.getByLabel("Take in a file of Osier League").setInputFiles(file);
}

test("a report goes over as a file and the answer comes back as one: agreed at both clubs", async () => {
  await toMatch(home.page);
  const slot = match(home.page, 1);
  await slot.getByRole("button", { name: "Report match 1" }).click();
  await slot.getByLabel("Heronsgate player", { exact: true }).selectOption("Ivo Larch");
  await slot.getByLabel("Withy player", { exact: true }).selectOption("Pip Rowan");
  await slot.getByLabel("Game 1, hoops of Heronsgate").fill("7");
  await slot.getByLabel("Game 1, hoops of Withy").fill("4");
  await slot.getByRole("button", { name: "Save match 1" }).click();
  await slot.getByText("reported by us only").waitFor();

  const file = await leagueFile(home.page);
  await toMatch(away.page);
  await match(away.page, 1).getByText("not reported").waitFor();
  await take(away.page, file);
  await away.page.getByText(/^1 entry taken in; \d+ were here already\.$/).waitFor();
  await toMatch(away.page);
  await match(away.page, 1).getByText("reported by Heronsgate only").waitFor();
  await match(away.page, 1).getByRole("button", { name: "We agree" }).click();
  await match(away.page, 1).getByText("agreed", { exact: true }).waitFor();
  const answer = await leagueFile(away.page);
  await take(home.page, answer);
  await home.page.getByText(/^1 entry taken in/).waitFor();
  await toMatch(home.page);
  await match(home.page, 1).getByText("agreed", { exact: true }).waitFor();

  await take(home.page, answer);
  await home.page.getByText("Everything in the file was here already.").waitFor();
  expect([...home.faults, ...away.faults]).toEqual([]);
});

test("a file that was altered, and one of another record, are refused in words, and nothing is taken", async () => {
  const { page } = home;
  const file = (await leagueFile(away.page)).toString();
  const rows = file.split("\n");
  rows[3] = rows[3]!.replace(/.(.{20})"$/, (end) => `${end[0] === "A" ? "B" : "A"}${end.slice(1)}`);
  await take(page, Buffer.from(rows.join("\n")));
  await page.getByRole("alert").getByText("Line 4 has been altered").waitFor();
  await tab(page, "Sharing");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save Heronsgate as a file" }).click(),
  ]);
  await take(page, await readFile(await download.path()));
  await page.getByRole("alert").getByText("The record is of another book: Heronsgate").waitFor();
  await expectAccessible(page);
  expect(home.faults).toEqual([]);
});
