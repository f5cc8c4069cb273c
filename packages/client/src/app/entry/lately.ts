/**
 * What this device entered lately: shown above the form with undo, and offered as pairings for the next match. Read from the record,
 * so that it is all there again after the tablet slept; what was saved since the screen was opened comes first, in that order, since
 * the clock in entries counts seconds and orders nothing.
 */
import type { EntryId, Match, PlayerId, Report } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import type { ReadableBook } from "./reading.ts";

export interface Entered {
  readonly match: Match;
  readonly report: Report;
}

/** Standing reports of this device in this book, newest first. */
export function enteredLately(book: OwnBook, session: readonly EntryId[], most: number): readonly Entered[] {
  const places = new Map(session.map((entry, place) => [entry, place]));
  const place = (entry: EntryId): number => places.get(entry) ?? -1;
  const order = ({ report: a }: Entered, { report: b }: Entered): number =>
    place(b.entry) - place(a.entry) || byCodeUnits(b.at, a.at) || byCodeUnits(a.entry, b.entry);
  const looked = look(book);
  const { kept } = looked;
  const isKept = kept !== null && kept.most === most && isContinued(kept, session, looked.came);
  // What came since can only go before some of those that were the newest; one of them that went away makes room for an older one.
  const newest = isKept
    ? [...kept.newest, ...looked.came].sort(order).slice(0, most)
    : newestOf(looked.own, most, places, order);
  looked.came = [];
  looked.kept = { session, most, newest };
  return newest;
}

type Order = (a: Entered, b: Entered) => number;

/** The newest of thousands, without an order of all: what was entered last is most often what came last. */
function newestOf(
  all: Looked["own"],
  most: number,
  places: ReadonlyMap<EntryId, number>,
  order: Order,
): readonly Entered[] {
  const newest: Entered[] = [];
  for (let n = all.length - 1; n >= 0; n -= 1) {
    for (const one of all[n] ?? none) {
      const last = newest.length === most ? newest.at(-1) : undefined;
      // Nearly all are older than those that are there, and not of this session.
      if (last !== undefined && one.report.at < last.report.at && !places.has(one.report.entry)) continue;
      if (last !== undefined && order(one, last) >= 0) continue;
      const at = newest.findIndex((other) => order(one, other) < 0);
      newest.splice(at === -1 ? newest.length : at, 0, one);
      if (newest.length > most) newest.pop();
    }
  }
  return newest;
}

type OwnBook = Pick<ReadableBook, "state" | "device" | "id">;

/** What was found last time, and what it was found for. */
interface Kept {
  readonly session: readonly EntryId[];
  readonly most: number;
  readonly newest: readonly Entered[];
}

/** What was read last time; kept up in place. */
interface Looked {
  readonly by: OwnBook["device"];
  readonly matches: Match[];
  /** Of each match in its place. */
  readonly own: (readonly Entered[])[];
  /** Reports that came since the newest were looked for. */
  came: Entered[];
  /** Null when one of them has gone. */
  kept: Kept | null;
}

const lookedAt = new WeakMap<object, Looked>();
const none: readonly Entered[] = [];

/** What has been saved since is the last, and is among those that came or are there. */
function isContinued(
  { session: before, newest }: Kept,
  session: readonly EntryId[],
  came: readonly Entered[],
): boolean {
  return (
    before.every((entry, at) => session[at] === entry) &&
    session.slice(before.length).every((entry) => [...newest, ...came].some(({ report }) => report.entry === entry))
  );
}

/**
 * Every report of this device, looked for with each change of the record: so of the matches that are the same as before nothing is
 * read again, and nothing is made. A match is never changed; what changes makes another, in the same place, and new ones come last.
 */
function look(book: OwnBook): Looked {
  const now = book.state().matches;
  const known = lookedAt.get(now);
  const looked: Looked =
    known?.by === book.device ? known : { by: book.device, matches: [], own: [], came: [], kept: null };
  const { matches, own } = looked;
  let at = 0;
  const change = (gone: number, ...came: readonly Match[]): void => {
    const fresh = came.map((match) => reportsOf(match, book));
    const before = own.splice(at, gone, ...fresh).flat();
    matches.splice(at, gone, ...came);
    if (before.some((one) => looked.came.includes(one) || looked.kept?.newest.includes(one))) looked.kept = null;
    looked.came.push(...fresh.flat());
  };
  for (const match of now.values()) {
    // One that is gone leaves the others where they were, one after it.
    if (matches[at] !== match && matches[at + 1] === match) change(1);
    if (matches[at] !== match) change(1, match);
    at += 1;
  }
  change(matches.length - at);
  lookedAt.set(now, looked);
  return looked;
}

function reportsOf(match: Match, book: OwnBook): readonly Entered[] {
  const own = match.reports.filter(({ by, origin }) => by === book.device && origin === book.id);
  return own.length === 0 ? none : own.map((report) => ({ match, report }));
}

export type Pairing = readonly [readonly PlayerId[], readonly PlayerId[]];

/** The last different pairings, newest first; the side with one of `ours` comes first. */
export function lastPairings(
  entered: readonly Entered[],
  ours: (player: PlayerId) => boolean,
  most: number,
): readonly Pairing[] {
  const seen = new Set<string>();
  const pairings: Pairing[] = [];
  for (const { report } of entered) {
    const [one, two] = report.facts.sides.map((side) => side.map(({ player }) => player)) as [PlayerId[], PlayerId[]];
    const name = [one.join("+"), two.join("+")].join("v");
    if (seen.has(name)) continue;
    seen.add(name);
    pairings.push(!one.some(ours) && two.some(ours) ? [two, one] : [one, two]);
    if (pairings.length === most) break;
  }
  return pairings;
}
