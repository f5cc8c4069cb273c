/** Starting clubs and a league from the front page, and showing and taking codes, as people do it. */
import type { Browser, Locator, Page } from "playwright-core";
import { expect } from "vitest";
import type { Device } from "../support/browser.ts";
import { newDevice } from "../support/browser.ts";

/** For as long as a crowded machine may need. */
const PATIENCE = 60_000;
export const eventually = (read: () => unknown): ReturnType<typeof expect.poll> =>
  expect.poll(read, { timeout: PATIENCE });
export const press = (on: Page | Locator, name: string | RegExp) =>
  on.getByRole("button", { name, exact: true }).click();
export const follow = (page: Page, name: string) => page.getByRole("link", { name, exact: true }).click();
/** By the tab alone: a device that is out of reach is never in step. */
export const toLeague = (page: Page) => page.getByRole("navigation").getByRole("link", { name: "League" }).click();
export const heading = (page: Page, name: string) =>
  page.getByRole("heading", { level: 1, name, exact: true }).waitFor();

export async function openFront(browser: Browser, origin: string): Promise<Device> {
  const device = await newDevice(browser, { locale: "en-GB", viewport: { width: 1280, height: 900 } });
  device.page.setDefaultTimeout(PATIENCE);
  await device.page.goto(origin);
  await device.page.evaluate(async () => void (await navigator.serviceWorker.ready));
  return device;
}

/** Starts a club or a league from the front page; resolves with its words. */
export async function start(
  page: Page,
  what: "club" | "league",
  name: string,
  keep = false,
): Promise<readonly string[]> {
  await follow(page, `Start a ${what}`);
  await page.getByLabel(`The ${what}'s name`).fill(name);
  await page.getByLabel("Your name").fill("Ines Calder");
  await page.getByLabel("This device").fill(`${name} laptop`);
  await press(page, `Next: the ${what}'s words`);
  const items = page.getByRole("list", { name: `The ${what}'s words` }).getByRole("listitem");
  await eventually(() => items.count()).toBe(24);
  const words = (await items.allInnerTexts()).map((text) => text.replaceAll(/[^a-z]/g, ""));
  await press(page, "I have them on paper");
  const fields = page.getByLabel(/^Word \d+$/);
  await eventually(() => fields.count()).toBe(2);
  const labels = await page.locator("label", { hasText: /^Word \d+$/ }).allInnerTexts();
  for (const [n, label] of labels.entries()) {
    await fields.nth(n).fill(words[Number(label.replace("Word ", "")) - 1] ?? "");
  }
  if (keep) await page.getByLabel("Also keep the league's own key in this browser").check();
  await press(page, `Start the ${what}`);
  await page.getByRole("navigation").getByRole("link", { name: "League" }).waitFor();
  return words;
}

export async function addMember(page: Page, name: string, handicap: string): Promise<void> {
  await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  await page.getByRole("button", { name: /Add/ }).first().click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Name", { exact: true }).fill(name);
  await dialog.getByLabel("Starting handicap").selectOption(handicap);
  await dialog.getByLabel("How it was found").fill("came with a card");
  await dialog.getByRole("button", { name: "Save" }).click();
  await dialog.waitFor({ state: "hidden" });
}

/** What a device shows to be pasted at another. */
export const shownText = (page: Page): Promise<string> =>
  page.getByRole("textbox", { name: "As text, to copy", includeHidden: true }).inputValue();

const digits = (page: Page): Promise<string> => page.locator(".invite-digits").first().innerText();

export async function readText(page: Page, text: string): Promise<void> {
  await page.getByLabel("Paste the text").fill(text);
  await press(page, "Read it");
}

/** At the club: the code shown. */
export async function askToJoin(page: Page): Promise<{ readonly text: string; readonly code: string }> {
  await toLeague(page);
  await page.getByRole("link", { name: /^Join (a|another) league$/ }).click();
  await heading(page, "Join a league");
  await eventually(() => digits(page)).toMatch(/\d{4} \d{4} \d{4} \d{4}/);
  return { text: await shownText(page), code: await digits(page) };
}

/** At the secretary's: the code taken and compared, up to admitting. */
export async function takeCode(
  page: Page,
  { text, code }: { readonly text: string; readonly code: string },
): Promise<void> {
  await readText(page, text);
  await eventually(() => digits(page)).toBe(code);
  await page.getByLabel("The other screen shows the same digits").check();
}
