/**
 * Who meets whom in which round, by the Berger tables of the FIDE Handbook (C.05, Annex 1). The table is worked out and not typed in:
 * the highest number stays, the others move on by half the field each round, so any size comes out, and the tests hold it to the
 * printed rows. First named is at home. With an odd number of clubs the highest number is nobody, and who meets it has a bye.
 *
 * Home and away: the second half is the first with home and away changed, and the last two rounds of the first half change places, as
 * the tables recommend, so that no club is at home three times running.
 *
 * API: `bergerRounds(count)`: the printed table · `roundRobin(clubs, meetings)`: rounds of meetings and byes, in the order of `clubs`.
 *
 * SPEC: LG5, LG6.
 */
import type { LeagueRules } from "./league-rules.ts";

/** Numbers from 1; the first is at home. */
export type Pairing = readonly [number, number];

/** The rounds for an even number of players, at least 2, in the order printed. */
export function bergerRounds(count: number): readonly (readonly Pairing[])[] {
  if (count < 2 || count % 2 !== 0) throw new Error(`a Berger table has an even number of players, not ${count}`);
  const others = count - 1;
  const rounds: Pairing[][] = [];
  for (let round = 0; round < others; round++) {
    // In round 1 the number opposite the highest is 1; each round it moves on by half the field.
    const first = (round * (count / 2)) % others;
    const at = (step: number): number => ((first + step + others) % others) + 1;
    const pairs: Pairing[] = [round % 2 === 0 ? [at(0), count] : [count, at(0)]];
    for (let step = 1; step < count / 2; step++) pairs.push([at(step), at(-step)]);
    rounds.push(pairs);
  }
  return rounds;
}

export interface Round<T> {
  /** From 1. */
  readonly round: number;
  readonly meetings: readonly { readonly home: T; readonly away: T }[];
  readonly bye: T | null;
}

/** Every meeting of the clubs, by rounds. One club or none meets nobody. */
export function roundRobin<T>(clubs: readonly T[], meetings: LeagueRules["meetings"]): readonly Round<T>[] {
  if (clubs.length < 2) return [];
  const table = [...bergerRounds(clubs.length + (clubs.length % 2))];
  const [last, before] = [table.at(-1), table.at(-2)];
  let order = table;
  if (meetings === "home-and-away") {
    // Two clubs have one round: there is no last but one.
    const half = last !== undefined && before !== undefined ? [...table.slice(0, -2), last, before] : table;
    order = [...half, ...table.map((pairs) => pairs.map(([home, away]): Pairing => [away, home]))];
  }
  return order.map((pairs, at) => {
    const met = pairs.map(([home, away]) => ({ home: clubs[home - 1], away: clubs[away - 1] }));
    const bye = met.find(({ home, away }) => home === undefined || away === undefined);
    return {
      round: at + 1,
      meetings: met.filter(
        (one): one is { home: T & {}; away: T & {} } => one.home !== undefined && one.away !== undefined,
      ),
      bye: bye?.home ?? bye?.away ?? null,
    };
  });
}
