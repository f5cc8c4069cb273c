/**
 * A card as rows of integers, one for each line it has: a game or a setting of the handicap. What a game is worth depends only on that
 * game, its side and the rules in force on its day, and which window it opens on its event besides: so a match is turned into numbers
 * once, when it comes to the card, and folding it again reads nothing else.
 *
 *     written   DAY     WINDOW                                    MOVES           OFF
 *               of it   last day of the window a game opens by    points; of a    played off; of a
 *                       itself, BY_GAME, BY_MATCH, or SETTING     setting, index  setting, handicap
 *     folded    INDEX   HANDICAP            OPEN
 *               after   after, when the     last day of the window open after it,
 *               it      window ended here   NEVER where there is none
 *
 * Days are numbers (`day-digits.ts`). Rejected: a column apart for each number (seven arrays to move for a game that came late, where
 * here it is one).
 *
 * SPEC: RP.
 */
import type { CompiledRules } from "../exchange/compiled-rules.ts";
import type { PlayerId } from "../ids.ts";
import { dayDigits } from "../ledger/day-digits.ts";
import type { Lineup } from "../ledger/kinds.ts";
import type { SingleGame } from "../matches/single-game.ts";
import { offOf, pointsOfSingle } from "../matches/single-game.ts";
import { isOneSpan } from "../rules/effective.ts";
import { rulesOn } from "./adoption.ts";
import { daysSpanned } from "./calendar.ts";
import type { FoldInput, PlayedMatch, Setting, Source } from "./card-input.ts";
import { dateOf, dayOf, isSetting } from "./card-input.ts";
import { worthOf } from "./game-worth.ts";

export const DAY = 0;
export const WINDOW = 1;
export const MOVES = 2;
export const OFF = 3;
export const INDEX = 4;
export const HANDICAP = 5;
export const OPEN = 6;
/** Integers of a row. */
export const WIDE = 7;

/** How many of a row are written, and not folded. */
export const WRITTEN = 4;

export const NEVER = 0;
export const SETTING = 1;
export const BY_GAME = 2;
export const BY_MATCH = 3;
/** Windows above this are days. */

export interface Rows {
  readonly table: Int32Array;
  /** What each row comes from: a match stands here once for each of its games. */
  readonly sources: readonly Source[];
}

const isSingle = (source: Source): source is PlayedMatch & SingleGame =>
  ((source as Partial<SingleGame>).game ?? -1) >= 0;

/** How many rows a source has. */
export const rowsOfSource = (source: Source): number =>
  isSetting(source) || isSingle(source) ? 1 : source.facts.games.length;

/** Writes the rows of a source, each `wide` numbers, from row `place` on. */
export function writeRows(table: Int32Array, wide: number, place: number, source: Source, input: FoldInput): void {
  let at = place * wide;
  const { adoptions } = input;
  // A match's date lies elsewhere in the memory than the rest that is read of it here, and decides only between several sets.
  const rules = rulesOn(adoptions, adoptions.length === 1 ? "" : dateOf(source));
  if (isSetting(source)) {
    const { body } = source;
    writeRow(table, at, dayDigits(body.from), SETTING, startingIndex(source, rules), body.handicap);
    return;
  }
  const side = sideOf(source, input);
  const day = dayOf(source);
  const window = windowOf(source, day, rules, input);
  if (isSingle(source)) {
    const { game } = source;
    writeRow(table, at, day, window, pointsOfSingle(game, side, rules), offOf(game, side));
    return;
  }
  const { facts } = source;
  const me = seatOf(facts.sides[side], input, true) as Lineup;
  for (const game of facts.games) {
    writeRow(table, at, day, window, worthOf(facts, game, side, me, rules).points, me.off);
    at += wide;
  }
}

function writeRow(table: Int32Array, at: number, day: number, window: number, moves: number, off: number): void {
  table[at + DAY] = day;
  table[at + WINDOW] = window;
  table[at + MOVES] = moves;
  table[at + OFF] = off;
}

/** Which side of a match the card's player is on. */
export const sideOf = (match: PlayedMatch, input: FoldInput): 0 | 1 =>
  (isSingle(match) ? isOwn(match.first, input) : seatOf(match.facts.sides[0], input, true)) ? 0 : 1;

/** The first on a side who is the card's player, or is not. A loop and no callback: this is asked a million times. */
export function seatOf(side: readonly Lineup[], input: FoldInput, own: boolean): Lineup | null {
  for (const one of side) if (isOwn(one.player, input) === own) return one;
  return null;
}

const isOwn = (player: PlayerId, { player: self, also }: FoldInput): boolean =>
  player === self || also?.has(player) === true;

function windowOf(match: PlayedMatch, day: number, { set }: CompiledRules, { events }: FoldInput): number {
  const { unit } = set.effective;
  if (unit === "game") return BY_GAME;
  if (unit === "match") return BY_MATCH;
  const event = unit === "event" && match.event !== null ? events.get(match.event) : undefined;
  if (event === undefined) return day;
  const { date } = match.facts;
  const within = event.from <= date && date <= event.to;
  return within && isOneSpan(set, event.occasion, daysSpanned(event.from, event.to)) ? dayDigits(event.to) : day;
}

/** A handicap the table lacks starts at the trigger of the next higher one it has, or of its last. */
function startingIndex({ body }: Setting, { set }: CompiledRules): number {
  if (body.basis !== "discretionary" && body.index !== undefined) return body.index;
  const row = set.triggers.find(({ handicap }) => handicap >= body.handicap) ?? set.triggers.at(-1);
  if (row === undefined) throw new Error(`rule set ${set.id} has no trigger rows`);
  return row.trigger;
}
