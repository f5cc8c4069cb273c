/**
 * A small club's screens that print, in a browser of its handicapper: gone to by their addresses, read back from paper on both sizes,
 * and held to what every screen must hold.
 */
import { handicapInForce } from "@sward/core";
import type { Page } from "playwright-core";
import { expect } from "vitest";
import type { Device } from "../support/browser.ts";
import type { PrintedSheet } from "../support/printed.ts";
import { printed } from "../support/printed.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, inStep, startScene, today } from "./at-a-desk.ts";

export const PREVAIL = "The governing body's regulations and your club's committee always prevail over these numbers.";

export const minus = (value: number): string => (value < 0 ? `−${-value}` : String(value));

export interface PrintingScene {
  readonly scene: Scene;
  readonly device: Device;
  /** Goes to an address below the device and waits for the screen. */
  go(place: string): Promise<Page>;
  /** The handicap a member has today. */
  off(key: string): number;
}

export async function startPrinting(): Promise<PrintingScene> {
  const scene = await startScene();
  const device = await scene.open(scene.club.passes.handicapper, "Strokes");
  return {
    scene,
    device,
    async go(place) {
      const { page } = device;
      const base = /\/d\/[^/]+/.exec(page.url())?.[0] ?? "";
      await page.goto(`${scene.relay.origin}${base}/${place}`);
      await inStep(page);
      await page.getByRole("heading", { level: 1 }).waitFor();
      return page;
    },
    off: (key) => handicapInForce(scene.card(key), today()).handicap,
  };
}

/** The cells of a table's rows, heads of rows among them. */
export const rowsOf = (page: Page, selector: string): Promise<string[][]> =>
  page
    .locator(`${selector} tbody tr`)
    .evaluateAll((rows) => rows.map((row) => [...row.children].map((cell) => cell.textContent?.trim() ?? "")));

/** Every sheet of a print on both sizes of paper, after what every print must hold. */
export async function onPaper(page: Page): Promise<readonly PrintedSheet[]> {
  for (const format of ["A5", "A4"] as const) {
    const sheets = await printed(page, format);
    expect(
      sheets.flatMap(({ cut }) => cut),
      format,
    ).toEqual([]);
    const all = sheets.map(({ text }) => text).join(" ");
    expect(all).toContain("Thornfield Croquet Club");
    expect(all).toContain(PREVAIL);
    expect(all).toContain(String(new Date().getFullYear()));
    for (const furniture of ["Sharing", "In step", "To do", "Skip to", "What is printed"]) {
      expect(all, `${format}: ${furniture}`).not.toContain(furniture);
    }
    for (const { text } of sheets) expect(text.length, "an empty sheet").toBeGreaterThan(150);
    if (format === "A4") return sheets;
  }
  return [];
}

/** What stands beyond the edge of the screen and is not in a box that scrolls. */
const wider = (page: Page, width: number): Promise<readonly string[]> =>
  page.evaluate(
    (edge) =>
      [...document.querySelectorAll("main *")]
        .filter((one) => one.getBoundingClientRect().right > edge + 1)
        .filter((one) => one.closest(".scroll-x, .paper-scroll, .unseen") === null)
        .map((one) => `${one.tagName}.${one.className}: ${one.textContent?.slice(0, 40)}`),
    width,
  );

/** Nothing for axe to find and nothing beyond the edge, wide and narrow, light and dark; and no fault so far. */
export async function isWell({ page, faults }: Device): Promise<void> {
  for (const [width, scheme] of [
    [1280, "light"],
    [390, "dark"],
    [390, "light"],
    [1280, "dark"],
  ] as const) {
    await page.setViewportSize({ width, height: 900 });
    await page.emulateMedia({ colorScheme: scheme, media: "screen", reducedMotion: "reduce" });
    await expectAccessible(page);
    expect(await wider(page, width)).toEqual([]);
  }
  expect(faults).toEqual([]);
}
