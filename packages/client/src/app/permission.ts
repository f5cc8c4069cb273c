/**
 * What this device may do in a book, asked before a button is offered. What it may not do is shown and explained, not hidden: a
 * person who cannot find a button thinks he has lost it. The book refuses all the same if a screen is wrong.
 */
import type { BookState, KeyId, Kind, Role } from "@sward/core";
import { mayMake } from "@sward/core";

/** What is asked of a book. */
export interface AskedBook {
  readonly device: KeyId;
  state(): Pick<BookState, "as" | "devices">;
}

export type OfficeHere = Role | "root" | "none" | "barred";

export function officeIn(book: AskedBook): OfficeHere {
  const device = book.state().devices.get(book.device);
  return device === undefined ? "none" : device.barred ? "barred" : device.role;
}

/** @param body what decides within a kind: a recorder may let a visitor join and not a member */
export function mayHere(book: AskedBook, kind: Kind, body: unknown = {}): boolean {
  const { as, devices } = book.state();
  const device = devices.get(book.device);
  if (as === null || device === undefined || device.barred) return false;
  const office = device.role === "root" && device.club !== null ? "club" : device.role;
  return mayMake({ kind, body }, office, as, device.club !== null) === "yes";
}

/** Whether this device may replace or take back what another one wrote. */
export function mayCorrectHere(book: AskedBook, author: KeyId): boolean {
  if (!mayHere(book, "entry-withdrawn")) return false;
  if (author === book.device) return true;
  const { devices } = book.state();
  const own = devices.get(book.device);
  if (own === undefined) return false;
  if (own.role === "root" && own.club === null) return true;
  if (own.role !== "handicapper" && own.role !== "root") return false;
  return own.club === null || own.club === devices.get(author)?.club;
}
