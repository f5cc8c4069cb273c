/**
 * A club begins and grows, in real browsers: founded with no signal, a second device invited by link, an invitation used twice and one out
 * of time, a device admitted across the room with no network, and the club found again by its words when every device is gone.
 */
import { readFile } from "node:fs/promises";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch, newDevice } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import { expectAccessible, inStep, startRelayWithApp, toScreen } from "./at-a-desk.ts";

let relay: TestRelay;
let browser: Browser;
let first: Device;
let second: Device;
let clubWords: readonly string[] = [];
const opened: Device[] = [];

beforeAll(async () => {
  [relay, browser] = [await startRelayWithApp(), await launch()];
});
afterAll(async () => {
  await browser?.close();
  await relay?.close();
});

async function emptyBrowser(options: Parameters<typeof newDevice>[1] = {}): Promise<Device> {
  const device = await newDevice(browser, { locale: "en-GB", viewport: { width: 1280, height: 900 }, ...options });
  opened.push(device);
  return device;
}

/** Opens the front page and waits until the app would also open without a signal. */
async function atFront(options: Parameters<typeof newDevice>[1] = {}): Promise<Device> {
  const device = await emptyBrowser(options);
  await device.page.goto(relay.origin);
  await device.page.evaluate(async () => void (await navigator.serviceWorker.ready));
  return device;
}

const follow = (page: Page, name: string) => page.getByRole("link", { name, exact: true }).click();
const press = (page: Page, name: string | RegExp) => page.getByRole("button", { name, exact: true }).click();

/** Everything the browser keeps, as text. */
const storedText = (page: Page): Promise<string> =>
  page.evaluate(async () => {
    const texts = [JSON.stringify({ ...localStorage }), JSON.stringify({ ...sessionStorage })];
    for (const { name } of await indexedDB.databases()) {
      const db = await new Promise<IDBDatabase>((done) => {
        const asked = indexedDB.open(name as string);
        asked.onsuccess = () => done(asked.result);
      });
      for (const store of db.objectStoreNames) {
        const all = await new Promise<unknown>((done) => {
          const asked = db.transaction(store).objectStore(store).getAll();
          asked.onsuccess = () => done(asked.result);
        });
        texts.push(JSON.stringify(all));
      }
      db.close();
    }
    return texts.join("\n");
  });

/** A member with a starting handicap, or a visitor: by the dialog of the members' screen. */
async function join(page: Page, name: string, handicap?: string): Promise<void> {
  await page.getByRole("button", { name: /Add/ }).first().click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Name", { exact: true }).fill(name);
  if (handicap !== undefined) {
    await dialog.getByLabel("Starting handicap").selectOption(handicap);
    await dialog.getByLabel("How it was found").fill("came with a card");
  }
  await dialog.getByRole("button", { name: "Save" }).click();
  await dialog.waitFor({ state: "hidden" });
}

async function makeInvitation(page: Page, life: string, passphrase = ""): Promise<string> {
  await press(page, "Make an invitation");
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Good for").selectOption({ label: life });
  await dialog.getByLabel("Passphrase, if you like").fill(passphrase);
  await dialog.getByRole("button", { name: "Make it" }).click();
  await dialog.waitFor({ state: "hidden" });
  return page.getByLabel("Link", { exact: true }).first().inputValue();
}

const codeOn = (page: Page): Promise<string> => page.locator(".invite-digits").first().innerText();

async function admit(page: Page, name: string, role: string): Promise<void> {
  await press(page, "Admit…");
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Admit", exact: true }).click();
  await dialog.getByText("Compare the code with the other screen first").waitFor();
  await dialog.getByLabel("The other screen shows the same code").check();
  await dialog.getByLabel("Whose device it is").fill(name);
  await dialog.getByRole("radio", { name: role }).check();
  await expectAccessible(page);
  await dialog.getByRole("button", { name: "Admit", exact: true }).click();
  await dialog.waitFor({ state: "hidden" });
}

test("a club is started with no signal: words once, two of them again, then its record", async () => {
  first = await atFront();
  const { page } = first;
  await expectAccessible(page);
  await first.goOffline();
  await follow(page, "Start a club");
  await press(page, "Next: the club's words");
  await page.getByText("Write the club's name.").waitFor();
  await page.getByLabel("The club's name").fill("Larkfield Croquet Club");
  await page.getByLabel("Your name").fill("Ines Calder");
  await page.getByLabel("This device").fill("Ines's laptop");
  await expectAccessible(page);
  await press(page, "Next: the club's words");
  const items = page.getByRole("list", { name: "The club's words" }).getByRole("listitem");
  await expect.poll(() => items.count()).toBe(24);
  clubWords = (await items.allInnerTexts()).map((text) => text.replaceAll(/[^a-z]/g, ""));
  await expectAccessible(page);
  await press(page, "I have them on paper");
  const fields = page.getByLabel(/^Word \d+$/);
  await expect.poll(() => fields.count()).toBe(2);
  const labels = await page.locator("label", { hasText: /^Word \d+$/ }).allInnerTexts();
  const places = labels.map((label) => Number(label.replace("Word ", "")));
  await fields.first().fill("wrong");
  await press(page, "Start the club");
  await page.getByText(`That is not word ${places[0]}.`).waitFor();
  for (const [n, place] of places.entries()) await fields.nth(n).fill(clubWords[place - 1] ?? "");
  await expectAccessible(page);
  await press(page, "Start the club");
  await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  await page.getByText("Larkfield Croquet Club").first().waitFor();
  await join(page, "Ada Wren", "7");
  await join(page, "Gwen Ashdown", "16");
  const kept = await storedText(page);
  // The words are the seed: neither is anywhere in this browser.
  expect(kept).toContain("Larkfield Croquet Club");
  for (const word of clubWords.filter((one) => one.length > 6)) expect(kept).not.toContain(word);
  await first.online();
  await inStep(page);
  expect(first.faults).toEqual([]);
});

test("by link with a passphrase: the same code on both screens, admitted, and the new device writes", async () => {
  await toScreen(first.page, "Sharing");
  const link = await makeInvitation(first.page, "one day", "under the yew");
  second = await emptyBrowser({ viewport: { width: 390, height: 800 } });
  const { page } = second;
  await page.goto(link);
  await page.getByRole("heading", { name: "You are invited to Larkfield Croquet Club" }).waitFor();
  expect(page.url()).toBe(`${relay.origin}/join`);
  await page.getByLabel("This device").fill("Bo's phone");
  await page.getByLabel("Passphrase").fill("under the oak");
  await press(page, "Ask to join");
  await page.getByText("That is not the passphrase.").waitFor();
  await expectAccessible(page);
  await page.getByLabel("Passphrase").fill("under the yew");
  await press(page, "Ask to join");
  await page.getByText("The ask lies at the relay.").waitFor();
  await expectAccessible(page);
  // A reload in between loses nothing: it asks with the same key.
  const code = await codeOn(page);
  await page.reload();
  await expect.poll(() => codeOn(page)).toBe(code);

  await first.page.getByRole("heading", { name: "“Bo's phone” asks to be admitted" }).waitFor();
  expect(await codeOn(first.page)).toBe(code);
  expect(code).toMatch(/^\d{4} \d{4} \d{4} \d{4}$/);
  await expectAccessible(first.page);
  await admit(first.page, "Bo Linnet", "Recorder");
  await first.page.getByText("Admitted: Bo's phone, Bo Linnet.").waitFor();

  await inStep(page);
  await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  await page.getByText("Ada Wren").first().waitFor();
  // On a phone the badge at the top leads there.
  await page.getByRole("link", { name: /In step$/ }).click();
  const row = page.getByRole("row", { name: /Bo Linnet/ });
  await row.getByText("a recorder's device").waitFor();
  await page.getByText("Only a handicapper's device invites and admits.").waitFor();
  // And what it writes reaches the first.
  await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  await join(page, "Vic Tarrant");
  await page.getByRole("navigation").getByRole("link", { name: "Enter" }).click();
  await page.getByLabel("Played as").selectOption("club competition");
  await page.getByRole("combobox", { name: "Player", exact: true }).focus();
  for (const word of ["ada", "gwen", "7", "4"]) {
    await page.keyboard.type(word);
    await page.keyboard.press("Enter");
  }
  await page.getByText(/Saved: .*7–4/).waitFor();
  await toScreen(first.page, "Sharing");
  await first.page.getByText("Newest entries").first().click();
  await first.page
    .getByText(/Ada W\. 7–4 Gwen A\./)
    .first()
    .waitFor();
  expect([...first.faults, ...second.faults]).toEqual([]);
});

test("an invitation that was used, and one out of time, let nobody in and say so", async () => {
  const { page } = first;
  await toScreen(page, "Sharing");
  const used = await page.evaluate(() => document.querySelectorAll(".invite-given").length);
  expect(used).toBe(1);
  const link = await makeInvitation(page, "one hour");
  const [third, fourth] = [await emptyBrowser(), await emptyBrowser()];
  for (const [device, name] of [
    [third, "tablet"],
    [fourth, "stranger"],
  ] as const) {
    await device.page.goto(link);
    await device.page.getByLabel("This device").fill(name);
    await press(device.page, "Ask to join");
    await device.page.getByText("The ask lies at the relay.").waitFor();
  }
  await page.getByRole("heading", { name: "“stranger” asks" }).waitFor();
  const ask = page.locator(".invite-ask", { hasText: "stranger" });
  await ask.getByRole("button", { name: "Refuse" }).click();
  await fourth.page.getByRole("heading", { name: "The handicapper did not admit this device" }).waitFor();
  await admit(page, "Ines Calder", "Reader");
  await inStep(third.page);
  const late = await emptyBrowser();
  await late.page.goto(link);
  await late.page.getByLabel("This device").fill("late");
  await press(late.page, "Ask to join");
  await late.page.getByText("This invitation has been used.").waitFor();

  const old = await makeInvitation(page, "one hour");
  const later = await emptyBrowser();
  await later.page.clock.install({ time: Date.now() + 2 * 3_600_000 });
  await later.page.goto(old);
  await later.page.getByText("This invitation has expired.").waitFor();
  expect(await later.page.getByRole("button", { name: "Ask to join" }).count()).toBe(0);
  await press(page, "Withdraw the invitation");
  await page.getByText("withdrawn", { exact: true }).waitFor();
  expect([...third.faults, ...fourth.faults, ...late.faults, ...first.faults]).toEqual([]);
});

test("across the room with no network: ask and answer as files, and the new device has the record at once", async () => {
  const { page } = first;
  await toScreen(page, "Sharing");
  const link = await makeInvitation(page, "one day");
  const guest = await atFront({ viewport: { width: 390, height: 800 }, acceptDownloads: true });
  await guest.goOffline();
  await first.goOffline();
  await follow(guest.page, "Join a club with an invitation");
  await guest.page.getByLabel("The invitation").fill(link);
  await press(guest.page, "Read the invitation");
  await guest.page.getByLabel("This device").fill("Cass's phone");
  await press(guest.page, "Ask to join");
  await guest.page.getByText("No network? Ask with codes or a file").click();
  await guest.page.getByRole("img", { name: "Code 1 of 2" }).waitFor();
  await expectAccessible(guest.page);
  const [asked] = await Promise.all([guest.page.waitForEvent("download"), press(guest.page, "Save as a file")]);

  const card = page.locator(".invite-given").first();
  await card.getByText("No network? Take the ask").click();
  await card.getByLabel("Paste the text").fill("sward-parcel-1:AAAA");
  await card.getByRole("button", { name: "Read it" }).click();
  await card.getByText("That could not be read.").waitFor();
  await card.getByLabel("Choose a file").setInputFiles(await asked.path());
  await card.getByRole("heading", { name: "“Cass's phone” asks" }).waitFor();
  expect(await card.locator(".invite-digits").innerText()).toBe(await codeOn(guest.page));
  await admit(page, "Cass Thorley", "Recorder");
  await expectAccessible(page);
  const [answered] = await Promise.all([
    page.waitForEvent("download"),
    card.getByRole("button", { name: "Save as a file" }).click(),
  ]);
  expect(await readFile(await answered.path(), "utf8")).toMatch(/^sward-parcel-1:/);
  await guest.page.getByLabel("Choose a file").setInputFiles(await answered.path());
  await guest.page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  await guest.page.getByText("Ada Wren").first().waitFor();
  // It writes though it has never met the relay.
  await join(guest.page, "Una Farrow");
  await first.online();
  await guest.online();
  await inStep(guest.page);
  await toScreen(page, "Members");
  await page.getByText("Una Farrow").first().waitFor({ timeout: 40_000 });
  expect([...guest.faults, ...first.faults]).toEqual([]);
});

test("every device gone, the words alone find the club again at the relay", async () => {
  // One member's phone stays; it is what the next test has left.
  for (const device of opened.splice(0)) if (device !== second) await device.close();
  const last = await emptyBrowser();
  const { page } = last;
  await page.goto(`${relay.origin}/recover`);
  await page.getByLabel("Your name").fill("Ines Calder");
  await page.getByLabel("This device").fill("Ines's new laptop");
  await page.getByLabel("The club's words").fill([...clubWords.slice(1), "zooo"].join(" "));
  await press(page, "Recover the club");
  await page.getByText("Word 24, “zooo”, is not one a club's words are made of.").waitFor();
  await expectAccessible(page);
  await page.getByLabel("The club's words").fill(clubWords.map((word, at) => `${at + 1}. ${word}`).join("\n"));
  await press(page, "Recover the club");
  await page.getByText(/Larkfield Croquet Club was found, \d+ entries\./).waitFor();
  await press(page, "Open the record");
  await inStep(page);
  await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  for (const name of ["Ada Wren", "Vic Tarrant", "Una Farrow"]) await page.getByText(name).first().waitFor();
  await page.getByRole("navigation").getByRole("link", { name: "Sharing" }).click();
  await page
    .getByRole("row", { name: /Ines Calder.*\(this device\)/ })
    .getByText("a handicapper's device")
    .waitFor();
  await page.getByRole("button", { name: "Make an invitation" }).waitFor();
  expect(last.faults).toEqual([]);
});

test("relay and handicappers gone: the words and a copy from a member's phone find the club again, with no network", async () => {
  // On a phone the badge at the top leads there.
  await second.page.getByRole("link", { name: /In step$/ }).click();
  const [copy] = await Promise.all([
    second.page.waitForEvent("download"),
    press(second.page, "Save a copy to recover Larkfield Croquet Club with"),
  ]);
  const file = await copy.path();
  expect(await readFile(file, "utf8")).not.toContain("Wren");
  const guest = await atFront();
  const { page } = guest;
  await relay.close();
  await guest.goOffline();
  await follow(page, "Recover a club with its words");
  await page.getByLabel("Your name").fill("Ines Calder");
  await page.getByLabel("This device").fill("a borrowed laptop");
  await page.getByLabel("The club's words").fill(clubWords.join(" "));
  await page.getByLabel("In a copy from a member's device").check();
  await press(page, "Recover the club");
  await page.getByText("Choose the file with the copy.").waitFor();
  await page.getByLabel("The copy", { exact: true }).setInputFiles({
    name: "holiday.json",
    mimeType: "application/json",
    buffer: Buffer.from("{}"),
  });
  await press(page, "Recover the club");
  await page.getByText("That file is not a copy of a club's record").waitFor();
  await expectAccessible(page);
  await page.getByLabel("The copy", { exact: true }).setInputFiles(file);
  await press(page, "Recover the club");
  await page.getByText(/Larkfield Croquet Club was found, \d+ entries\./).waitFor();
  await press(page, "Open the record");
  await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  for (const name of ["Ada Wren", "Vic Tarrant", "Una Farrow"]) await page.getByText(name).first().waitFor();
  await join(page, "Tess Moorhen", "10");
  await page.getByText("Tess Moorhen").first().waitFor();
  expect(guest.faults).toEqual([]);
});
