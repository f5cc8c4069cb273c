/**
 * The entries of a book that count, as they are handed out. Games are nearly all there is of a record of ten years, and nobody who asks
 * for something else (proposals, links, what was taken back) is made to read them: those others are kept in a list of their own.
 * Rejected: a list for each kind (of the many kinds all but one have a handful).
 */
import type { BookId } from "../ids.ts";
import type { KnownEntry } from "../ledger/entry.ts";
import type { Kind } from "../ledger/kinds.ts";

/** An entry that counts, and the book it was written in. */
export interface Counted {
  readonly entry: KnownEntry;
  readonly origin: BookId;
}

/** All of them, in no particular order. */
export interface CountedEntries extends Iterable<Counted> {
  /** Those of some kinds. */
  of(kinds: ReadonlySet<Kind>): Iterable<Counted>;
}

/** What nearly all entries are. */
export const GAME = "match-reported" satisfies Kind;

const withBook = (entry: KnownEntry): Counted => ({ entry, origin: entry.book });

/** @param beside those that are no games, and any others that come with them */
export const countedEntries = (
  all: () => Iterable<KnownEntry>,
  beside: () => Iterable<KnownEntry>,
): CountedEntries => ({
  *[Symbol.iterator]() {
    for (const entry of all()) yield withBook(entry);
  },
  *of(kinds) {
    for (const entry of kinds.has(GAME) ? all() : beside()) if (kinds.has(entry.kind)) yield withBook(entry);
  },
});
