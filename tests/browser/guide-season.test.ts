/** The guide's chapters on a week in the season and on the year's end, walked through as they say, in a small invented club. */
import { readFile } from "node:fs/promises";
import { encodePass } from "@sward/client";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import type { SmallClub } from "../support/small-club.ts";
import { foundSmallClub } from "../support/small-club.ts";
import { inStep, startRelayWithApp } from "./at-a-desk.ts";
import { withNewcomers } from "./desk-club.ts";
import { DAY, guideDevice, LAPTOP, PHONE, picture } from "./guide-album.ts";
import { foundNewClub } from "./new-club.ts";

let relay: TestRelay;
let browser: Browser;
let club: SmallClub;
let laptop: Device;
let phone: Device;

async function deviceOf(role: "handicapper" | "recorder", size: typeof PHONE): Promise<Device> {
  const device = await guideDevice(browser, size);
  await device.page.goto(`${relay.origin}/#pass=${encodePass(club.passes[role])}`);
  await inStep(device.page);
  return device;
}

beforeAll(async () => {
  [relay, browser] = [await startRelayWithApp(), await launch()];
  club = await foundSmallClub(relay.origin, DAY);
  await withNewcomers(club);
  [laptop, phone] = [await deviceOf("handicapper", LAPTOP), await deviceOf("recorder", PHONE)];
});
afterAll(async () => {
  await browser?.close();
  await club?.close();
  await relay?.close();
});

const press = (page: Page, name: string | RegExp) => page.getByRole("button", { name, exact: true }).click();
const tab = (page: Page, name: string) => page.getByRole("navigation").getByRole("link", { name }).click();
const title = (page: Page, name: string | RegExp) => page.getByRole("heading", { level: 1, name }).waitFor();
const place = async (page: Page, where: string): Promise<void> => {
  await page.goto(`${new URL(page.url()).origin}${/^\/d\/[^/]+/.exec(new URL(page.url()).pathname)?.[0]}/${where}`);
  await page.getByRole("heading", { level: 1 }).waitFor();
  if (page === laptop.page) await inStep(page);
};
const nobodyWrong = () => expect([...laptop.faults, ...phone.faults]).toEqual([]);

test("what needs attention: two reports that differ, and a change of handicap signed off", async () => {
  const { page } = laptop;
  await tab(page, "To do");
  await title(page, "What needs attention");
  await picture(page, "to-do");
  await picture(page, "told-in-two-ways", { of: page.getByRole("article", { name: "Bo Linnet v Finn Sallow" }) });
  const change = page.getByRole("article", { name: /^Ada Wren/ }).first();
  await picture(page, "change-to-sign-off", { of: change });
  await change.getByRole("button", { name: /^Sign off up to/ }).click();
  await page.getByText("Ada Wren's card is signed off").waitFor();
  await page.getByRole("button", { name: "Undo" }).click();
  await change.waitFor();
  const newcomer = page.getByRole("article", { name: "Ivy Marsden: started at 11, 5 games since" });
  await picture(page, "newcomer-to-review", { of: newcomer });
  nobodyWrong();
});

test("a match is entered, with the extra strokes and what it does to the index before it is saved", async () => {
  const { page } = laptop;
  await tab(page, "Enter");
  await page.getByLabel("Played as").selectOption("club competition");
  await page.getByRole("combobox", { name: "Player", exact: true }).focus();
  for (const word of ["ada", "gwen", "7"]) {
    await page.keyboard.type(word);
    await page.keyboard.press("Enter");
  }
  await page.keyboard.type("4");
  await page.getByRole("heading", { name: "If you save this" }).scrollIntoViewIfNeeded();
  await picture(page, "enter-a-match", { of: page.locator("main") });
  await page.keyboard.press("Enter");
  await page.getByText("Saved: Ada W. 7–4 Gwen A.").waitFor();
  await page.getByRole("button", { name: "Undo" }).first().click();
  await page.getByText("Undone: Ada W. 7–4 Gwen A.").waitFor();
  await tab(page, "Strokes");
  await title(page, "Extra strokes");
  await page.getByRole("button", { name: "Close" }).click();
  await page.getByRole("group", { name: "One side" }).getByRole("button", { name: "7", exact: true }).click();
  await page.getByRole("group", { name: "The other side" }).getByRole("button", { name: "16", exact: true }).click();
  await picture(page, "extra-strokes");
  nobodyWrong();
});

test("a game at the lawn with no signal: strokes handed over, entered, and sent when there is a signal again", async () => {
  const { page } = phone;
  await page.evaluate(async () => void (await navigator.serviceWorker.ready));
  await tab(page, "Enter");
  await page.getByRole("link", { name: "Score pad" }).click();
  await page.getByRole("heading", { level: 1, name: "Score pad" }).waitFor();
  await phone.goOffline();
  for (const [role, typed, name] of [
    ["Player", "cass", "Cass Thorley"],
    ["Opponent", "gwen", "Gwen Ashdown"],
  ] as const) {
    await page.getByRole("combobox", { name: role, exact: true }).fill(typed);
    await page.getByRole("option", { name: new RegExp(name) }).click();
  }
  await picture(page, "before-the-game", { of: page.locator("main") });
  await press(page, "Begin the game");
  await title(page, "Cass Thorley v Gwen Ashdown");
  const tap = async (...names: readonly (string | RegExp)[]): Promise<void> => {
    for (const name of names) await press(page, name);
  };
  await tap("Played, no hoop", "Played, no hoop", /^Extra stroke Gwen Ashdown/, "Played, no hoop");
  await picture(page, "score-pad");
  for (let hoop = 0; hoop < 7; hoop++) await tap("Hoop for Cass Thorley");
  await page.getByText("Cass Thorley won 7–0.").waitFor();
  await picture(page, "game-over");
  await page.getByRole("link", { name: "Enter the result" }).click();
  await page.getByLabel("Played as").selectOption("club competition");
  await press(page, "Save the match");
  await page.getByRole("heading", { level: 2, name: "Saved as matches" }).waitFor();
  await place(page, "sharing");
  await page.getByText("1 entry is only on this device so far").first().waitFor();
  // The pauses between tries are of random length, so that a club's devices do not all come back at once.
  const varies = /, after \d+ tries/g;
  await picture(page, "waiting-for-a-signal", {
    reads: page.locator("header, section[aria-label=Connection]"),
    varies,
  });
  await phone.online();
  await inStep(page);
  nobodyWrong();
});

test("at the end of the year: every card looked at, the review, and the report", async () => {
  const { page } = laptop;
  await place(page, "check");
  await picture(page, "yearly-check");
  await page.getByRole("button", { name: "Begin" }).click();
  await page.getByText(/^Card 1 of/).waitFor();
  await picture(page, "one-card-of-the-check");
  await place(page, "review");
  await picture(page, "review");
  await place(page, "print");
  await title(page, /.+/);
  await picture(page, "all-that-prints");
  nobodyWrong();
});

test("a member's card, and erasing a name", async () => {
  const { page } = laptop;
  await tab(page, "Members");
  await title(page, "Members");
  await picture(page, "members");
  await page.getByRole("link", { name: "Gwen Ashdown" }).first().click();
  await title(page, "Gwen Ashdown");
  await picture(page, "a-card");
  await page.getByRole("button", { name: "Erase the name" }).click();
  await picture(page, "erase-a-name", { of: page.getByRole("dialog") });
  await page.keyboard.press("Escape");
  nobodyWrong();
});

test("a member leaves with the record, and the new club takes it in", async () => {
  const { page } = laptop;
  await tab(page, "Members");
  await page.getByRole("link", { name: "Edie Fennimore" }).first().click();
  await title(page, "Edie Fennimore");
  const leaving = page.getByRole("region", { name: "Leaves for another club" });
  await picture(page, "leaves-for-another-club", { of: leaving });
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    leaving.getByRole("button", { name: "Only give the record" }).click(),
  ]);
  const other = await foundNewClub(relay.origin, "Coldbrook Croquet Club", DAY);
  const there = (await guideDevice(browser, LAPTOP)).page;
  await there.goto(`${relay.origin}/#pass=${encodePass(other.pass)}`);
  await inStep(there);
  await tab(there, "Members");
  await there.getByRole("link", { name: "A player comes from another club" }).click();
  const buffer = await readFile(await download.path());
  const file = { name: "record.jsonl", mimeType: "application/json", buffer };
  await there.getByLabel("The player's record").setInputFiles(file);
  await there.getByRole("heading", { name: "The record from Thornfield Croquet Club" }).waitFor();
  await there.getByLabel("Name", { exact: true }).fill("Edie Fennimore");
  const form = there.locator("form.moving-form");
  await picture(there, "a-record-comes", { of: form });
  await there.getByRole("button", { name: "Take the record in" }).click();
  await there.getByText("Edie Fennimore has come.").waitFor();
  await there.getByRole("link", { name: "To the card" }).click();
  await title(there, "Edie Fennimore");
  await there.context().close();
  await other.root.close();
  nobodyWrong();
});

test("what goes wrong: the device open in another tab, and no room left", async () => {
  const { page, context } = laptop;
  const other = await context.newPage();
  await other.goto(page.url());
  await other.getByRole("heading", { level: 1, name: "Open in another tab" }).waitFor();
  await picture(other, "open-in-another-tab");
  await other.close();
  await tab(page, "Members");
  await page.getByRole("button", { name: "Add somebody" }).click();
  await page.evaluate(() => {
    IDBObjectStore.prototype.add = () => {
      throw new DOMException("no space left", "QuotaExceededError");
    };
    IDBObjectStore.prototype.put = IDBObjectStore.prototype.add;
  });
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Name", { exact: true }).fill("Otto Quill");
  await dialog.getByRole("button", { name: "Save" }).click();
  await dialog.getByRole("alert").getByText("It was NOT saved.").waitFor();
  await picture(page, "not-saved", { of: dialog.getByRole("alert") });
});
