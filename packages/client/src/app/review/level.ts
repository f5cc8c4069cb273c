/**
 * Level play against expectation. What a rule set expects of two handicaps is the curve its points come from: with triggers D apart the
 * lower handicap wins 1 / (1 + base^(-D/scale)) of the games. The points are held within limits and rounded, the curve is not.
 *
 * Two questions: are the expectations right on average, gap by gap (calibration), and do they say more than a tossed coin (log loss: the
 * mean of -ln of what was expected of the side that won; a coin scores ln 2 = 0.693, and lower is better).
 */
import type { LevelGap, RuleSet } from "@sward/core";
import type { Interval } from "./share.ts";
import { chanceAgainst, chancesOf, shareInterval } from "./share.ts";

/** What a coin would score. */
export const COIN = Math.LN2;

/** The share of games the side with the lower handicap wins, as the set's own curve has it; null when it has no curve. */
export function expectationOf(set: RuleSet, difference: number): number | null {
  const rule = set.exchange.levelSingles;
  return rule.kind === "logistic" ? 1 / (1 + rule.base ** (-difference / rule.scale)) : null;
}

/** Gaps of handicaps looked at together, from..to, null for no upper end. Equal handicaps expect nothing. */
export const gapBands = [
  { from: 1, to: 2 },
  { from: 3, to: 4 },
  { from: 5, to: 6 },
  { from: 7, to: 9 },
  { from: 10, to: null },
] as const;

interface Calibrated {
  readonly games: number;
  /** By the lower handicap. */
  readonly won: number;
  /** Mean of what was expected, 0..1; and what was seen, with its interval. */
  readonly expected: number;
  readonly observed: number;
  readonly interval: Interval;
}

export interface CalibrationBand extends Calibrated {
  readonly from: number;
  readonly to: number | null;
}

export interface LevelReview {
  readonly bands: readonly CalibrationBand[];
  /** Games between unequal handicaps, how many the lower one won and was expected to. */
  readonly unequal: {
    readonly games: number;
    readonly won: number;
    readonly expected: number;
    readonly chance: number;
  };
  readonly equal: number;
  readonly logLoss: LogLoss | null;
}

export interface LogLoss {
  /** Of all level games, equal handicaps too. */
  readonly games: number;
  readonly mean: number;
  /** How far the mean lies below the coin's, and how far chance alone moves that (one standard error). */
  readonly better: number;
  readonly error: number;
}

/** @param setOf the rule set of an id; gaps under a set without a curve are passed over */
export function reviewLevel(gaps: readonly LevelGap[], setOf: (id: string) => RuleSet | undefined): LevelReview {
  const known = gaps.flatMap((gap) => {
    const set = setOf(gap.rules);
    const expected = set === undefined ? null : expectationOf(set, gap.difference);
    return expected === null ? [] : [{ ...gap, expected }];
  });
  const unequal = known.filter(({ difference }) => difference > 0);
  const won = total(unequal, ({ won: wins }) => wins);
  const expectations = unequal.flatMap(({ games, expected }) => new Array<number>(games).fill(expected));
  return {
    bands: gapBands.flatMap(({ from, to }) => {
      const band = calibrated(unequal.filter(({ gap }) => gap >= from && (to === null || gap <= to)));
      return band === null ? [] : [{ from, to, ...band }];
    }),
    unequal: {
      games: expectations.length,
      won,
      expected: total(unequal, ({ games, expected }) => games * expected),
      chance: chanceAgainst(won, chancesOf(expectations)),
    },
    equal: total(known, ({ games, difference }) => (difference === 0 ? games : 0)),
    logLoss: logLossOf(
      known.flatMap(({ games, won: wins, expected }) =>
        // Between equals nobody is counted as the winner, and it does not matter: either was expected to as often.
        Array.from({ length: games }, (_, at) => (at < wins ? expected : 1 - expected)),
      ),
    ),
  };
}

interface Expected extends LevelGap {
  readonly expected: number;
}

function calibrated(gaps: readonly Expected[]): Calibrated | null {
  const games = total(gaps, (gap) => gap.games);
  if (games === 0) return null;
  const won = total(gaps, (gap) => gap.won);
  return {
    games,
    won,
    expected: total(gaps, (gap) => gap.games * gap.expected) / games,
    observed: won / games,
    interval: shareInterval({ games, won }),
  };
}

/** @param ofWinners what was expected of the side that won, game by game; null when there is none */
export function logLossOf(ofWinners: readonly number[]): LogLoss | null {
  const games = ofWinners.length;
  if (games === 0) return null;
  const better = ofWinners.map((expected) => COIN + Math.log(expected));
  const mean = total(better, (value) => value) / games;
  const spread = total(better, (value) => (value - mean) ** 2);
  return {
    games,
    mean: COIN - mean,
    better: mean,
    error: games < 2 ? Infinity : Math.sqrt(spread / (games - 1) / games),
  };
}

function total<T>(list: readonly T[], value: (each: T) => number): number {
  return list.reduce((sum, each) => sum + value(each), 0);
}
