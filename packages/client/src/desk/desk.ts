/**
 * A device's desk: its club's book and the leagues the club plays in, opened together, with what passes between them
 * (`carry.ts`) done as soon as it can be, with or without a network.
 */
import type { BookId, Day, Draft, EntryId } from "@sward/core";
import type { Book } from "../book/book.ts";
import { openMovingBook } from "../book/moving-book.ts";
import type { BookOptions } from "../book/options.ts";
import { draftsToCarry, draftsToState } from "./carry.ts";

export interface Desk {
  readonly club: Book;
  readonly leagues: readonly Book[];
  readonly books: ReadonlyMap<BookId, Book>;
  today(): Day;
  /** Called after a change in any book; returns the way to stop. */
  subscribe(listener: () => void): () => void;
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
  const listeners = new Set<() => void>();
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
      for (const league of leagues) {
        await saveOnce(club, draftsToCarry(clubSide(club), leagueSide(league)), carried);
        await saveOnce(league, draftsToState(club.state(), league.state(), options.club.clock.today()), carried);
      }
    });
    return carrying;
  }

  const stops = all.map((book) =>
    book.subscribe((touched) => {
      if (touched !== null) void carry().catch(() => undefined);
      for (const listener of listeners) listener();
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
      for (const listener of listeners) listener();
    },
    goOnline() {
      paused = false;
      for (const book of all) book.goOnline();
      for (const listener of listeners) listener();
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

/** A reader's device carries nothing, and one that may not write yet waits; another device of the club does it. */
async function saveOnce(book: Book, drafts: readonly Draft[], carried: Set<string>): Promise<void> {
  const fresh = drafts.filter((draft) => !carried.has(JSON.stringify([book.id, draft])));
  if (fresh.length === 0) return;
  const saved = await book.append(fresh);
  if (saved.ok) for (const draft of fresh) carried.add(JSON.stringify([book.id, draft]));
}

function clubSide(club: Book) {
  const copied = new Set<EntryId>();
  for (const { entry, origin } of club.counted()) if (origin !== club.id) copied.add(entry.id);
  const role = club.state().devices.get(club.device)?.role;
  return { state: club.state(), copied, decides: role === "root" || role === "handicapper" };
}

const leagueSide = (league: Book) => ({
  state: league.state(),
  counted: [...league.counted()],
  signed: league.signed,
  keyOf: league.keyOf,
});
