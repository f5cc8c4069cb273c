/** What the page says of the largest book. */
import type { HeldBook } from "./big-book.ts";
import type { Aim } from "./report.ts";
import { ms, table } from "./tables.ts";

/** Bytes that an open book of a million may take. */
const MOST = 1_000_000_000;

const megabytes = (bytes: number): string => `${Math.round(bytes / 1_000_000).toLocaleString("en")} MB`;

/** @param where "Node" or a browser's name */
type Where = readonly [where: string, big: HeldBook | null | undefined];

const measuredOf = (all: readonly Where[]): (readonly [string, HeldBook])[] =>
  all.flatMap(([where, big]) => (big == null ? [] : [[where, big] as const]));

export function bigPart(all: readonly Where[]): string {
  const found = measuredOf(all);
  if (found.length === 0) return "";
  return `## The largest book

One run each: opened from a vault of its own that holds nothing else, then a game dated a year back is saved and both its cards are read
to their last line. Held is what is in memory after a collection while the book is open, the page or the process with all its own. Of the
documents in which entries travel none is loaded: a book of this size has rolled to a new volume long ago, and an open one holds the last
two, which are as large as one or two years of play. The longest task is of the page's thread.

${table(
  ["", "entries", "cards", "opened, ms", "game saved, ms", "held", "bytes an entry", "longest task, ms"],
  found.map(([where, { entries, cards, opened, saved, held, task }]) => [
    where,
    entries.toLocaleString("en"),
    cards.toLocaleString("en"),
    ms(opened),
    ms(saved),
    megabytes(held),
    Math.round(held / entries).toLocaleString("en"),
    task === null ? "" : task === 0 ? "under 50" : ms(task),
  ]),
)}

`;
}

export const bigAims = (all: readonly Where[]): Aim[] =>
  measuredOf(all).map(([where, { entries, held }]) => ({
    what: `a book of ${entries.toLocaleString("en")} held open, ${where}`,
    aim: megabytes(MOST),
    measured: megabytes(held),
    met: held <= MOST,
  }));
