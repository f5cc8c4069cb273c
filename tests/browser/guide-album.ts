/**
 * The guide's pictures (packages/client/guide/pictures). Each is made by walking through the built app as the guide says, and has beside
 * it the words that are in it. A walk compares the words, not the dots: fonts differ from machine to machine, and what ages a guide is
 * that a screen says something else. `UPDATE_GUIDE=1` before the test command makes pictures and words anew.
 *
 * The pages' clock stands on one day, so that neither words nor pictures change with the day they are made on. What is of one device
 * alone (codes, words on paper, links) is hidden from both.
 */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Locator, Page } from "playwright-core";
import { expect } from "vitest";
import type { Device } from "../support/browser.ts";
import { newDevice } from "../support/browser.ts";

export const DAY = "2026-08-29";

const folder = join(import.meta.dirname, "../../packages/client/guide/pictures");
const makesThem = process.env["UPDATE_GUIDE"] === "1";

export const PHONE = { viewport: { width: 390, height: 780 } };
export const LAPTOP = { viewport: { width: 1100, height: 780 } };

/** A browser in which it is a Saturday in August, by light, written as in Britain. */
export async function guideDevice(browser: Browser, size: typeof PHONE): Promise<Device> {
  const device = await newDevice(browser, {
    locale: "en-GB",
    timezoneId: "Europe/London",
    colorScheme: "light",
    ...size,
  });
  await device.context.clock.setFixedTime(`${DAY}T14:05:00Z`);
  return device;
}

export interface Shot {
  /** Only this part of the page; else what is in the window. */
  readonly of?: Locator;
  /** Where only this part of the window says the same on every machine. */
  readonly reads?: Locator;
  /** Not the same for everybody: left out of the words and covered in the picture. */
  readonly hide?: Locator;
  /** Words that are there or not as chance has it: left out of the words, and left in the picture. */
  readonly varies?: RegExp;
}

/** One picture of the guide, by its name. */
export async function picture(page: Page, name: string, { of, reads, hide, varies }: Shot = {}): Promise<void> {
  const part = reads ?? of ?? page.locator("body");
  await part.first().waitFor();
  // What is below the screen is drawn when the browser has nothing else to do, in the order in which that was asked for, and may then
  // want a script of its own.
  await page.locator(".below, .coming").first().waitFor({ state: "detached" });
  await page.evaluate(async () => {
    await new Promise((idle) => requestIdleCallback(idle));
    await document.fonts.ready;
    await Promise.allSettled(document.getAnimations().map(({ finished }) => finished));
  });
  const seen = await wordsOf(part, hide);
  const words = varies === undefined ? seen : seen.replaceAll(varies, "");
  if (makesThem) {
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, `${name}.txt`), words);
    const mask = hide === undefined ? [] : [hide];
    const options = { path: join(folder, `${name}.png`), mask, maskColor: "#d8d4c4", animations: "disabled" } as const;
    await (of === undefined ? page.screenshot(options) : of.screenshot(options));
  }
  const kept = readFileSync(join(folder, `${name}.txt`), "utf8");
  expect(
    words,
    `${name}: the screen has changed. Look at the guide, then make its pictures anew with UPDATE_GUIDE=1.`,
  ).toBe(kept);
}

/** What a reader sees there, one piece a line. */
async function wordsOf(part: Locator, hide: Locator | undefined): Promise<string> {
  const veil = (veiled: boolean): Promise<void> | undefined =>
    hide?.evaluateAll((all, on) => {
      for (const one of all as HTMLElement[]) one.style.visibility = on ? "hidden" : "visible";
    }, veiled);
  await veil(true);
  const text = (await part.allInnerTexts()).join("\n");
  await veil(false);
  const lines = text.split("\n").map((line) => line.replaceAll(/\s+/g, " ").trim());
  return `${lines.filter((line) => line !== "").join("\n")}\n`;
}
