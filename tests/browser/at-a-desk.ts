/**
 * The built app served by a real relay, a small club founded there, and browsers that are its devices. A test looks at the page as a
 * person does and at the record through the club's own root, at a desk under Node.
 */
import type { Pass } from "@sward/client";
import { encodePass } from "@sward/client";
import type { Card, GameLine, Match } from "@sward/core";
import axe from "axe-core";
import type { Browser, Page } from "playwright-core";
import { expect } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch, newDevice } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import { relayWith } from "../support/meeting.ts";
import type { SmallClub } from "../support/small-club.ts";
import { foundSmallClub, player } from "../support/small-club.ts";
import { repository } from "../support/sources.ts";

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
  /** A fresh browser that is a device of the club, at one of its screens. */
  open(pass: Pass, place: string, options?: Parameters<typeof newDevice>[1]): Promise<Device>;
  card(name: string): Card;
  games(name: string): readonly GameLine[];
  /** Matches between exactly these two, any side first. */
  matches(one: string, two: string): readonly Match[];
  close(): Promise<void>;
}

export const startRelayWithApp = (): Promise<TestRelay> => relayWith({ app: `${repository}/packages/client/dist` });

/** Opens the app by a pass, waits for the record, and goes to a screen by its tab. */
export async function openDevice(
  browser: Browser,
  origin: string,
  pass: Pass,
  tab: string,
  options: Parameters<typeof newDevice>[1] = {},
): Promise<Device> {
  const device = await newDevice(browser, { locale: "en-GB", viewport: { width: 1280, height: 900 }, ...options });
  await device.page.goto(`${origin}/#pass=${encodePass(pass)}`);
  await device.page.getByRole("link", { name: "In step" }).waitFor();
  await device.page.getByRole("navigation").getByRole("link", { name: tab }).click();
  return device;
}

export async function startScene(): Promise<Scene> {
  const [relay, browser] = [await startRelayWithApp(), await launch()];
  const club = await foundSmallClub(relay.origin, today());
  const card = (name: string): Card => club.root.state().cards.get(player(name))!;
  return {
    club,
    relay,
    browser,
    card,
    open: (pass, tab, options) => openDevice(browser, relay.origin, pass, tab, options),
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
