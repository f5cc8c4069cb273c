/**
 * The page of the benches: every stage of a start, alone, in a real browser with its own storage, curves and layout. Whoever opened the
 * page calls one at a time, so that a stage a browser cannot do takes nothing else along.
 */
import { benchBare } from "./browser-bare.ts";
import { fillBigHere, openBigHere } from "./browser-big.ts";
import { fetchBook } from "./browser-book.ts";
import { benchRender } from "./browser-render.ts";
import { benchStages } from "./browser-stages.ts";
import { benchStart, coldStartHere, fillStartHere } from "./browser-start.ts";
import { benchReplay } from "./replay.ts";

const page = {
  /** Stages of a start and a first join end to end, of the book that is served. */
  async entries(runs: number) {
    const book = await fetchBook();
    const stages = await benchStages(book, runs);
    return [...stages, ...(await benchStart(book, stages, runs))];
  },
  /** Puts the book that is served into this browser's storage. */
  fillStart: async () => fillStartHere(await fetchBook()),
  /** Starts with it. */
  coldStart: (size: number, runs: number) => coldStartHere(size, runs),
  /** Reports to matches, matches to cards. */
  games: (size: number, runs: number) => benchReplay(size, runs),
  /** A list of members and a card, drawn. */
  render: (size: number, runs: number) => benchRender(size, runs),
  /** Milliseconds for the bare signatures of the book that is served. */
  bare: async () => benchBare(await fetchBook()),
  /** Puts a book of that size into this browser's storage. */
  fillBig: (size: number) => fillBigHere(size),
  /** Opens it. */
  openBig: (bytes: () => Promise<number>) => openBigHere(bytes),
};
export type BenchPage = typeof page;

Object.assign(globalThis, { benchPage: page });
