/**
 * A share of games won, with what it is worth as evidence. The interval is the exact one of Clopper and Pearson at 95 %, from the beta
 * distribution, and the chance is exact too, counted at both ends alike: so a share is "more than chance" exactly when one half lies
 * outside its interval, and two sentences on one screen cannot contradict each other. Rejected: Wilson's interval, which is narrower
 * and does not always agree with the exact chance.
 *
 * The library is jstat: one file, no dependencies. Rejected: a library of many small packages (226 of them for these two functions)
 * and one without the beta distribution.
 */
import type { Tally } from "@sward/core";
import jstat from "jstat";

/** From 0 to 1. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** Fewer games than this say nothing about a person, and the screen says so. */
export const FEWEST = 10;

/** One time in twenty. */
export const ALPHA = 0.05;

/** @param games at least 1 */
export function shareInterval({ won, games }: Tally): Interval {
  return {
    low: won === 0 ? 0 : jstat.beta.inv(ALPHA / 2, won, games - won + 1),
    high: won === games ? 1 : jstat.beta.inv(1 - ALPHA / 2, won + 1, games - won),
  };
}

/** How likely even games are to give a share at least so far from one half, one way or the other; 1 when it could not be nearer. */
export function chanceOfShare({ won, games }: Tally): number {
  const most = Math.max(won, games - won);
  // P(at least `most` of `games`) is the beta distribution's own sum.
  return most * 2 === games ? 1 : Math.min(1, 2 * jstat.beta.cdf(0.5, most, games - most + 1));
}

/** How likely each number of wins is, 0 to all, when each game has its own expectation: built game by game, exactly. */
export function chancesOf(expectations: readonly number[]): readonly number[] {
  return expectations.reduce<readonly number[]>(
    (before, expected) =>
      Array.from(
        { length: before.length + 1 },
        (_, won) => (before[won] ?? 0) * (1 - expected) + (before[won - 1] ?? 0) * expected,
      ),
    [1],
  );
}

/** How likely so few wins or so many are, one way or the other. @param chances as `chancesOf` gives them */
export function chanceAgainst(won: number, chances: readonly number[]): number {
  const atMost = sum(chances.slice(0, won + 1));
  const atLeast = sum(chances.slice(won));
  return Math.min(1, 2 * Math.min(atMost, atLeast));
}

export type Verge = "too-few" | "above" | "below" | "about";

/** Where one half, or another expectation, stands to a share: `above` when the share is more than chance gives. */
export function standing(tally: Tally, expected = 0.5): Verge {
  if (tally.games < FEWEST) return "too-few";
  const { low, high } = shareInterval(tally);
  return low > expected ? "above" : high < expected ? "below" : "about";
}

/** A chance as "one time in so many", as exact as a sentence needs it: whole up to 20, then two figures. */
export function oneIn(chance: number): number {
  const times = 1 / chance;
  const step = times <= 20 ? 1 : 10 ** (Math.floor(Math.log10(times)) - 1);
  return Math.round(times / step) * step;
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
