/**
 * A rule set as tables to be read: which sets a book has adopted and when, the points of a game by winner and loser, extra strokes by
 * difference, and sources by number. All of it is asked of core, cell by cell, so that a table cannot say what a card will not do;
 * rejected: copies of the printed tables beside the rules (two truths, and one of them would age).
 */
import type { BookState, Day, Play, RuleSet } from "@sward/core";
import { convertedStrokes, exchangePoints, findRuleSet } from "@sward/core";

export interface AdoptedSet {
  readonly id: string;
  readonly from: Day;
  /** First day of the next one; null for the last. */
  readonly replacedOn: Day | null;
  readonly when: "past" | "now" | "ahead";
  /** Undefined when this version of the app does not have it. */
  readonly set: RuleSet | undefined;
}

/** Every adoption of a book, first to last. */
export function adoptedSets({ rules }: Pick<BookState, "rules">, today: Day): readonly AdoptedSet[] {
  return rules.map(({ rules: id, from }, at) => {
    const replacedOn = rules[at + 1]?.from ?? null;
    const when = from > today ? "ahead" : replacedOn !== null && replacedOn <= today ? "past" : "now";
    return { id, from, replacedOn, when, set: findRuleSet(id) };
  });
}

/** The one to show: the one asked for, else the one in force today, else the first. */
export function chosenSet(adopted: readonly AdoptedSet[], asked: string | undefined): AdoptedSet | undefined {
  const at = asked !== undefined && /^\d+$/.test(asked) ? adopted[Number(asked)] : undefined;
  return at ?? adopted.find(({ when }) => when === "now") ?? adopted[0];
}

export type GameName = keyof RuleSet["exchange"];

export const games: readonly { readonly game: GameName; readonly play: Play; readonly players: 1 | 2 }[] = [
  { game: "handicapSingles", play: "handicap", players: 1 },
  { game: "handicapDoubles", play: "handicap", players: 2 },
  { game: "levelSingles", play: "level", players: 1 },
  { game: "levelDoubles", play: "level", players: 2 },
];

export interface ExchangeTable {
  /** Of the rows (winners) and of the columns (losers), lowest first. */
  readonly handicaps: readonly number[];
  /** `points[winner][loser]`; null where core has no answer. */
  readonly points: readonly (readonly (number | null)[])[];
}

/** Winner by loser, for a game whose points depend on the handicaps; null for every other. */
export function exchangeTable(set: RuleSet, game: GameName): ExchangeTable | null {
  const kind = games.find((one) => one.game === game);
  if (kind === undefined || kind.players !== 1 || set.exchange[game].kind !== "logistic") return null;
  const handicaps = set.triggers.map(({ handicap }) => handicap);
  const cell = (winner: number, loser: number): number | null => {
    const found = exchangePoints(set, { play: kind.play, winner: [winner], loser: [loser] });
    return found.ok ? found.value.points : null;
  };
  return { handicaps, points: handicaps.map((winner) => handicaps.map((loser) => cell(winner, loser))) };
}

export interface StrokesRow {
  readonly difference: number;
  /** For games of 13, 7 and 19 points; null where the set does not say. */
  readonly strokes: readonly [number, number | null, number | null];
}

/** Extra strokes in singles by the difference of the handicaps, 1 to the widest the table allows. */
export function strokesByDifference(set: RuleSet): readonly StrokesRow[] {
  const [lowest, highest] = [set.triggers[0]?.handicap ?? 0, set.triggers.at(-1)?.handicap ?? 0];
  return Array.from({ length: highest - lowest }, (_, at) => {
    const difference = at + 1;
    return {
      difference,
      strokes: [difference, convertedStrokes(set, 7, difference), convertedStrokes(set, 19, difference)],
    };
  });
}

/** Sources by the number they are cited by, from 1. */
export const sourceNumbers = ({ sources }: Pick<RuleSet, "sources">): ReadonlyMap<string, number> =>
  new Map(Object.keys(sources).map((key, at) => [key, at + 1]));

/** A gap's words with `[key, key]` as the numbers of the list of sources. Keys the set does not have stay as they are. */
export function citing(text: string, numbers: ReadonlyMap<string, number>): string {
  return text.replace(/\[([a-z0-9, -]+)\]/g, (whole, keys: string) => {
    const cited = keys.split(",").map((key) => numbers.get(key.trim()));
    return cited.includes(undefined) ? whole : `[${cited.join(", ")}]`;
  });
}

export interface Cited {
  readonly number: number;
  readonly title: string;
  readonly url: string;
}

/** The sources some rows rest on, each once, in the order of the list. */
export function citedBy(set: RuleSet, rows: readonly { readonly source: string | null }[]): readonly Cited[] {
  const keys = new Set(rows.map(({ source }) => source));
  return listOfSources(set).filter((_, at) => keys.has(Object.keys(set.sources)[at] ?? null));
}

export const listOfSources = ({ sources }: Pick<RuleSet, "sources">): readonly Cited[] =>
  Object.values(sources).map(({ title, url }, at) => ({ number: at + 1, title, url }));
