/** Everything that is measured in a real browser, in an order in which nothing is measured beside something else. */
import { cpus } from "node:os";
import { join } from "node:path";
import { packApp } from "@sward/relay";
import type { Browser } from "playwright-core";
import type { HeldBook } from "../../../packages/client/bench/big-book.ts";
import type { InBrowser, Seen } from "../../../packages/client/bench/browser-figures.ts";
import { seenRow } from "../../../packages/client/bench/browser-figures.ts";
import type { Figure } from "../../../packages/client/bench/measure.ts";
import { row } from "../../../packages/client/bench/measure.ts";
import { launch } from "../../support/browser.ts";
import { relayWith } from "../../support/meeting.ts";
import { buildApp } from "./built.ts";
import { benchClub } from "./club.ts";
import { lateGame, SCREENS } from "./late-game.ts";
import { stagePages } from "./stages.ts";
import { firstJoin, PLACES, warmStarts } from "./starts.ts";

export interface Wanted {
  /** Empty, for what is built and is thrown away after. */
  readonly folder: string;
  readonly tell: (line: string) => void;
  /** Sizes of the signed book whose start is timed stage by stage. */
  readonly entries: readonly number[];
  /** Games that are brought together, folded and drawn. */
  readonly games: readonly number[];
  /** Entries of the largest book; null: it is not opened. */
  readonly big: number | null;
  /** Entries of the book that the built app is measured with; null: it is not. */
  readonly seen: number | null;
  readonly runs: number;
}

/** As a phone: its thread goes a quarter as fast. */
const PHONE = 4;
const PATIENCE_MS = 420_000;
/** From here on one run is long enough to be believed. */
const MANY = 30_000;

export async function measureInBrowser({ folder, tell, entries, games, big, seen, runs }: Wanted): Promise<InBrowser> {
  const browser = await launch();
  const version = `Chromium ${browser.version()}`;
  tell(`\nIn a real browser, ${version}:`);
  const stages: Figure[] = [];
  const left: string[] = [];
  const pages = await stagePages(browser, { folder: join(folder, "page"), patience: PATIENCE_MS });
  const stage = async (what: string, size: number, run: () => Promise<readonly Figure[]>): Promise<void> => {
    try {
      const found = await run();
      for (const one of found) tell(row(one));
      stages.push(...found);
    } catch (cause) {
      const said = `${what} at ${size.toLocaleString("en")}: ${cause instanceof Error ? cause.message : String(cause)}`;
      tell(`not measured: ${said}`);
      left.push(said);
    }
  };
  const often = (size: number): number => (size > MANY ? 1 : runs);
  try {
    for (const size of entries) await stage("the stages of a start", size, () => pages.entries(size, often(size)));
    for (const size of games) {
      await stage("reconcile and fold", size, () => pages.games(size, often(size)));
      await stage("render", size, () => pages.render(size, runs));
    }
    let largest: HeldBook | null = null;
    if (big !== null)
      await stage("the largest book", big, async () => {
        largest = await pages.big(big);
        tell(JSON.stringify(largest));
        return [];
      });
    const found =
      seen === null
        ? []
        : await measureApp(browser, { size: seen, runs, tell, bare: () => pages.bare(seen), app: join(folder, "app") });
    return { machine: machineHere(), browser: version, size: seen ?? 0, stages, big: largest, seen: found, left };
  } finally {
    await pages.close();
    await browser.close();
  }
}

const machineHere = (): string =>
  `${new Date().toISOString().slice(0, 10)}, ${cpus().length} x ${cpus()[0]?.model ?? "unknown"}.`;

interface App {
  readonly size: number;
  readonly runs: number;
  readonly tell: Wanted["tell"];
  readonly bare: () => Promise<number>;
  readonly app: string;
}

/** The built app, served by a relay, with a club of that size. */
async function measureApp(browser: Browser, { size, runs, tell, bare, app }: App): Promise<readonly Seen[]> {
  const folder = await buildApp(app);
  const relay = await relayWith({ app: folder });
  // As it is a while after a relay's start.
  await packApp(folder);
  const club = await benchClub(size, relay.origin);
  const all: Seen[] = [];
  const told = (found: readonly Seen[]): void => {
    for (const one of found) tell(seenRow(one));
    all.push(...found);
  };
  try {
    const joined = await firstJoin(browser, relay.origin, club, { bare, runs });
    told(joined.seen);
    // The first of them find code that was never run: as many again, and one more, and the median is of neither.
    const often = 2 * runs + 1;
    told(await warmStarts(joined, club, { slower: PHONE, runs: often, places: PLACES }));
    told(await lateGame(joined, club, { slower: PHONE, runs: often, screens: SCREENS }));
    await joined.device.close();
    return all;
  } finally {
    await club.close();
    await relay.close();
  }
}
