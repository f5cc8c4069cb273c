/**
 * What is wrong with this device itself rather than with the record: its storage, its key, and its way to the relay. Found anew from
 * how the books stand, like everything else that needs attention; the same trouble of several books is one matter. Pure.
 */
import type { BookId, Day } from "@sward/core";
import type { Book } from "../../book/book.ts";
import type { StorageTrouble } from "../../book/holdings.ts";
import type { Connection } from "../../wire/connection.ts";
import { daysBetween } from "../dates.ts";

export type TroubledBook = Pick<Book, "id" | "trouble" | "halted" | "connection" | "waiting">;

type Refused = Extract<Connection, { readonly type: "refused" }>;

export type TroubleMatter =
  | { readonly about: "storage-trouble"; readonly book: BookId; readonly trouble: StorageTrouble }
  /** The device may not write for now; a chain that has forked is a question of the record, and asked there. */
  | { readonly about: "may-not-write"; readonly book: BookId; readonly why: "not-caught-up" | "used-elsewhere" }
  | { readonly about: "relay-refuses"; readonly book: BookId; readonly connection: Refused }
  /** Entries wait, and the relay was not met for so many days; null when it never was. */
  | { readonly about: "not-met"; readonly waiting: number; readonly days: number | null };

/** So many days without the relay are ordinary for a club without a signal at its lawns. */
export const DAYS_UNMET = 3;

/** @param met day on which the relay was last met, null when it never was */
export function troublesOf(books: readonly TroubledBook[], met: Day | null, today: Day): readonly TroubleMatter[] {
  const found = new Map<string, TroubleMatter>();
  const note = (key: string, matter: TroubleMatter): void => {
    if (!found.has(key)) found.set(key, matter);
  };
  for (const book of books) {
    const trouble = book.trouble();
    if (trouble !== null) note(`storage ${trouble.during}`, { about: "storage-trouble", book: book.id, trouble });
    const halted = book.halted();
    if (halted?.type === "used-elsewhere" || halted?.type === "not-caught-up") {
      note(halted.type, { about: "may-not-write", book: book.id, why: halted.type });
    }
    const connection = book.connection();
    if (connection.type === "refused") {
      note(`refused ${connection.code}`, { about: "relay-refuses", book: book.id, connection });
    }
  }
  const unmet = notMet(books, met, today);
  return unmet === null ? [...found.values()] : [...found.values(), unmet];
}

function notMet(books: readonly TroubledBook[], met: Day | null, today: Day): TroubleMatter | null {
  const waiting = books.reduce((sum, book) => sum + book.waiting(), 0);
  if (waiting === 0 || books.every(isUnderWay)) return null;
  const days = met === null ? null : daysBetween(met, today);
  return days !== null && days < DAYS_UNMET ? null : { about: "not-met", waiting, days };
}

/** Live, or at its first try: nothing is late yet. */
function isUnderWay(book: TroubledBook): boolean {
  const connection = book.connection();
  return connection.type === "live" || (connection.type === "connecting" && connection.fault === null);
}
