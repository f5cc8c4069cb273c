/** Barring a device: whether this one may, and at which of its entries. */
import type { BookState, Entry, EntryId, KeyId, KnownEntry, Uncounted } from "@sward/core";
import { byNumber } from "@sward/core";
import { recallEntries } from "../../book/recall.ts";
import type { HeldEntry } from "../../book/vault.ts";
import type { AskedBook } from "../permission.ts";
import { mayHere } from "../permission.ts";

/** What stands in the way; "words": the club's key is needed, which is words on paper. */
export type BarringHere = "may" | "words" | "itself" | "root" | "barred" | "role-may-not" | "other-club";

/** Mirrors core's `mayBar`, which the book goes by in any case. */
export function barringHere(book: AskedBook, device: KeyId): BarringHere {
  const { devices } = book.state();
  const [own, other] = [devices.get(book.device), devices.get(device)];
  if (other?.barred === true) return "barred";
  if (device === book.device) return "itself";
  if (own === undefined || !mayHere(book, "device-barred")) return "role-may-not";
  if (other === undefined) return "may";
  const isClubs = other.role === "root" && other.club !== null;
  if (own.role === "root" && own.club === null) return other.role === "root" && !isClubs ? "root" : "may";
  if (own.club !== null && own.club !== other.club) return "other-club";
  if (other.role === "root") return isClubs ? "words" : "root";
  if (other.role === "handicapper") return own.role === "root" ? "may" : "words";
  return "may";
}

/** The last entry that still counts, and how many of those here come after it. */
export interface Cut {
  /** Null: nothing of the device counts. */
  readonly last: { readonly seq: number; readonly id: EntryId } | null;
  readonly entry: KnownEntry | null;
  readonly after: number;
}

/** Reasons for which an entry is no part of what its author's chain counts up to. */
const outside: ReadonlySet<Uncounted | undefined> = new Set<Uncounted>([
  "forked",
  "after-bar",
  "waiting-for-earlier",
  "not-admitted",
  "wrong-book",
]);

/** A device's entries as far as they may count, the first written first. Reads everything that is held: for when somebody asks. */
export function chainOf(
  held: Iterable<HeldEntry>,
  { uncounted }: Pick<BookState, "uncounted">,
  device: KeyId,
): readonly Entry[] {
  return [...recallEntries(held).values()]
    .filter(({ author, id }) => author === device && !outside.has(uncounted.get(id)))
    .sort((a, b) => byNumber(a.seq, b.seq));
}

/** Where it may be cut, the newest first; `most` of its entries, and nothing at all. */
export function cutsOf(chain: readonly Entry[], most: number): readonly Cut[] {
  const newest = [...chain].reverse().slice(0, most);
  const cuts = newest.map(({ seq, id }, after): Cut => {
    const entry = chain[chain.length - 1 - after];
    return { last: { seq, id }, entry: entry?.understood === true ? entry : null, after };
  });
  return [...cuts, { last: null, entry: null, after: chain.length }];
}
