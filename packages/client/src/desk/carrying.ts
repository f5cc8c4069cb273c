/**
 * What passes between a club's book and those of its leagues (`carry.ts`), saved in each. Fetched where there is a league: the first
 * screen waits for its script, and most devices have none.
 */
import type { Day, Draft, EntryId } from "@sward/core";
import type { Book } from "../book/book.ts";
import { draftsToCarry, draftsToState } from "./carry.ts";

export interface Carrying {
  readonly club: Book;
  readonly leagues: readonly Book[];
  readonly today: Day;
  /** What this desk has carried: should a copy not count, carrying it again would not make it count. */
  readonly carried: Set<string>;
}

export async function carryBetween({ club, leagues, today, carried }: Carrying): Promise<void> {
  for (const league of leagues) {
    await saveOnce(club, draftsToCarry(clubSide(club), leagueSide(league)), carried);
    await saveOnce(league, draftsToState(club.state(), league.state(), today), carried);
  }
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
