/**
 * The list of members as rows to be found and sorted: worked out from the state in one pass, since a list is looked at more often
 * than anything else. Pure; names and the day are handed in.
 */
import type { BookState, Card, Day, Player, PlayerId, Steps } from "@sward/core";
import { byCodeUnits, countUpTo, handicapInForce, lastGame, linesOf } from "@sward/core";
import { monthsBefore } from "../dates.ts";

export interface RollRow {
  readonly player: PlayerId;
  readonly name: string;
  readonly short: string;
  readonly junior: boolean;
  readonly standing: Player["standing"];
  readonly home: Player["home"];
  /** In force today; a visitor's is what was played off last. Null when nobody has set one. */
  readonly handicap: number | null;
  readonly waiting: { readonly to: number; readonly after: Day } | null;
  readonly index: number | null;
  /** Games of the last twelve months that are on the card; a visitor's those against us. */
  readonly games: number;
  readonly last: Day | null;
}

export type RollSort = "name" | "handicap" | "index" | "last";

export interface Named {
  readonly name: string;
  readonly short: string;
  readonly junior: boolean;
}

export function rollOf(state: BookState, named: (player: PlayerId) => Named, today: Day): readonly RollRow[] {
  const playedOf = playedBy(state, today);
  return [...state.players.values()].map((player): RollRow => {
    const card = state.cards.get(player.player);
    const known = { ...named(player.player), ...recorded(player) };
    const played = playedOf(player.player, card);
    return card === undefined ? { ...known, ...played } : rowOf(card, known, played);
  });
}

/** What the record says of somebody, whatever the name is. */
export type RecordRow = Omit<RollRow, keyof Named>;

/** The same without names, a row a step: of as they all were at the first. */
export function* recordRows({ players, cards, matches }: BookState, today: Day): Steps<readonly RecordRow[]> {
  const all = [...players.values()].map((player) => ({ player, card: cards.get(player.player) }));
  const playedOf = playedBy({ players, cards, matches }, today);
  const rows: RecordRow[] = [];
  for (const { player, card } of all) {
    rows.push({ ...recorded(player), ...playedOf(player.player, card) });
    yield;
  }
  return rows;
}

const recorded = ({ player, standing, home }: Player): Pick<RollRow, "player" | "standing" | "home"> => ({
  player,
  standing,
  home,
});

type Known = Pick<RollRow, "player" | "name" | "short" | "junior" | "standing" | "home">;

const keptRows = new WeakMap<Card, { readonly played: Played; readonly row: RollRow }>();

/** While what is known of somebody is the same, so is the row, which need not be drawn again. */
function rowOf(card: Card, known: Known, played: Played): RollRow {
  const kept = keptRows.get(card);
  if (kept?.played === played && knownNames.every((name) => kept.row[name] === known[name])) return kept.row;
  const row = { ...known, ...played };
  keptRows.set(card, { played, row });
  return row;
}

const knownNames = ["player", "name", "short", "junior", "standing", "home"] as const;

type Played = Pick<RollRow, "handicap" | "waiting" | "index" | "games" | "last">;

const nothingSeen: Played = { handicap: null, waiting: null, index: null, games: 0, last: null };

/** Apart from the rows, for whoever asks for the list without names must not take those away that are drawn. */
const keptPlayed = new WeakMap<Card, { readonly today: Day; readonly played: Played }>();

/** A card is never changed: what it says on a day is worked out once. */
function playedBy(state: Pick<BookState, "players" | "cards" | "matches">, today: Day) {
  // As `inLastYear`, for thousands of days: where the year begins is worked out once.
  const yearAgo = monthsBefore(today, 12);
  const seen = seenWithoutCard(state, today, yearAgo);
  return (player: PlayerId, card: Card | undefined): Played => {
    if (card === undefined) return seen.get(player) ?? nothingSeen;
    const kept = keptPlayed.get(card);
    if (kept?.today === today) return kept.played;
    const played = fromCard(card, today, yearAgo);
    keptPlayed.set(card, { today, played });
    return played;
  };
}

/** Lines are in order of day. None is made for its day, and only those are looked at by which the year is found. */
function fromCard(card: Card, today: Day, yearAgo: Day): Played {
  const lines = linesOf(card);
  let games = 0;
  const end = countUpTo(lines, today);
  for (let at = countUpTo(lines, yearAgo); at < end; at++) if (!lines.isSetAt(at)) games += 1;
  const game = lastGame(lines);
  const last = game < 0 ? null : lines.dateAt(game);
  const { handicap, waiting } = handicapInForce(card, today);
  return { handicap, waiting, index: card.index, games, last };
}

/** What matches say of people who have no card here: visitors, and members without a starting handicap. */
function seenWithoutCard(
  state: Pick<BookState, "players" | "cards" | "matches">,
  today: Day,
  yearAgo: Day,
): ReadonlyMap<PlayerId, Played> {
  const seen = new Map<PlayerId, Played>();
  if (![...state.players.keys()].some((player) => !state.cards.has(player))) return seen;
  for (const { facts } of state.matches.values()) {
    if (facts === null) continue;
    // Nearly all are of people with cards, and nothing is made for those.
    if (facts.sides.every((side) => side.every(({ player }) => state.cards.has(player)))) continue;
    const games = facts.date > yearAgo && facts.date <= today ? facts.games.length : 0;
    for (const { player, off } of facts.sides.flat()) {
      if (state.cards.has(player)) continue;
      const before = seen.get(player) ?? nothingSeen;
      const later = before.last === null || facts.date >= before.last;
      seen.set(player, {
        ...before,
        games: before.games + games,
        handicap: later ? off : before.handicap,
        last: later ? facts.date : before.last,
      });
    }
  }
  return seen;
}

/** People without the number asked for come last, whatever the order. */
export const sortRoll = (rows: readonly RollRow[], by: RollSort): readonly RollRow[] => sortNamed(sortByName(rows), by);

/** Comparing names as their language does takes long: it is done once, and every other order is made from this one. */
export const sortByName = (rows: readonly RollRow[]): readonly RollRow[] => [...rows].sort(byName);

/** @param named in the order of names, which stays among those who are equal */
export const sortNamed = (named: readonly RollRow[], by: RollSort): readonly RollRow[] =>
  by === "name" ? named : [...named].sort(compare[by]);

const collator = new Intl.Collator(undefined, { sensitivity: "base" });

const byName = (a: RollRow, b: RollRow): number => collator.compare(a.name, b.name) || byCodeUnits(a.player, b.player);

const emptyLast = <T>(a: T | null, b: T | null, order: (a: T, b: T) => number): number =>
  a === null || b === null ? Number(a === null) - Number(b === null) : order(a, b);

/** Strongest first; the most recently seen first. */
const compare: Readonly<Record<Exclude<RollSort, "name">, (a: RollRow, b: RollRow) => number>> = {
  handicap: (a, b) => emptyLast(a.handicap, b.handicap, (x, y) => x - y),
  index: (a, b) => emptyLast(a.index, b.index, (x, y) => y - x),
  last: (a, b) => emptyLast(a.last, b.last, (x, y) => byCodeUnits(y, x)),
};
