/**
 * One club's story of trust in real browser profiles, each a folder as a person has one: founded, a recorder invited and admitted, barred
 * and the key changed, a name erased, and all of it found again by the words when the handicapper's folder is gone.
 */
import { existsSync, rmSync } from "node:fs";
import type { BrowserContext, Page } from "playwright-core";
import { chromium } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { launchOptions } from "../support/browser.ts";
import { temporaryFolders } from "../support/folders.ts";
import type { TestRelay } from "../support/meeting.ts";
import { inStep, startRelayWithApp, toScreen } from "./at-a-desk.ts";

interface Profile {
  readonly at: string;
  readonly context: BrowserContext;
  readonly page: Page;
  readonly faults: string[];
}

/** What a card says but for the names on it. */
interface Numbers {
  /** Handicap in force and index. */
  readonly front: readonly string[];
  /** For each game: off, play, score, points, index, handicap; newest first. */
  readonly lines: readonly (readonly string[])[];
}

const PATIENT = { timeout: 60_000 };
const folder = temporaryFolders();
const running: BrowserContext[] = [];
let relay: TestRelay;
let office: Profile;
let tablet: Profile;
let clubWords: readonly string[] = [];
/** What the barred device has on a card, of all it can read. */
let there: readonly (string | undefined)[] = [];

async function startProfile(): Promise<Profile> {
  const at = folder();
  const context = await chromium.launchPersistentContext(at, {
    ...(await launchOptions()),
    locale: "en-GB",
    viewport: { width: 1280, height: 900 },
  });
  running.push(context);
  context.setDefaultTimeout(PATIENT.timeout);
  const page = context.pages()[0] ?? (await context.newPage());
  const faults: string[] = [];
  page.on("pageerror", (error) => faults.push(String(error)));
  return { at, context, page, faults };
}

const press = (page: Page, name: string | RegExp) => page.getByRole("button", { name, exact: true }).click();

/** By the tab alone: a device that is out of reach is never in step. */
const toTab = (page: Page, tab: string) => page.getByRole("navigation").getByRole("link", { name: tab }).click();

async function join(page: Page, name: string, handicap: string): Promise<void> {
  await page.getByRole("button", { name: /Add/ }).first().click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Name", { exact: true }).fill(name);
  await dialog.getByLabel("Starting handicap").selectOption(handicap);
  await dialog.getByLabel("How it was found").fill("came with a card");
  await dialog.getByRole("button", { name: "Save" }).click();
  await dialog.waitFor({ state: "hidden" });
}

/** Ada against Gwen in a club competition, Ada's hoops first. @param match their how many-th of the day, as far as this device knows */
async function enter(page: Page, hoops: string, against: string, match: number): Promise<void> {
  await toTab(page, "Enter");
  await page.getByLabel("Played as").selectOption("club competition");
  await page.getByRole("combobox", { name: "Player", exact: true }).focus();
  for (const word of ["ada", "gwen", hoops, against]) {
    await page.keyboard.type(word);
    await page.keyboard.press("Enter");
  }
  if (match > 1) {
    await page.getByLabel(`A further match, their number ${match} of the day`).check();
    await page.getByRole("button", { name: /^Save/ }).first().click();
  }
  await page.getByText(`Saved: Ada W. ${hoops}–${against} Gwen A.`).waitFor();
}

async function numbersOf(page: Page, name: string): Promise<Numbers> {
  await toTab(page, "Members");
  await page.locator("table.roll").getByRole("link", { name }).click();
  await page.getByRole("heading", { name, level: 1 }).waitFor();
  await page.locator("#card-lines").waitFor();
  const texts = (cells: readonly string[]): string[] => cells.map((cell) => cell.replaceAll(/\s+/g, " ").trim());
  const front = await page.locator(".card-front .numeral-value, .card-front .card-index-value").allInnerTexts();
  const rows = await page.locator("table.card-lines tbody tr:has(td)").all();
  const cells = await Promise.all(rows.map((row) => row.locator("td").allInnerTexts()));
  // The line of a starting handicap has fewer cells than that of a game.
  return { front: texts(front), lines: cells.filter((row) => row.length > 7).map((row) => texts(row.slice(2, 8))) };
}

const scoresOf = ({ lines }: Numbers): (string | undefined)[] =>
  lines.map(([, , score]) => score?.replace(/ (won|lost)$/, ""));

beforeAll(async () => {
  relay = await startRelayWithApp();
  office = await startProfile();
  tablet = await startProfile();
});
afterAll(async () => {
  for (const context of running) await context.close();
  await relay?.close();
});

test("a club of two members and one game invites a recorder: equal codes, admitted, and what it enters is on the handicapper's card", async () => {
  const { page } = office;
  await page.goto(relay.origin);
  await page.getByRole("link", { name: "Start a club", exact: true }).click();
  await page.getByLabel("The club's name").fill("Hollowmere Croquet Club");
  await page.getByLabel("Your name").fill("Ines Calder");
  await page.getByLabel("This device").fill("Ines's laptop");
  await press(page, "Next: the club's words");
  const items = page.getByRole("list", { name: "The club's words" }).getByRole("listitem");
  await expect.poll(() => items.count(), PATIENT).toBe(24);
  clubWords = (await items.allInnerTexts()).map((text) => text.replaceAll(/[^a-z]/g, ""));
  await press(page, "I have them on paper");
  const fields = page.getByLabel(/^Word \d+$/);
  await expect.poll(() => fields.count(), PATIENT).toBe(2);
  const labels = await page.locator("label", { hasText: /^Word \d+$/ }).allInnerTexts();
  for (const [n, label] of labels.entries())
    await fields.nth(n).fill(clubWords[Number(label.replace("Word ", "")) - 1] ?? "");
  await press(page, "Start the club");
  await toTab(page, "Members");
  await join(page, "Ada Wren", "7");
  await join(page, "Gwen Ashdown", "16");
  await enter(page, "7", "4", 1);

  await toScreen(page, "Sharing");
  await press(page, "Make an invitation");
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Passphrase, if you like").fill("under the yew");
  await dialog.getByRole("button", { name: "Make it" }).click();
  await dialog.waitFor({ state: "hidden" });
  await tablet.page.goto(await page.getByLabel("Link", { exact: true }).first().inputValue());
  await tablet.page.getByLabel("This device").fill("pavilion tablet");
  await tablet.page.getByLabel("Passphrase").fill("under the yew");
  await press(tablet.page, "Ask to join");
  await tablet.page.getByText("The ask lies at the relay.").waitFor();
  await page.getByRole("heading", { name: "“pavilion tablet” asks to be admitted" }).waitFor();
  const code = await page.locator(".invite-digits").first().innerText();
  expect(code).toMatch(/^\d{4} \d{4} \d{4} \d{4}$/);
  expect(await tablet.page.locator(".invite-digits").first().innerText()).toBe(code);
  await press(page, "Admit…");
  await dialog.getByLabel("The other screen shows the same code").check();
  await dialog.getByLabel("Whose device it is").fill("Bo Linnet");
  await dialog.getByRole("radio", { name: "Recorder" }).check();
  await dialog.getByRole("button", { name: "Admit", exact: true }).click();
  await dialog.waitFor({ state: "hidden" });

  await inStep(tablet.page);
  expect(scoresOf(await numbersOf(tablet.page, "Ada Wren"))).toEqual(["7–4"]);
  await enter(tablet.page, "7", "2", 2);
  await expect.poll(async () => scoresOf(await numbersOf(page, "Ada Wren")), PATIENT).toEqual(["7–2", "7–4"]);
  expect([...office.faults, ...tablet.faults]).toEqual([]);
});

test("the recorder is barred at its last entry and the key changes: what either writes afterwards is not on the other's card", async () => {
  const { page } = office;
  const before = await numbersOf(page, "Ada Wren");
  // Out of reach, it cannot know that it is barred, and goes on writing.
  await toScreen(tablet.page, "Sharing");
  await tablet.page.getByLabel("Work offline").check();

  await toScreen(page, "Sharing");
  const lock = page.getByRole("region", { name: "The club's key, Hollowmere Croquet Club" });
  await lock.getByText("It is the key the record began with").waitFor();
  await page
    .getByRole("button", { name: /^Bar .*pavilion tablet/ })
    .first()
    .click();
  const dialog = page.getByRole("dialog");
  const last = dialog.getByRole("radio", { name: /Ada W\. 7–2 Gwen A\..*all it has written so far counts/ });
  expect(await last.isChecked()).toBe(true);
  await dialog.getByRole("button", { name: "Bar this device" }).click();
  await page.getByText(/is barred\. The club changes its key\./).waitFor();
  await lock.getByText("It has been changed once").waitFor();
  await lock.getByText("Every device that is not barred has been handed it; a barred one has not.").waitFor();

  await enter(tablet.page, "7", "1", 3);
  await toTab(tablet.page, "Sharing");
  await tablet.page.getByLabel("Work offline").uncheck();
  // It has arrived, so that it could be on the card if anything were wrong.
  const aside = lock.getByRole("listitem").filter({ hasText: "Ada W. 7–1 Gwen A." });
  await aside.getByText("written after the bar").waitFor();
  expect(await numbersOf(page, "Ada Wren")).toEqual(before);
  await tablet.page.getByText("Barred.").first().waitFor();

  await enter(page, "7", "5", 3);
  await inStep(page);
  expect(scoresOf(await numbersOf(page, "Ada Wren"))).toEqual(["7–5", "7–2", "7–4"]);
  await tablet.page.reload();
  await inStep(tablet.page);
  there = scoresOf(await numbersOf(tablet.page, "Ada Wren"));
  expect(there).not.toContain("7–5");
  expect(there.slice(-2)).toEqual(["7–2", "7–4"]);
  expect(await tablet.page.getByText("7–5").count()).toBe(0);
  expect([...office.faults, ...tablet.faults]).toEqual([]);
});

test("a name erased and the handicapper's folder gone: the words find the same numbers at the relay, and not the name", async () => {
  const { page } = office;
  const [ada, gwen] = [await numbersOf(page, "Ada Wren"), await numbersOf(page, "Gwen Ashdown")];
  expect(ada.lines).toHaveLength(3);
  expect(ada.front).toHaveLength(2);
  await numbersOf(page, "Ada Wren");
  await press(page, "Erase the name");
  const dialog = page.getByRole("dialog", { name: "Erase the name of Ada Wren" });
  await dialog.getByLabel("The person asked for it").check();
  await dialog.getByLabel("To erase, type the name: Ada Wren").fill("Ada Wren");
  await page.keyboard.press("Enter");
  await page.getByRole("heading", { name: "Player withdrawn", level: 1 }).waitFor();
  expect(await numbersOf(page, "Gwen Ashdown")).toEqual(gwen);
  await inStep(page);
  expect(office.faults).toEqual([]);

  await office.context.close();
  rmSync(office.at, { recursive: true });
  expect(existsSync(office.at)).toBe(false);
  // Some time has gone by: still nothing of what was written under the new key has come to the barred device.
  expect(scoresOf(await numbersOf(tablet.page, "Ada Wren"))).toEqual(there);
  await tablet.context.close();

  const third = await startProfile();
  await third.page.goto(`${relay.origin}/recover`);
  await third.page.getByLabel("Your name").fill("Ines Calder");
  await third.page.getByLabel("This device").fill("Ines's new laptop");
  await third.page.getByLabel("The club's words").fill(clubWords.join(" "));
  await press(third.page, "Recover the club");
  await third.page.getByText(/Hollowmere Croquet Club was found, \d+ entries\./).waitFor();
  await press(third.page, "Open the record");
  await inStep(third.page);
  expect(await numbersOf(third.page, "Gwen Ashdown")).toEqual(gwen);
  expect(await numbersOf(third.page, "Player withdrawn")).toEqual(ada);
  // The club goes on under the changed key, and who was barred is barred.
  await toTab(third.page, "Sharing");
  const lock = third.page.getByRole("region", { name: "The club's key, Hollowmere Croquet Club" });
  await lock.getByText("It has been changed once").waitFor();
  await third.page.getByText("Barred.").first().waitFor();
  expect(await third.page.locator("body").textContent()).not.toMatch(/Ada|Wren/);
  await toTab(third.page, "Members");
  await third.page.getByRole("link", { name: "Gwen Ashdown" }).waitFor();
  expect(await third.page.locator("body").textContent()).not.toMatch(/Ada|Wren/);
  expect(third.faults).toEqual([]);
});
