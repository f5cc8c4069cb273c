/**
 * The games a club can learn from, in whole numbers: who was off what, how many extra strokes each side had, who won. What they
 * show (shares, intervals, expectations) is statistics with fractions and is worked out where there is a screen; here is only what
 * can be counted, so that two devices can never count differently.
 *
 * Looked at are the games that move an index, singles only. A partner's strokes and a partner's play cannot be told apart in doubles;
 * friendlies and ad-hoc games are written down by choice, and a choice is not a sample. What is left out is counted too, by reason, so
 * that no share is shown without the games it is not about. Rejected: reading the cards' lines (each game stands on two cards, a
 * visitor's on one, and neither says how many strokes were given).
 *
 * SPEC: RV1 to RV5.
 */
import type { EntryId, MatchKey, PlayerId } from "../ids.ts";
import type { Day, Format, Game, Lineup, MatchReported, Play } from "../ledger/kinds.ts";
import { differences, matchFacts } from "../matches/identity.ts";
import { byCodeUnits } from "../order.ts";
import { findRuleSet } from "../rules/catalogue.ts";
import { occasionCounts } from "../rules/effective.ts";
import type { RuleSet } from "../rules/rule-set.ts";
import { triggerOf } from "../rules/triggers.ts";
import type { BookState, Match, MatchFacts } from "../state.ts";
import type { SeatExtras } from "../strokes/choice.ts";
import { extrasBySeat } from "../strokes/choice.ts";
import { extraStrokes } from "../strokes/extra-strokes.ts";

/** First and last day looked at, both included. */
export interface Span {
  readonly from: Day;
  readonly to: Day;
}

export interface ReviewedGame {
  readonly match: MatchKey;
  /** Which game of the match, from 1. */
  readonly game: number;
  readonly date: Day;
  readonly play: Play;
  readonly format: Format;
  /** The rule set in force on its day. */
  readonly rules: string;
  readonly sides: readonly [Lineup, Lineup];
  readonly winner: 0 | 1;
  /** Extra strokes of either side; both 0 in level play. */
  readonly strokes: readonly [number, number];
  /** The trigger point of the first side's handicap less that of the second's. */
  readonly difference: number;
}

/** Why a game is not looked at; the first that applies, in this order. */
export const leftOutReasons = [
  "not-settled",
  "no-rules",
  "abandoned",
  "walkover",
  "excluded-beforehand",
  "occasion-does-not-count",
  "drawn",
  "doubles",
  "handicap-not-in-table",
] as const;
export type LeftOutReason = (typeof leftOutReasons)[number];

/** What the report of a match may say beside its facts, by the entry's id: extra strokes given, and what a score pad kept. */
export type ReportBodies = ReadonlyMap<EntryId, MatchReported>;

/** A person's one id, by any id of his. */
export type Resolve = (id: PlayerId) => PlayerId;

/** Sorted by day, then by the match's identity, then by the game's number in it. */
export function gamesToReview(
  state: BookState,
  bodies: ReportBodies,
  span: Span,
): { readonly games: readonly ReviewedGame[]; readonly leftOut: ReadonlyMap<LeftOutReason, number> } {
  const resolve = resolver(state);
  const games: ReviewedGame[] = [];
  const leftOut = new Map<LeftOutReason, number>();
  for (const match of state.matches.values()) {
    const facts = match.facts ?? match.reports[0]?.facts;
    if (facts === undefined || facts.date < span.from || facts.date > span.to) continue;
    const rules = rulesOn(state, facts.date);
    for (const [place, game] of facts.games.entries()) {
      const reason = match.facts === null ? "not-settled" : leftOutBecause(facts, game, rules);
      if (reason !== null || rules === undefined) {
        const why = reason ?? "no-rules";
        leftOut.set(why, (leftOut.get(why) ?? 0) + 1);
        continue;
      }
      games.push(reviewed(match, facts, place, game, rules, givenIn(match, facts, bodies, resolve)));
    }
  }
  return { games: games.sort(byDayAndMatch), leftOut };
}

function leftOutBecause(facts: MatchFacts, game: Game, rules: RuleSet | undefined): LeftOutReason | null {
  if (rules === undefined) return "no-rules";
  if (game.ended === "abandoned" || game.ended === "walkover") return game.ended;
  if (facts.excluded) return "excluded-beforehand";
  if (!occasionCounts(rules, facts.occasion)) return "occasion-does-not-count";
  if (game.score[0] === game.score[1]) return "drawn";
  if (facts.sides[0].length !== 1) return "doubles";
  const known = facts.sides.flat().every(({ off }) => triggerOf(rules, off) !== undefined);
  return known ? null : "handicap-not-in-table";
}

function reviewed(
  match: Match,
  facts: MatchFacts,
  place: number,
  game: Game,
  rules: RuleSet,
  given: SeatExtras | null,
): ReviewedGame {
  const [[one], [two]] = facts.sides;
  if (one === undefined || two === undefined) throw new Error("a side without players was counted");
  const strokes = facts.play === "level" ? null : (given ?? ruledStrokes(facts, rules));
  return {
    match: match.key,
    game: place + 1,
    date: facts.date,
    play: facts.play,
    format: facts.format,
    rules: rules.id,
    sides: [one, two],
    winner: game.score[0] > game.score[1] ? 0 : 1,
    strokes: [strokes?.[0]?.[0] ?? 0, strokes?.[1]?.[0] ?? 0],
    difference: (triggerOf(rules, one.off) ?? 0) - (triggerOf(rules, two.off) ?? 0),
  };
}

/** Extra strokes by side and seat as the rule set has them; null when players had a choice that is not known, or it has none. */
export function ruledStrokes({ format, sides, play }: MatchFacts, rules: RuleSet): SeatExtras | null {
  const offs = sides.map((side) => side.map(({ off }) => off));
  const found = extraStrokes(rules, { format, sides: offs, play });
  const [choice, another] = found.ok ? found.value.choices : [];
  return choice === undefined || another !== undefined ? null : extrasBySeat(choice, offs);
}

/** Extra strokes as a report said they were given, by side and seat of the facts; null when none that agrees says it. */
export function givenIn(match: Match, facts: MatchFacts, bodies: ReportBodies, resolve: Resolve): SeatExtras | null {
  for (const body of agreeing(match, facts, bodies, resolve)) {
    const { given } = body;
    if (given !== undefined) {
      const said = saidOf(body, resolve, given);
      return facts.sides.map((side) => side.map(({ player }) => said.get(player) ?? 0));
    }
  }
  return null;
}

/** The reports that say what counts, in the order of their ids. */
export function agreeing(
  match: Match,
  facts: MatchFacts,
  bodies: ReportBodies,
  resolve: Resolve,
): readonly MatchReported[] {
  return match.reports.flatMap(({ entry }) => {
    const body = bodies.get(entry);
    return body !== undefined && differences(facts, matchFacts(body, resolve)).length === 0 ? [body] : [];
  });
}

/** Numbers a report lists by its own sides and seats, by player. */
export function saidOf({ sides }: MatchReported, resolve: Resolve, numbers: SeatExtras): ReadonlyMap<PlayerId, number> {
  return new Map(
    sides.flatMap((side, s) => side.map(({ player }, seat) => [resolve(player), numbers[s]?.[seat] ?? 0] as const)),
  );
}

export function resolver(state: Pick<BookState, "players">): Resolve {
  const known = new Map<PlayerId, PlayerId>();
  for (const { player, alsoKnownAs } of state.players.values()) {
    for (const id of alsoKnownAs) known.set(id, player);
  }
  return (id) => known.get(id) ?? id;
}

/** The set in force on a day; before the first adoption the first. Sets this version does not have are passed over. */
export function rulesOn({ rules }: Pick<BookState, "rules">, day: Day): RuleSet | undefined {
  const known = rules.flatMap(({ rules: id, from }) => {
    const set = findRuleSet(id);
    return set === undefined ? [] : [{ set, from }];
  });
  return (known.findLast(({ from }) => from <= day) ?? known[0])?.set;
}

const byDayAndMatch = (a: ReviewedGame, b: ReviewedGame): number =>
  byCodeUnits(a.date, b.date) || byCodeUnits(a.match, b.match) || a.game - b.game;
