/**
 * The league table, and why it stands as it does. Clubs are put in order by points; those level are told apart by the rules'
 * tie-breaks, one after the other: what splits a group leaves smaller groups, and each goes on with the next tie-break. "Head to head"
 * looks only at the fixtures among the clubs still level at that moment. Clubs nothing tells apart share a place.
 *
 * Every comparison made is a line of data (who was compared, by what, each club's value, the groups it left), from which the client
 * makes a sentence: a secretary can be asked "why are we third?" and read it out. It is sums and named orders only, so the same
 * results in any order give the same table.
 *
 * API: `leagueTable(rules, clubs, results)` for results from anywhere; `tableOf(rules, outcomes, clubs)` for those of a book.
 *
 * SPEC: LG20 to LG25.
 */
import type { KeyId } from "../ids.ts";
import { byCodeUnits } from "../order.ts";
import type { LeagueRules, Measure, TieBreak } from "./league-rules.ts";
import type { FixtureResult, Outcome } from "./outcome.ts";

/** Points of one club from one fixture, or from all of them, by what they were for. */
export interface Earned {
  readonly match: number;
  readonly slot: number;
  readonly game: number;
  readonly hoop: number;
  readonly bonus: number;
  readonly forfeit: number;
}

export interface TableRow {
  readonly club: KeyId;
  /** From 1. */
  readonly place: number;
  /** Another club has the same place. */
  readonly shared: boolean;
  readonly played: number;
  readonly won: number;
  readonly drawn: number;
  readonly lost: number;
  /** For, against. */
  readonly slots: readonly [number, number];
  readonly games: readonly [number, number];
  readonly hoops: readonly [number, number];
  readonly points: number;
  readonly earned: Earned;
}

/** One comparison: `leaves` are the groups it told apart, best first; a group of one is placed. */
export interface TableStep {
  readonly by: "points" | TieBreak;
  readonly among: readonly KeyId[];
  readonly values: readonly { readonly club: KeyId; readonly value: number }[];
  readonly leaves: readonly (readonly KeyId[])[];
}

export interface LeagueTable {
  /** By place, then by club. */
  readonly rows: readonly TableRow[];
  /** From the top of the table down, each group's comparisons in the order they were made. */
  readonly steps: readonly TableStep[];
  /** Groups that nothing told apart. */
  readonly level: readonly (readonly KeyId[])[];
}

export interface TableResult {
  readonly home: KeyId;
  readonly away: KeyId;
  readonly result: FixtureResult;
}

/** The table of fixtures of a book: those whose outcome counts. */
export const tableOf = (rules: LeagueRules, outcomes: readonly Outcome[], clubs: Iterable<KeyId>): LeagueTable =>
  leagueTable(
    rules,
    clubs,
    outcomes.flatMap(({ home, away, result }) => (result === null ? [] : [{ home, away, result }])),
  );

export function leagueTable(rules: LeagueRules, clubs: Iterable<KeyId>, results: readonly TableResult[]): LeagueTable {
  const everyone = new Set([...clubs, ...results.flatMap(({ home, away }) => [home, away])]);
  const sums = sumUp(rules, everyone, results);
  const steps: TableStep[] = [];
  const level: (readonly KeyId[])[] = [];
  const rows: TableRow[] = [];

  const settle = (group: readonly KeyId[], breaks: readonly ("points" | TieBreak)[]): void => {
    const [by, ...rest] = breaks;
    if (group.length === 1 || by === undefined) {
      const place = rows.length + 1;
      const shared = group.length > 1;
      if (shared) level.push(group);
      for (const club of group) rows.push({ ...sumOf(sums, club), place, shared });
      return;
    }
    const measured = valuesBy(by, group, rules, sums, results);
    const leaves = grouped(measured);
    steps.push({ by, among: group, values: measured, leaves });
    for (const part of leaves) settle(part, rest);
  };
  const all = [...everyone].sort(byCodeUnits);
  if (all.length > 0) settle(all, ["points", ...rules.tieBreaks]);
  return { rows, steps, level };
}

type Sum = Omit<TableRow, "place" | "shared">;
type Sums = ReadonlyMap<KeyId, Sum>;

function sumOf(sums: Sums, club: KeyId): Sum {
  const sum = sums.get(club);
  if (sum === undefined) throw new Error(`no sums of club ${club}`);
  return sum;
}

function sumUp(rules: LeagueRules, clubs: Iterable<KeyId>, results: readonly TableResult[]): Sums {
  const sums = new Map<KeyId, Sum>();
  for (const club of clubs) sums.set(club, nothingYet(club));
  for (const { home, away, result } of results) {
    for (const [at, club] of [home, away].entries()) {
      const side = at === 0 ? 0 : 1;
      sums.set(club, added(sumOf(sums, club), result, side, earnedIn(rules, result, side)));
    }
  }
  return sums;
}

/** What a side earns from a fixture. */
export function earnedIn(rules: LeagueRules, { tally, winner, by }: FixtureResult, side: 0 | 1): Earned {
  const { points, bonus, forfeit } = rules;
  const won = winner === side;
  if (by === "forfeit") return { ...nothingEarned, forfeit: won ? forfeit.winner : forfeit.loser };
  const other = side === 0 ? 1 : 0;
  const games = tally.games[side];
  const extra = bonus.filter(({ when, count }) =>
    when === "games-won-at-least" ? games >= count : winner === other && tally.games[other] - games <= count,
  );
  return {
    match: winner === null ? points.draw : won ? points.win : points.loss,
    slot: tally.slots[side] * points.slot,
    game: games * points.game + tally.drawnGames * points.drawnGame,
    hoop: tally.hoops[side] * points.hoop,
    bonus: extra.reduce((sum, one) => sum + one.points, 0),
    forfeit: 0,
  };
}

function added(sum: Sum, { tally, winner }: FixtureResult, side: 0 | 1, earned: Earned): Sum {
  const other = side === 0 ? 1 : 0;
  const plus = (measure: Measure): readonly [number, number] => [
    sum[measure][0] + tally[measure][side],
    sum[measure][1] + tally[measure][other],
  ];
  const total: Earned = {
    match: sum.earned.match + earned.match,
    slot: sum.earned.slot + earned.slot,
    game: sum.earned.game + earned.game,
    hoop: sum.earned.hoop + earned.hoop,
    bonus: sum.earned.bonus + earned.bonus,
    forfeit: sum.earned.forfeit + earned.forfeit,
  };
  return {
    club: sum.club,
    played: sum.played + 1,
    won: sum.won + (winner === side ? 1 : 0),
    drawn: sum.drawn + (winner === null ? 1 : 0),
    lost: sum.lost + (winner === other ? 1 : 0),
    slots: plus("slots"),
    games: plus("games"),
    hoops: plus("hoops"),
    points: pointsIn(total),
    earned: total,
  };
}

const nothingEarned: Earned = { match: 0, slot: 0, game: 0, hoop: 0, bonus: 0, forfeit: 0 };

const pointsIn = ({ match, slot, game, hoop, bonus, forfeit }: Earned): number =>
  match + slot + game + hoop + bonus + forfeit;

const nothingYet = (club: KeyId): Sum => ({
  club,
  played: 0,
  won: 0,
  drawn: 0,
  lost: 0,
  slots: [0, 0],
  games: [0, 0],
  hoops: [0, 0],
  points: 0,
  earned: nothingEarned,
});

function valuesBy(
  by: TableStep["by"],
  group: readonly KeyId[],
  rules: LeagueRules,
  sums: Sums,
  results: readonly TableResult[],
): TableStep["values"] {
  const measure = measures[by];
  if (!by.startsWith("head-to-head-")) return group.map((club) => ({ club, value: measure(sumOf(sums, club)) }));
  const among = new Set(group);
  const between = results.filter(({ home, away }) => among.has(home) && among.has(away));
  const met = sumUp(rules, group, between);
  return group.map((club) => ({ club, value: measure(sumOf(met, club)) }));
}

/** Between clubs level, games and hoops are compared by what was won less what was lost. */
const measures: Readonly<Record<TableStep["by"], (sum: Sum) => number>> = {
  points: ({ points }) => points,
  "head-to-head-points": ({ points }) => points,
  "head-to-head-games": ({ games: [won, lost] }) => won - lost,
  "head-to-head-hoops": ({ hoops: [won, lost] }) => won - lost,
  "matches-won": ({ won }) => won,
  "games-won": ({ games: [won] }) => won,
  "games-difference": ({ games: [won, lost] }) => won - lost,
  "hoops-won": ({ hoops: [won] }) => won,
  "hoops-difference": ({ hoops: [won, lost] }) => won - lost,
};

/** Clubs of one value together, the greatest first. */
function grouped(values: TableStep["values"]): KeyId[][] {
  const byValue = new Map<number, KeyId[]>();
  for (const { club, value } of values) byValue.set(value, [...(byValue.get(value) ?? []), club]);
  return [...byValue].sort(([a], [b]) => b - a).map(([, clubs]) => clubs);
}
