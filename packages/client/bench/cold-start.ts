/**
 * A device that has everything starts again: opened from its storage, read by a first screen, taken in to its end. It is measured where
 * nothing else is in memory, in a process or a page of its own, since that is what a start is; and so are the floors of its stages, one
 * after another, on the same bytes. A stage's floor is the one that stands beside it in the table.
 *
 * Rejected: measuring it among the stages (what they hold is gone through again by every collection, ours and the floors').
 */
import type { BookId } from "@sward/core";
import * as Y from "yjs";
import { openBook } from "../src/book/book.ts";
import type { BookOptions } from "../src/book/options.ts";
import type { Signer } from "../src/keys/signer.ts";
import type { Figure } from "./measure.ts";
import { figure, median, timed } from "./measure.ts";
import { benchOptions } from "./options.ts";
import { benchReplay } from "./replay.ts";
import { benchSigners } from "./signed.ts";

export interface ColdStart {
  /** Milliseconds of each. */
  readonly times: readonly number[];
  /** Milliseconds of the very first one in its process or page, whose code had not run before. */
  readonly first: number;
  /** Milliseconds: the sum of its stages' floors, each a median. */
  readonly floor: number;
}

export interface ColdStores {
  open(): Promise<Pick<BookOptions, "vault" | "ledgerStore">>;
  /** The same bytes as the vault has, read by the platform in one go and parsed. */
  bareVault(): Promise<unknown>;
  /** The same bytes as the document's store has, read by the platform in one go. */
  bareDocument(): Promise<unknown>;
}

/** Of the replay's stages: a start puts every game into its match and folds every card. */
const REPLAYED: ReadonlySet<string> = new Set(["reconcile", "write and fold"]);

/**
 * Starts that are not counted read so many entries in all, and are four at least: floors are the platform's own code, which is always
 * warm. What it costs that ours is not is a row of its own, and part of every figure of the built app.
 */
const WARMING = { entries: 40_000, starts: 4 };

const nothing = (): void => undefined;

/** @param stores hold a book of `size` entries, as `signedBook` makes it */
export async function coldStart(size: number, runs: number, stores: ColdStores): Promise<ColdStart> {
  const root = (await benchSigners())[0] as Signer;
  const start = async (): Promise<void> => {
    const book = await openBook(benchOptions(root.id as string as BookId, root, await stores.open()));
    const { cards, entries, questions } = book.state();
    if (entries !== size || cards.size === 0 || questions.length < 0)
      throw new Error(`${entries} of ${size} entries are there`);
    await book.settled();
    await book.close();
  };
  const [first = Number.NaN] = await timed(1, nothing, start);
  for (let n = 1; n < WARMING.starts || n * size < WARMING.entries; n += 1) await start();
  const times = await timed(runs, nothing, start);
  const { update, ids } = await contentsOf(stores);
  const floors = [
    await timed(runs, nothing, stores.bareVault),
    await timed(runs, nothing, stores.bareDocument),
    await timed(runs, nothing, () => Y.applyUpdate(new Y.Doc(), update)),
    await timed(runs, nothing, () => new Map(ids.map((id) => [id, ids]))),
  ];
  const replayed = (await benchReplay(size, runs)).filter(({ what }) => REPLAYED.has(what));
  if (replayed.length !== REPLAYED.size) throw new Error(`floors of ${[...REPLAYED].join(", ")}`);
  const sum = (values: readonly number[]): number => values.reduce((all, one) => all + one, 0);
  return {
    times,
    first,
    floor: sum([...floors.map(median), ...replayed.map(({ floor }) => floor?.value ?? Number.NaN)]),
  };
}

export function coldFigures(size: number, { times, first, floor }: ColdStart): Figure[] {
  const floors = { what: "sum of its stages' floors", times: [floor] };
  return [
    figure("cold start, end to end", times, { size, floor: floors, aim: "2 x" }),
    figure("the very first cold start", [first], { size, floor: floors }),
  ];
}

async function contentsOf(stores: ColdStores) {
  const { vault, ledgerStore } = await stores.open();
  const doc = new Y.Doc();
  await ledgerStore.attach(doc);
  const update = Y.encodeStateAsUpdate(doc);
  const ids = (await vault.load()).flatMap(({ entries }) => entries.map(({ id }) => id));
  await ledgerStore.close();
  await vault.close();
  return { update, ids };
}
