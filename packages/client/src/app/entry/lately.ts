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
export function enteredLately(
  book: Pick<ReadableBook, "state" | "device" | "id">,
  session: readonly EntryId[],
  most: number,
): readonly Entered[] {
  const mine: Entered[] = [];
  for (const match of book.state().matches.values()) {
    for (const report of match.reports) {
      if (report.by === book.device && report.origin === book.id) mine.push({ match, report });
    }
  }
  const place = (entry: EntryId): number => session.lastIndexOf(entry);
  mine.sort(
    ({ report: a }, { report: b }) =>
      place(b.entry) - place(a.entry) || byCodeUnits(b.at, a.at) || byCodeUnits(a.entry, b.entry),
  );
  return mine.slice(0, most);
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
