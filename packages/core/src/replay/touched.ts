/** What taking entries in has changed, and what work it was: counted and not timed, so that a test can say that it does not grow. */
import type { MatchKey, PlayerId } from "../ids.ts";

/** What one `add` made again, or took away. */
export interface Touched {
  readonly matches: ReadonlySet<MatchKey>;
  readonly players: ReadonlySet<PlayerId>;
  readonly cost: Readonly<Cost>;
}

/** What work was done, counted in lines of cards: the same on every machine. */
export interface Cost {
  /** Folded again. */
  folded: number;
  /** Turned into numbers, from a match or a setting. */
  written: number;
  /** Made to be read: the fold needs none, a signature those it covers. */
  made: number;
  /** Hashed for signatures. */
  hashed: number;
}

export const nothingDone = (): Cost => ({ folded: 0, written: 0, made: 0, hashed: 0 });
