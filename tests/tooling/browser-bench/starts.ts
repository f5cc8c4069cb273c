/**
 * Starting, as somebody sees it: a device joins a book of many years, with every signature checked; and a device that has it opens it
 * again on a phone, while the club went on without it. "Current" is hard to fake: what was played meanwhile is on the screen, the band
 * says "In step", and nothing is being read.
 */
import { encodePass } from "@sward/client";
import type { Browser } from "playwright-core";
import type { Seen } from "../../../packages/client/bench/browser-figures.ts";
import { seen } from "../../../packages/client/bench/browser-figures.ts";
import { median } from "../../../packages/client/bench/measure.ts";
import type { BenchClub } from "./club.ts";
import { gameOf, membersRow } from "./late-game.ts";
import { leave } from "./leave.ts";
import type { UnheardDevice } from "./unheard-page.ts";
import { unheardDevice } from "./unheard-page.ts";
import type { LongTasks, StartSeen } from "./watch.ts";
import { longTasks, startSeen, watchedPage } from "./watch.ts";

export interface Joined {
  readonly device: UnheardDevice;
  /** Its address, below which its screens are. */
  readonly address: string;
  readonly seen: readonly Seen[];
}

export interface FirstJoin {
  /** Milliseconds of bare Ed25519 for the same signatures in the same browser; asked before each join, for a machine has its moods. */
  readonly bare: () => Promise<number>;
  readonly runs: number;
}

/** Each time in a browser that has nothing of ours. It goes on with a device that joined once more, unmeasured. */
export async function firstJoin(
  browser: Browser,
  origin: string,
  club: BenchClub,
  { bare, runs }: FirstJoin,
): Promise<Joined> {
  const joins: Join[] = [];
  const bares: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    bares.push(await bare());
    joins.push(await joinOnce(browser, origin, club));
  }
  const times = joins.map(({ start }) => start.current);
  const steps = joins.map(({ start }) => start.steps).sort((a, b) => a - b);
  const floor = median(bares);
  return {
    ...(await joinToGoOn(browser, origin, club)),
    seen: [
      seen(
        "first join, every signature checked, until current",
        times,
        joins.map(({ longest }) => longest),
        {
          aim: 2 * floor,
          floor: { what: "bare Ed25519 of the same signatures in this browser", ms: floor },
          note: `the bar of progress moved ${steps[0]!.toLocaleString("en")} times or more`,
        },
      ),
    ],
  };
}

interface Join {
  readonly start: StartSeen;
  readonly longest: number;
}

const addressOf = (origin: string, club: BenchClub): string => `${origin}/#pass=${encodePass(club.pass)}`;

async function joinOnce(browser: Browser, origin: string, club: BenchClub): Promise<Join> {
  const device = await unheardDevice(browser);
  const page = await watchedPage(device, 1);
  await page.goto(addressOf(origin, club));
  const start = await startSeen(page);
  const { longest } = await longTasks(page);
  await page.close();
  await device.close();
  return { start, longest };
}

async function joinToGoOn(browser: Browser, origin: string, club: BenchClub): Promise<Omit<Joined, "seen">> {
  const device = await unheardDevice(browser);
  const page = await watchedPage(device, 1);
  await page.goto(addressOf(origin, club));
  await startSeen(page);
  const address = await page.value<string>("location.href");
  await leave(page);
  return { device, address };
}

/** Screens below the device, by what they are called. */
const ADDRESSES = { "to do": "", members: "members" } as const;
export const PLACES = ["to do", "members"] as const;

export interface WarmStart {
  readonly slower: number;
  readonly runs: number;
  readonly places: readonly (typeof PLACES)[number][];
}

export async function warmStarts(
  { device, address }: Joined,
  club: BenchClub,
  { slower, runs, places }: WarmStart,
): Promise<readonly Seen[]> {
  const found: Seen[] = [];
  for (const name of places) {
    const starts: { readonly start: StartSeen; readonly tasks: LongTasks }[] = [];
    for (let run = 0; run < runs; run += 1) {
      // While nobody looked.
      await club.append(gameOf(club, club.today));
      await club.stored();
      const [who] = club.pair;
      const page = await watchedPage(device, slower);
      await page.goto(`${address}${ADDRESSES[name]}`);
      const start = await startSeen(page, name === "members" ? [membersRow(club, who)] : []);
      starts.push({ start, tasks: await longTasks(page) });
      await leave(page);
    }
    const longest = starts.map(({ tasks }) => tasks.longest);
    const aims = { useful: 1_000, current: 5_000 } as const;
    for (const what of ["useful", "current"] as const) {
      const said = what === "useful" ? "first useful screen" : "everything current";
      const times = starts.map(({ start }) => start[what]);
      found.push(
        seen(`warm start at ${name}, ${said}`, times, longest, {
          aim: aims[what],
          slower,
          kind: `warm start, ${said}`,
        }),
      );
    }
    const many = starts.map(({ tasks }) => tasks.many);
    found.push(
      seen(`warm start at ${name}, longest task of the page's thread`, longest, longest, {
        aim: 50,
        slower,
        kind: "warm start, longest task of the page's thread",
        note: `longer than 50 ms: ${median(many)} of them, ${Math.min(...many)} to ${Math.max(...many)}`,
      }),
    );
  }
  return found;
}
