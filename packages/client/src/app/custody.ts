/** What an entry, or a match, has reached: this device only, or the relay too. */
import type { EntryId, Match } from "@sward/core";
import type { Custody } from "../book/book.ts";

export interface Custodian {
  custody(id: EntryId): Custody | null;
}

/** Of whichever book holds the entry itself; null when it came here inside another one. */
export function custodyOf(books: Iterable<Custodian>, entry: EntryId): Custody | null {
  for (const book of books) {
    const custody = book.custody(entry);
    if (custody !== null) return custody;
  }
  return null;
}

/** A match is at the relay when all its reports are. */
export function custodyOfMatch(books: readonly Custodian[], match: Pick<Match, "reports"> | undefined): Custody | null {
  let found: Custody | null = null;
  for (const { entry } of match?.reports ?? []) {
    const custody = custodyOf(books, entry);
    if (custody === "here") return "here";
    found ??= custody;
  }
  return found;
}
