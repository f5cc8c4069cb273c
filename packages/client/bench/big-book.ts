/**
 * A book of a whole country: a million entries on some twenty thousand cards, opened from a device's own vault, and a game dated a year
 * back saved in it. The same under Node and in a page. What is asked is whether it can be held at all and whether anybody waits for it, so
 * its parts are not timed one by one; and its signatures are stand-ins, since a vault's entries were checked before they came into it.
 *
 * Of the documents in which entries travel none is loaded: a book of this size has rolled to a new volume long ago, and an open one holds
 * its last two (`book/volumes.ts`), whose size has nothing to do with the size of the book.
 */
import type { BookId, PlayerId } from "@sward/core";
import { openBook } from "../src/book/book.ts";
import type { Breathe } from "../src/book/breathing.ts";
import { KeptEntry } from "../src/book/kept-entry.ts";
import type { Vault } from "../src/book/vault.ts";
import { benchOptions } from "./options.ts";
import { benchSigners } from "./signed.ts";
import { benchBook } from "./world.ts";

/** As many games for each member as a season of a keen one. */
const GAMES_A_CARD = 50;
/** Entries in a record: as a vault writes them that has been put in order. */
const A_RECORD = 500;

export interface BigBook {
  readonly entries: number;
  readonly cards: number;
  /** Milliseconds until the state can be asked. */
  readonly opened: number;
  /** Milliseconds until the game is durable and in the state, and both cards were read to their last line. */
  readonly saved: number;
  /** Bytes of heap and buffers while it is open, after a collection. */
  readonly held: number;
}

export interface HeldBook extends BigBook {
  /** The longest task of a page's thread, milliseconds; 0 when none was longer than 50, null where there is no page. */
  readonly task: number | null;
}

/** Writes a book of that size into an empty vault. */
export async function fillVault(vault: Vault, size: number): Promise<void> {
  let record: KeptEntry[] = [];
  let clock = 0;
  const flush = async (): Promise<void> => {
    if (record.length === 0) return;
    await vault.append({ entries: record });
    record = [];
  };
  await benchBook(size, await benchSigners(), false, {
    members: Math.max(2, Math.round(size / GAMES_A_CARD)),
    async take({ jws }, { entry }) {
      record.push(KeptEntry.ofRead(entry, jws, { client: 1, clock: clock++ }));
      if (record.length === A_RECORD) await flush();
    },
  });
  await flush();
}

/** Opens it and saves a game. @param bytes that are held, asked while it is open */
export async function openBig(vault: Vault, breathe: Breathe, bytes: () => Promise<number>): Promise<BigBook> {
  const [root, device] = await benchSigners();
  if (root === undefined || device === undefined) throw new Error("two devices");
  const from = performance.now();
  const book = await openBook(benchOptions(root.id as string as BookId, device, { vault, breathe }));
  const { entries, cards } = book.state();
  const opened = performance.now() - from;
  const [one, two] = [...cards.keys()] as [PlayerId, PlayerId];
  const off = (player: PlayerId) => ({ player, off: cards.get(player)?.handicap ?? 0 });
  const last = cards.get(one)?.lines.at(-1)?.date ?? "2026-09-27";
  const date = `${Number(last.slice(0, 4)) - 1}${last.slice(4)}`;
  const before = performance.now();
  const saved = await book.append([
    {
      kind: "match-reported",
      body: {
        date,
        occasion: "club-competition",
        n: 41,
        play: "handicap",
        format: 13,
        sides: [[off(one)], [off(two)]],
        games: [{ score: [7, 2] }],
      },
    },
  ]);
  if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  for (const player of [one, two]) {
    const lines = book.state().cards.get(player)?.lines ?? [];
    if (!lines.some((line) => line.date === date && "match" in line)) throw new Error("the game is on no card");
  }
  const took = performance.now() - before;
  const held = await bytes();
  await book.close();
  return { entries, cards: cards.size, opened, saved: took, held };
}
