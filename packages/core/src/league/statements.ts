/**
 * What clubs state of their players in a league, day by day, and the games played off something else. A statement is of a day, by
 * somebody, made at a moment: all three are kept and shown, for a captain who is offline has to know how old a number is. For any
 * day the statement for the latest day up to it is in force.
 *
 * A game stands as it was played. Where a player was off another handicap than the one stated for that day, both clubs can see it
 * in the league's book, with the extra strokes and the index points that there were and would have been. Rejected: correcting the
 * game (nobody can play it again), and telling only the home club (the other one gave the strokes).
 *
 * API: `viewStatements({state, counted})` · `statedOn(statements, player, day)` · `playedOffOthers(state, statements, setOn)` ·
 * `offDifference(set, facts, instead)` for one match and any other handicaps.
 *
 * SPEC: LG28 to LG31.
 */
import { exchangePoints } from "../exchange/points.ts";
import type { EntryId, KeyId, MatchKey, PlayerId } from "../ids.ts";
import { byAuthorLastFirst } from "../ledger/chain.ts";
import type { Day } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import type { RuleSet } from "../rules/rule-set.ts";
import type { BookState, MatchFacts } from "../state.ts";
import type { Choice } from "../strokes/choice.ts";
import { extraStrokes } from "../strokes/extra-strokes.ts";
import type { LeagueSource } from "./standing.ts";
import { clubOf, personIn, readStanding } from "./standing.ts";

export interface Statement {
  readonly entry: EntryId;
  readonly player: PlayerId;
  readonly handicap: number;
  readonly index: number;
  readonly on: Day;
  readonly by: KeyId;
  /** The club that states it; null for the league's own officers. */
  readonly club: KeyId | null;
  /** The author's clock, for people. */
  readonly at: string;
}

/** By person, ascending by day, one for each. */
export type Statements = ReadonlyMap<PlayerId, readonly Statement[]>;

export function viewStatements(source: LeagueSource): Statements {
  const { state } = source;
  const person = personIn(state);
  const entries = readStanding(source, ["handicap-stated"])("handicap-stated");
  entries.sort((a, b) => byCodeUnits(a.body.on, b.body.on) || byAuthorLastFirst(a, b));
  const found = new Map<PlayerId, Statement[]>();
  for (const { id, author, at, body } of entries) {
    const player = person(body.player);
    const club = clubOf(state, author);
    if (club === undefined || !isHeard(state, player, club)) continue;
    const list = found.get(player) ?? [];
    found.set(player, list);
    if (list.at(-1)?.on !== body.on) list.push({ ...body, entry: id, player, by: author, club, at });
  }
  return found;
}

/** For a player whose home is a club of the league only that club is heard, and the league's own officers. */
function isHeard({ players, clubs }: BookState, player: PlayerId, club: KeyId | null): boolean {
  const home = players.get(player)?.home?.book as string | undefined;
  return club === null || home === undefined || club === home || !clubs.has(home as KeyId);
}

/** What was stated for the day: the statement for the latest day up to it; null when there is none. */
export const statedOn = (statements: Statements, player: PlayerId, day: Day): Statement | null =>
  statements.get(player)?.findLast(({ on }) => on <= day) ?? null;

export interface OffOther {
  readonly player: PlayerId;
  readonly off: number;
  readonly stated: Statement;
}

export interface GameDifference {
  /** Which game of the match, from 1. */
  readonly game: number;
  /** Points exchanged; null where the rules give none for such a game. */
  readonly was: number | null;
  readonly would: number | null;
}

export interface OffDifference {
  /** Every lawful way the strokes may fall, sides in the order of the facts; null in level play or where the rules do not say. */
  readonly strokes: { readonly was: readonly Choice[]; readonly would: readonly Choice[] } | null;
  /** Of the games that had a winner and were not given up. */
  readonly games: readonly GameDifference[];
}

export interface PlayedOffOther extends OffDifference {
  readonly match: MatchKey;
  readonly date: Day;
  readonly facts: MatchFacts;
  readonly players: readonly OffOther[];
}

/**
 * Matches that count in which somebody was off another handicap than the one stated for the day, by day and identity.
 * @param setOn the rule set of a day; a match of a day without one has no strokes and points
 */
export function playedOffOthers(
  state: BookState,
  statements: Statements,
  setOn: (day: Day) => RuleSet | undefined,
): readonly PlayedOffOther[] {
  const found: PlayedOffOther[] = [];
  for (const { key: match, facts } of state.matches.values()) {
    if (facts === null) continue;
    const players = facts.sides.flat().flatMap(({ player, off }): OffOther[] => {
      const stated = statedOn(statements, player, facts.date);
      return stated === null || stated.handicap === off ? [] : [{ player, off, stated }];
    });
    if (players.length === 0) continue;
    const instead = new Map(players.map(({ player, stated }) => [player, stated.handicap]));
    const set = setOn(facts.date);
    const difference = set === undefined ? { strokes: null, games: [] } : offDifference(set, facts, instead);
    found.push({ match, date: facts.date, facts, players, ...difference });
  }
  return found.sort((a, b) => byCodeUnits(a.date, b.date) || byCodeUnits(a.match, b.match));
}

/** What a match would have been with other handicaps for some of its players. */
export function offDifference(set: RuleSet, facts: MatchFacts, instead: ReadonlyMap<PlayerId, number>): OffDifference {
  const was = facts.sides.map((side) => side.map(({ off }) => off));
  const would = facts.sides.map((side) => side.map(({ player, off }) => instead.get(player) ?? off));
  const games = facts.games.flatMap(({ score: [a, b], ended }, at): GameDifference[] => {
    if (a === b || ended === "abandoned" || ended === "walkover") return [];
    const points = (sides: readonly (readonly number[])[]): number | null => {
      const [winner = [], loser = []] = a > b ? sides : [...sides].reverse();
      const answer = exchangePoints(set, { play: facts.play, winner, loser });
      return answer.ok ? answer.value.points : null;
    };
    return [{ game: at + 1, was: points(was), would: points(would) }];
  });
  return { strokes: strokesBoth(set, facts, was, would), games };
}

function strokesBoth(
  set: RuleSet,
  { play, format }: MatchFacts,
  was: readonly (readonly number[])[],
  would: readonly (readonly number[])[],
): OffDifference["strokes"] {
  const [before, after] = [was, would].map((sides) => extraStrokes(set, { play, format, sides }));
  return before?.ok && after?.ok ? { was: before.value.choices, would: after.value.choices } : null;
}
