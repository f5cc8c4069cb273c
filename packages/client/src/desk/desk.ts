/**
 * A device's desk: its club's book and the leagues the club plays in, opened together, with what passes between them
 * (`carrying.ts`) done as soon as it can be, with or without a network.
 */
import type { BookId, Day } from "@sward/core";
import type { Book } from "../book/book.ts";
import { openMovingBook } from "../book/moving-book.ts";
import type { BookOptions } from "../book/options.ts";

/** Told whether the record itself may say something else, or only what is known round it: what is stored where, a name, a connection. */
export type DeskListener = (record: boolean) => void;

export interface Desk {
  readonly club: Book;
  readonly leagues: readonly Book[];
  readonly books: ReadonlyMap<BookId, Book>;
  today(): Day;
  /** Called after a change in any book; returns the way to stop. */
  subscribe(listener: DeskListener): () => void;
  goOffline(): void;
  goOnline(): void;
  isPaused(): boolean;
  /** Resolves when nothing is left to take in or to carry. */
  settled(): Promise<void>;
  close(): Promise<void>;
}

export interface DeskOptions {
  readonly club: BookOptions;
  readonly leagues: readonly BookOptions[];
}

export async function openDesk(options: DeskOptions): Promise<Desk> {
  const club = await openMovingBook(options.club);
  const leagues: Book[] = [];
  for (const league of options.leagues) leagues.push(await openMovingBook(league));
  const all = [club, ...leagues];
  const listeners = new Set<DeskListener>();
  let paused = false;
  let carrying: Promise<void> = Promise.resolve();
  let asked = false;
  /** What this desk has carried: should a copy not count, carrying it again would not make it count. */
  const carried = new Set<string>();

  /** Once at a time, and once more when something changed meanwhile. */
  function carry(): Promise<void> {
    if (asked) return carrying;
    asked = true;
    carrying = carrying.then(async () => {
      asked = false;
      if (leagues.length === 0) return;
      // Few devices are in a league. Where the script cannot be had for now, the next change asks again.
      const script = await import("./carrying.ts").catch(() => null);
      await script?.carryBetween({ club, leagues, today: options.club.clock.today(), carried });
    });
    return carrying;
  }

  const stops = all.map((book) =>
    book.subscribe((touched) => {
      if (touched !== null) void carry().catch(() => undefined);
      for (const listener of listeners) listener(touched !== null);
    }),
  );
  await carry();

  return {
    club,
    leagues,
    books: new Map(all.map((book) => [book.id, book])),
    today: () => options.club.clock.today(),
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    goOffline() {
      paused = true;
      for (const book of all) book.goOffline();
      for (const listener of listeners) listener(true);
    },
    goOnline() {
      paused = false;
      for (const book of all) book.goOnline();
      for (const listener of listeners) listener(true);
    },
    isPaused: () => paused,
    async settled() {
      for (const book of all) await book.settled();
      await carry();
      for (const book of all) await book.settled();
    },
    async close() {
      for (const stop of stops) stop();
      await carrying.catch(() => undefined);
      for (const book of all) await book.close();
    },
  };
}
