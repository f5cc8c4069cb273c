/** A club's book in memory with members by their first names: real keys, real entries, no storage and no network. */

import type { Book } from "@sward/client";
import {
  createMemoryDocStore,
  createMemoryVault,
  createSigner,
  ENTRIES_PER_BLOCK,
  openBook,
  randomId,
  systemRandom,
} from "@sward/client";
import type { BookId, Draft, EntryId, MatchReported, PlayerId } from "@sward/core";

export const TODAY = "2031-06-14";

export interface MemoryClub {
  readonly book: Book;
  readonly desk: { readonly club: Book; readonly leagues: readonly Book[] };
  readonly today: string;
  /** By first name. @throws when there is no such person */
  id(first: string): PlayerId;
  /** Saves drafts. @throws when they are refused */
  save(...drafts: Draft[]): Promise<readonly EntryId[]>;
}

export interface MemberSpec {
  readonly name: string;
  readonly handicap: number;
  readonly index?: number;
  readonly visitor?: string;
}

export async function clubInMemory(
  members: readonly MemberSpec[],
  { rules = "england-2016", today = TODAY, leagues = [] as readonly Book[] } = {},
): Promise<MemoryClub> {
  const root = await createSigner(systemRandom(32));
  const book = await openBook({
    book: root.id as string as BookId,
    device: root,
    epochs: [{ epoch: 1, secret: systemRandom(32) }],
    vault: createMemoryVault(),
    ledgerStore: createMemoryDocStore(),
    rosterStore: createMemoryDocStore(),
    relay: null,
    clock: { today: () => today, timestamp: () => `${today}T12:00:00Z` },
    randomBytes: systemRandom,
    entriesPerBlock: ENTRIES_PER_BLOCK,
  });
  const ids = new Map<string, PlayerId>();
  const save = async (...drafts: Draft[]): Promise<readonly EntryId[]> => {
    const saved = await book.append(drafts);
    if (!saved.ok) throw new Error(`not saved: ${JSON.stringify(saved.fault)}`);
    return saved.value;
  };
  await save({ kind: "book-opened", body: { root: root.key, as: "club", name: "Larkhill" } });
  await save({ kind: "rules-adopted", body: { rules, from: "2020-01-01" } });
  for (const { name, handicap, index, visitor } of members) {
    const player = randomId() as PlayerId;
    ids.set(name.split(" ")[0]!, player);
    if (visitor === undefined) {
      const set = { player, handicap, from: "2030-01-01", basis: "initial", reason: "start" } as const;
      await save(
        { kind: "player-joined", body: { player, standing: "member" } },
        { kind: "handicap-set", body: index === undefined ? set : { ...set, index } },
      );
    } else {
      await save({ kind: "player-joined", body: { player, standing: "visitor", home: { club: visitor } } });
    }
    await book.roster.write(new Map([[player, { name, short: shortOf(name) }]]));
  }
  const id = (first: string): PlayerId => {
    const found = ids.get(first);
    if (found === undefined) throw new Error(`nobody is called ${first}`);
    return found;
  };
  return { book, desk: { club: book, leagues }, today, id, save };
}

const shortOf = (name: string): string => name.replace(/ (\S)\S*$/, " $1");

/** A 13-point club competition game of handicap play on TODAY, unless said otherwise. */
export function report(
  own: readonly (readonly [PlayerId, number])[],
  opponents: readonly (readonly [PlayerId, number])[],
  score: readonly [number, number],
  change: Partial<MatchReported> = {},
): Extract<Draft, { kind: "match-reported" }> {
  const side = (seats: typeof own) => seats.map(([player, off]) => ({ player, off }));
  return {
    kind: "match-reported",
    body: {
      date: TODAY,
      occasion: "club-competition",
      n: 1,
      play: "handicap",
      format: 13,
      sides: [side(own), side(opponents)],
      games: [{ score: [score[0], score[1]] }],
      ...change,
    },
  };
}
