/** The guide's chapters on how a club starts and on its devices, walked through as they say. */
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import { inStep, startRelayWithApp, toScreen } from "./at-a-desk.ts";
import { guideDevice, LAPTOP, PHONE, picture } from "./guide-album.ts";

let relay: TestRelay;
let browser: Browser;
let laptop: Device;
let phone: Device;

beforeAll(async () => {
  [relay, browser] = [await startRelayWithApp(), await launch()];
});
afterAll(async () => {
  await browser?.close();
  await relay?.close();
});

const press = (page: Page, name: string | RegExp) => page.getByRole("button", { name, exact: true }).click();
const tab = (page: Page, name: string) => page.getByRole("navigation").getByRole("link", { name }).click();
const nobodyWrong = () => expect([...(laptop?.faults ?? []), ...(phone?.faults ?? [])]).toEqual([]);

test("a club is started: its words, and its first members", async () => {
  laptop = await guideDevice(browser, LAPTOP);
  const { page } = laptop;
  await page.goto(relay.origin);
  await page.evaluate(async () => void (await navigator.serviceWorker.ready));
  await picture(page, "front-page");
  await page.getByRole("link", { name: "Start a club", exact: true }).click();
  await page.getByLabel("The club's name").fill("Larkfield Croquet Club");
  await page.getByLabel("Your name").fill("Ines Calder");
  await page.getByLabel("This device").fill("Ines's laptop");
  await picture(page, "start-a-club");
  await press(page, "Next: the club's words");
  const items = page.getByRole("list", { name: "The club's words" }).getByRole("listitem");
  await expect.poll(() => items.count()).toBe(24);
  const words = (await items.allInnerTexts()).map((text) => text.replaceAll(/[^a-z]/g, ""));
  await picture(page, "words-of-the-club", { hide: page.locator("main ol > li") });
  await press(page, "I have them on paper");
  const labels = page.locator("label", { hasText: /^Word \d+$/ });
  await expect.poll(() => labels.count()).toBe(2);
  await picture(page, "two-of-the-words", { hide: labels });
  const places = (await labels.allInnerTexts()).map((label) => Number(label.replace("Word ", "")));
  for (const place of places) await page.getByLabel(`Word ${place}`, { exact: true }).fill(words[place - 1] ?? "");
  await press(page, "Start the club");
  await tab(page, "Members");
  await page.getByRole("heading", { level: 1, name: "Members" }).waitFor();
  await picture(page, "no-members-yet");
  for (const [name, handicap] of [
    ["Ada Wren", "7"],
    ["Gwen Ashdown", "16"],
  ] as const) {
    await page.getByRole("button", { name: /Add/ }).first().click();
    const dialog = page.getByRole("dialog");
    await dialog.getByLabel("Name", { exact: true }).fill(name);
    await dialog.getByLabel("Starting handicap").selectOption(handicap);
    await dialog.getByLabel("How it was found").fill("the card from her former club");
    if (name === "Ada Wren") await picture(page, "add-a-member", { of: dialog });
    await dialog.getByRole("button", { name: "Save" }).click();
    await dialog.waitFor({ state: "hidden" });
  }
  nobodyWrong();
});

test("a second device is invited, compared by its code, admitted, and barred", async () => {
  const { page } = laptop;
  await page.reload();
  await toScreen(page, "Sharing");
  await press(page, "Make an invitation");
  const making = page.getByRole("dialog");
  await picture(page, "make-an-invitation", { of: making });
  await making.getByRole("button", { name: "Make it" }).click();
  await making.waitFor({ state: "hidden" });
  const link = page.getByLabel("Link", { exact: true }).first();

  phone = await guideDevice(browser, PHONE);
  const guest = phone.page;
  await guest.goto(await link.inputValue());
  await guest.getByRole("heading", { name: "You are invited to Larkfield Croquet Club" }).waitFor();
  await guest.getByLabel("This device").fill("Bo's phone");
  await picture(guest, "you-are-invited");
  await press(guest, "Ask to join");
  await guest.getByText("The ask lies at the relay.").waitFor();
  await picture(guest, "compare-the-code", { hide: guest.locator(".invite-code dd") });
  await page.getByRole("heading", { name: "“Bo's phone” asks to be admitted" }).waitFor();
  const asks = page.getByRole("region", { name: "Invite a device" });
  await picture(page, "somebody-asks", {
    of: asks,
    hide: asks.locator(".invite-code dd").or(link),
  });
  await press(page, "Admit…");
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("The other screen shows the same code").check();
  await dialog.getByLabel("Whose device it is").fill("Bo Linnet");
  await dialog.getByRole("radio", { name: "Recorder" }).check();
  await picture(page, "admit-a-device", { of: dialog, hide: dialog.locator(".invite-code dd") });
  await dialog.getByRole("button", { name: "Admit", exact: true }).click();
  await page.getByText("Admitted: Bo's phone, Bo Linnet.").waitFor();
  await inStep(guest);

  await page.reload();
  await toScreen(page, "Sharing");
  await picture(page, "devices-of-the-club", { of: page.getByRole("table", { name: "Larkfield Croquet Club" }) });
  const storage = page.getByRole("region", { name: "Storage on this device" });
  await picture(page, "storage", { of: storage, reads: storage.getByRole("button") });
  await page.getByRole("button", { name: /^Bar .*Bo's phone/ }).click();
  const barring = page.getByRole("dialog");
  await barring.getByRole("button", { name: "Bar this device" }).waitFor();
  await picture(page, "bar-a-device", { of: barring });
  await barring.getByRole("button", { name: "Bar this device" }).click();
  const lock = page.getByRole("region", { name: "The club's key, Larkfield Croquet Club" });
  await lock.getByText("Every device that is not barred has been handed it").waitFor();
  await picture(page, "key-changed", { of: lock });
  nobodyWrong();
});

test("a club is found again with its words", async () => {
  const { page } = await guideDevice(browser, PHONE);
  await page.goto(`${relay.origin}/recover`);
  await page.getByLabel("The club's words").waitFor();
  await picture(page, "recover-a-club");
});
