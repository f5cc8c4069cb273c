/**
 * What the models of visitors and links read of a desk: states, entries and names, nothing that writes. The real desk fits it, and so
 * does a book in memory in a test.
 */
import type { BookId, BookState, PlayerId } from "@sward/core";
import type { Book } from "../../book/book.ts";
import type { NamedBook } from "../names.ts";

export interface VisitedBook extends Pick<Book, "state" | "counted" | "entries" | "device">, NamedBook {
  readonly id: BookId;
  state(): BookState;
}

export interface VisitedDesk {
  readonly club: VisitedBook;
  readonly leagues: readonly VisitedBook[];
}

/** The id a person goes by in a book, for any of the person's ids; null for one the book does not know. */
export function knownAs({ players }: Pick<BookState, "players">, id: PlayerId): PlayerId | null {
  if (players.has(id)) return id;
  for (const { player, alsoKnownAs } of players.values()) if (alsoKnownAs.includes(id)) return player;
  return null;
}
