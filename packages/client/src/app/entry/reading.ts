/**
 * What the pure models read of a desk: states and names, nothing that writes. The real desk fits it, and so does a book in memory
 * in a test; a model that were handed the desk could save.
 */
import type { BookId, KeyId } from "@sward/core";
import type { Book } from "../../book/book.ts";
import type { RosterRecord, RosterSubject } from "../../book/roster.ts";

export interface ReadableBook extends Pick<Book, "state" | "counted"> {
  readonly id: BookId;
  readonly device: KeyId;
  readonly roster: { get(about: RosterSubject): RosterRecord | undefined };
}

export interface ReadableDesk {
  readonly club: ReadableBook;
  readonly leagues: readonly ReadableBook[];
}
