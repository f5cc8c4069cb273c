/**
 * A game dated a year back, in a book of many years: how long until each screen shows it right. Saved here, by the press of Save and by
 * the press of Undo with the screen open; and saved on another device, from the message of the relay. A screen that is opened after it is
 * right from its first frame; what the game adds to that is told beside the same opening with nothing saved before.
 */
import type { Draft, MatchReported, PlayerId } from "@sward/core";
import { standsAt } from "@sward/core";
import type { Seen } from "../../../packages/client/bench/browser-figures.ts";
import { seen } from "../../../packages/client/bench/browser-figures.ts";
import { median } from "../../../packages/client/bench/measure.ts";
import { number } from "../../../packages/client/src/app/words.ts";
import { BARE, barePress } from "./bare-press.ts";
import type { BenchClub, Member } from "./club.ts";
import type { Thing } from "./hand.ts";
import { fill, press } from "./hand.ts";
import type { Joined } from "./starts.ts";
import type { UnheardPage } from "./unheard-page.ts";
import type { Sight, Took } from "./watch.ts";
import { startSeen, tookUntil, watchedPage } from "./watch.ts";

/** Milliseconds from end to end, on a phone. */
const AIM = 50;

const ENTRY: Thing = { selector: ".tab-entry a" };
const SAVE: Thing = { selector: ".sheet-form [type=submit]" };
const UNDO: Thing = { selector: ".saved-bar button", has: "Undo" };

/** The page is left alone for so long between two games. */
const BETWEEN_MS = 1_000;

let count = 0;

/** A game of the pair on that day, a number of its own each time. */
export function gameOf({ pair, card }: BenchClub, date: string): Draft & { readonly body: MatchReported } {
  count += 1;
  const [one, two] = pair;
  const off = ({ player }: Member): { player: PlayerId; off: number } => ({ player, off: card(player).handicap });
  const body: MatchReported = {
    date,
    occasion: "club-competition",
    n: count,
    play: "handicap",
    format: 13,
    sides: [[off(one)], [off(two)]],
    games: [{ score: [7, 2] }],
  };
  return { kind: "match-reported", body };
}

export const membersRow = ({ card }: Pick<BenchClub, "card">, { player, name }: Member): Sight => ({
  selector: "table.roll tbody tr[aria-rowindex]",
  has: [name, number(card(player).index)],
});

/** What the three screens say of one of the pair by now. */
function sightsOf(club: BenchClub): Readonly<Record<"card" | "members" | "to do", readonly Sight[]>> {
  const [who] = club.pair;
  const card = club.card(who.player);
  const touched = card.signatures.find(({ standing }) => standing === "touched");
  const now = touched === undefined ? null : standsAt(card, touched.upto);
  const matter = 'section[aria-labelledby="group-looked-at-again"] .matter';
  return {
    card: [{ selector: ".card-front .card-index-value", has: [number(card.index)] }],
    members: club.pair.map((one) => membersRow(club, one)),
    "to do":
      now === null
        ? [{ selector: matter, has: [who.name], none: true }]
        : [{ selector: matter, has: [who.name, `index ${number(now.index)}`] }],
  };
}

type Sights = ReturnType<typeof sightsOf>;

/** That a screen is there, whatever it says. */
const THERE: Readonly<Record<keyof Sights, Sight>> = {
  card: { selector: ".card-front .card-index-value", has: [] },
  members: { selector: "table.roll tbody tr[aria-rowindex]", has: [] },
  "to do": { selector: "main .matter", has: [] },
};

export const SCREENS = ["card", "members", "to do"] as const;

export interface LateGame {
  readonly slower: number;
  readonly runs: number;
  readonly screens: readonly (typeof SCREENS)[number][];
}

export async function lateGame({ device, address }: Joined, club: BenchClub, how: LateGame): Promise<readonly Seen[]> {
  const { slower, runs, screens } = how;
  const day = `${Number(club.today.slice(0, 4)) - 1}${club.today.slice(4)}`.replace("02-29", "02-28");
  const without = sightsOf(club);
  const undo = await saveElsewhere(club, gameOf(club, day));
  const with_ = sightsOf(club);
  await undo();
  for (const screen of screens)
    if (JSON.stringify(without[screen]) === JSON.stringify(with_[screen]))
      throw new Error(`${screen}: a late game changes nothing`);
  const page = await watchedPage(device, slower);
  await page.goto(address);
  await startSeen(page, []);
  const found: Seen[] = [];
  const bare = await barePress(page);
  for (const screen of screens) {
    const times = {
      bare: [] as number[],
      usual: [] as Took[],
      save: [] as Took[],
      open: [] as Took[],
      undo: [] as Took[],
      came: [] as Took[],
      went: [] as Took[],
    };
    for (let run = 0; run < runs; run += 1) {
      const way = await wayTo(page, address, club, screen);
      await press(page, ENTRY);
      await startSeen(page, [], BETWEEN_MS);
      times.bare.push(await bare());
      times.usual.push(await tookUntil(page, "press", [THERE[screen]], () => press(page, way)));
      await fillIn(page, club, day);
      const saved = [{ selector: ".saved-bar", has: ["Saved: "] }];
      times.save.push(await tookUntil(page, "press", saved, () => press(page, SAVE)));
      times.open.push(await tookUntil(page, "press", with_[screen], () => press(page, way)));
      times.undo.push(await tookUntil(page, "press", without[screen], () => press(page, UNDO)));
      await startSeen(page, [], BETWEEN_MS);
      let away = async (): Promise<void> => undefined;
      const come = async (): Promise<void> => {
        away = await saveElsewhere(club, gameOf(club, day));
      };
      times.came.push(await tookUntil(page, "message", with_[screen], come));
      await startSeen(page, [], BETWEEN_MS);
      times.went.push(await tookUntil(page, "message", without[screen], () => away()));
      await startSeen(page, [], BETWEEN_MS);
    }
    const bareMs = median(times.bare);
    const beside = (took: readonly Took[]): string =>
      `${(median(took.map(({ ms }) => ms)) / bareMs).toFixed(2)} x ${bareMs.toFixed(0)} ms, ${BARE}`;
    const say = (what: string, took: readonly Took[], kind: string | null): Seen =>
      seen(
        what,
        took.map(({ ms }) => ms),
        took.map(({ longest }) => longest),
        {
          aim: kind === null ? null : AIM,
          slower,
          kind: kind ?? what,
          work: median(took.map(({ work }) => work)),
          // Not its floor in the aims, which are milliseconds whatever the page takes for nothing.
          note: kind === null ? "" : beside(took),
        },
      );
    const added = seen(
      `late game: what it adds to opening ${screen}`,
      times.open.map(({ ms }, run) => Math.max(0, ms - times.usual[run]!.ms)),
      [],
      { aim: AIM, slower, kind: "what a late game adds to opening a screen" },
    );
    found.push(
      say(`late game: Save, until it is said to be saved (before ${screen})`, times.save, "a late game saved here"),
      say(`${screen} opened, nothing saved before`, times.usual, null),
      say(`late game: ${screen} opened after it, until right`, times.open, null),
      added,
      say(`late game: Undo with ${screen} open, until right`, times.undo, "a late game taken back here"),
      say(`late game from another device, ${screen} open, until right`, times.came, "a late game from another device"),
      say(
        `late game taken back on another device, ${screen} open, until right`,
        times.went,
        "a late game from another device",
      ),
    );
  }
  await page.close();
  return found;
}

/** Saves it as the root; resolves with the way to take it back. */
async function saveElsewhere(club: BenchClub, draft: Draft): Promise<() => Promise<void>> {
  const saved = await club.root.append([draft]);
  if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  const withdraws = saved.value[0]!;
  return () => club.append({ kind: "entry-withdrawn", body: { withdraws, reason: "measured" } });
}

async function fillIn(page: UnheardPage, { pair }: BenchClub, day: string): Promise<void> {
  await press(page, ENTRY);
  const field = (name: string) => `[data-field="${name}"]`;
  await fill(page, field("date"), day);
  await fill(page, field("occasion"), "club-competition");
  for (const [seat, { name }] of [
    [0, pair[0]],
    [2, pair[1]],
  ] as const) {
    await fill(page, field(`player-${seat}`), name);
    await press(page, { selector: "[role=option]", has: name });
  }
  await fill(page, field("score-0-0"), "7");
  await fill(page, field("score-0-1"), "2");
}

/** What somebody presses who wants to see it. That of the card is put into the page, outside of what the app draws. */
async function wayTo(page: UnheardPage, address: string, { pair }: BenchClub, screen: keyof Sights): Promise<Thing> {
  if (screen !== "card") return { selector: screen === "members" ? ".tab-members a" : ".tab-attention a" };
  await page.run(putWay, `${address}members/${pair[0].player}`);
  return { selector: "#way" };
}

/** Runs in the page. */
function putWay(to: string): void {
  if (document.getElementById("way") !== null) return;
  const link = document.createElement("a");
  Object.assign(link, { id: "way", href: to, textContent: "card" });
  link.style.cssText = "position: fixed; top: 0; left: 0";
  document.body.append(link);
}
