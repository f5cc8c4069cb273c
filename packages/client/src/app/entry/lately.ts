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
  const isBefore = ({ report: a }: Entered, { report: b }: Entered): boolean =>
    (place(b.entry) - place(a.entry) || byCodeUnits(b.at, a.at) || byCodeUnits(a.entry, b.entry)) < 0;
  // The newest of thousands, without an order of all: what was entered last is most often what came last.
  const newest: Entered[] = [];
  const own = ownReports(book);
  for (let n = own.length - 1; n >= 0; n -= 1) {
    const one = own[n] as Entered;
    const last = newest.length === most ? newest.at(-1) : undefined;
    // Nearly all are older than those that are there, and not of this session.
    if (last !== undefined && one.report.at < last.report.at && !places.has(one.report.entry)) continue;
    if (last !== undefined && !isBefore(one, last)) continue;
    const at = newest.findIndex((other) => isBefore(one, other));
    newest.splice(at === -1 ? newest.length : at, 0, one);
    if (newest.length > most) newest.pop();
  }
  return newest;
}

type OwnBook = Pick<ReadableBook, "state" | "device" | "id">;

/** What was read last time; kept up in place. */
interface Looked {
  readonly by: OwnBook["device"];
  readonly matches: Match[];
  /** Of each match in its place. */
  readonly own: (readonly Entered[])[];
  all: readonly Entered[];
}

const lookedAt = new WeakMap<object, Looked>();
const none: readonly Entered[] = [];

/**
 * Every report of this device, looked for with each change of the record: so of the matches that are the same as before nothing is
 * read again, and nothing is made. A match is never changed; what changes makes another, in the same place, and new ones come last.
 */
function ownReports(book: OwnBook): readonly Entered[] {
  const now = book.state().matches;
  const known = lookedAt.get(now);
  const looked: Looked = known?.by === book.device ? known : { by: book.device, matches: [], own: [], all: none };
  const { matches, own } = looked;
  let isSame = true;
  let at = 0;
  const change = (gone: number, ...came: readonly Match[]): void => {
    const before = own.splice(at, gone, ...came.map((match) => reportsOf(match, book)));
    matches.splice(at, gone, ...came);
    if ([...before, ...own.slice(at, at + came.length)].some(({ length }) => length > 0)) isSame = false;
  };
  for (const match of now.values()) {
    // One that is gone leaves the others where they were, one after it.
    if (matches[at] !== match && matches[at + 1] === match) change(1);
    if (matches[at] !== match) change(1, match);
    at += 1;
  }
  change(matches.length - at);
  if (!isSame) looked.all = own.flat();
  lookedAt.set(now, looked);
  return looked.all;
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
