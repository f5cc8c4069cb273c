/**
 * The built app served by a real relay, a small club founded there, and browsers that are its devices. A test looks at the page as a
 * person does and at the record through the club's own root, at a desk under Node.
 */
import type { Pass } from "@sward/client";
import { encodePass } from "@sward/client";
import type { Card, GameLine, Match } from "@sward/core";
import axe from "axe-core";
import type { Browser, Page } from "playwright-core";
import { expect, inject } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch, newDevice } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import { relayWith } from "../support/meeting.ts";
import type { SmallClub } from "../support/small-club.ts";
import { foundSmallClub, player } from "../support/small-club.ts";

/** The day the browser has, in its own time zone as in ours. */
export const today = (): string => {
  const now = new Date();
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};

export interface Scene {
  readonly club: SmallClub;
  readonly relay: TestRelay;
  readonly browser: Browser;
  /**
   * The browser that is this device of the club, at one of its screens. It is one and the same for each pass, as a device is: a key in
   * two browsers would write two chains.
   */
  open(pass: Pass, tab: string, options?: Parameters<typeof newDevice>[1]): Promise<Device>;
  card(name: string): Card;
  games(name: string): readonly GameLine[];
  /** Matches between exactly these two, any side first. */
  matches(one: string, two: string): readonly Match[];
  close(): Promise<void>;
}

export const startRelayWithApp = (): Promise<TestRelay> => relayWith({ app: inject("app") });

/** Opens the app by a pass in a browser of its own, and waits for the record. */
export async function openDevice(
  browser: Browser,
  origin: string,
  pass: Pass,
  options: Parameters<typeof newDevice>[1] = {},
): Promise<Device> {
  const device = await newDevice(browser, { locale: "en-GB", viewport: { width: 1280, height: 900 }, ...options });
  await device.page.goto(`${origin}/#pass=${encodePass(pass)}`);
  await inStep(device.page);
  return device;
}

/** Waits until this device has all that the relay has, and the other way round. */
export async function inStep(page: Page): Promise<void> {
  try {
    await page.getByRole("link", { name: /In step$/ }).waitFor();
  } catch (cause) {
    throw new Error(`not in step; the page says: ${await page.locator("body").innerText()}`, { cause });
  }
}

/** Goes to a screen by its tab, once the record is there. */
export async function toScreen(page: Page, tab: string): Promise<void> {
  await inStep(page);
  await page.getByRole("navigation").getByRole("link", { name: tab }).click();
}

export async function startScene(): Promise<Scene> {
  const [relay, browser] = [await startRelayWithApp(), await launch()];
  const club = await foundSmallClub(relay.origin, today());
  const devices = new Map<string, Device>();
  const card = (name: string): Card => club.root.state().cards.get(player(name))!;
  return {
    club,
    relay,
    browser,
    card,
    async open(pass, tab, options) {
      const known = devices.get(pass.seed);
      const device = known ?? (await openDevice(browser, relay.origin, pass, options));
      devices.set(pass.seed, device);
      // What is remembered from the last time is not of the record: a test begins without.
      await device.page.evaluate(() => localStorage.clear());
      await device.page.reload();
      await toScreen(device.page, tab);
      return device;
    },
    games: (name) => card(name).lines.filter((line): line is GameLine => line.line === "game"),
    matches: (one, two) =>
      [...club.root.state().matches.values()].filter(({ reports }) => {
        const players = reports[0]?.facts.sides.flat().map((seat) => seat.player) ?? [];
        return players.length === 2 && players.includes(player(one)) && players.includes(player(two));
      }),
    async close() {
      await browser.close();
      await club.close();
      await relay.close();
    },
  };
}

/** Rules of WCAG 2.2 A and AA as axe-core checks them (https://github.com/dequelabs/axe-core). */
export async function expectAccessible(page: Page): Promise<void> {
  // A change of scheme takes a moment to be drawn; colours on their way are nobody's.
  await page.evaluate(async () => {
    const drawn = Promise.allSettled(document.getAnimations().map(({ finished }) => finished));
    await Promise.race([drawn, new Promise((late) => setTimeout(late, 1_000))]);
  });
  await page.evaluate(axe.source);
  const found = await page.evaluate(async () => {
    const { violations } = await (
      window as unknown as { axe: { run(on: Document): Promise<{ violations: Violation[] }> } }
    ).axe.run(document);
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" | ")}`);
  });
  expect(found).toEqual([]);
}

interface Violation {
  readonly id: string;
  readonly nodes: readonly { readonly html: string }[];
}
