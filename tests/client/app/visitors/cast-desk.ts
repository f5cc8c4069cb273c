/** A desk over the cast's books, for the models of visitors: names are the cast's own, unless a test says otherwise. */
import type { PlayerId } from "@sward/core";
import type { VisitedBook, VisitedDesk } from "../../../../packages/client/src/app/visitors/visited-desk.ts";
import type { Book, Pen } from "../../../support/cast.ts";
import { player } from "../../../support/cast.ts";

export type Names = Readonly<Record<string, string>>;

export function seen(book: Book, pen: Pen, names: Names = {}): VisitedBook {
  const named = new Map(Object.entries(names).map(([key, name]) => [player(key) as string, name]));
  return {
    id: book.id,
    device: pen.id,
    state: () => book.state(),
    counted: () => book.ledger().counted(),
    entries: () => book.written.map(({ id, jws, entry }) => ({ id, jws, understood: entry.understood, place: null })),
    roster: {
      get(about) {
        const name = named.get(about);
        return name === undefined ? undefined : { name, short: name };
      },
    },
  };
}

export const deskOf = (club: VisitedBook, ...leagues: VisitedBook[]): VisitedDesk => ({ club, leagues });

export const nameIn =
  ({ club, leagues }: VisitedDesk) =>
  (id: PlayerId): string | undefined =>
    [club, ...leagues].map(({ roster }) => roster.get(id)?.name).find((name) => name !== undefined);
