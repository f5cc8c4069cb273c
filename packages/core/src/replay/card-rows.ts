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
 * Days are numbers that read as they are written (20260501), which keeps their order and turns back into text by itself. Rejected: days
 * counted from an epoch (a calendar each way, for nothing), and a column apart for each number (seven arrays to move for a game that
 * came late, where here it is one).
 *
 * SPEC: RP.
 */
import type { CompiledRules } from "../exchange/compiled-rules.ts";
import type { Day, Lineup } from "../ledger/kinds.ts";
import { isOneSpan } from "../rules/effective.ts";
import { rulesOn } from "./adoption.ts";
import { daysSpanned } from "./calendar.ts";
import type { FoldInput, PlayedMatch, Setting, Source } from "./card-input.ts";
import { isSetting } from "./card-input.ts";
import { pointsOf } from "./game-worth.ts";

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

/** How many rows a source has. */
export const rowsOfSource = (source: Source): number => (isSetting(source) ? 1 : source.facts.games.length);

/** Writes the rows of a source, each `wide` numbers, from row `place` on. */
export function writeRows(table: Int32Array, wide: number, place: number, source: Source, input: FoldInput): void {
  let at = place * wide;
  if (isSetting(source)) {
    const { body } = source;
    const index = startingIndex(source, rulesOn(input.adoptions, body.from));
    writeRow(table, at, dayDigits(body.from), SETTING, index, body.handicap);
    return;
  }
  const { facts } = source;
  const rules = rulesOn(input.adoptions, facts.date);
  const first = seatOf(facts.sides[0], input, true);
  const side = first === null ? 1 : 0;
  const me = first ?? (seatOf(facts.sides[1], input, true) as Lineup);
  const day = dayDigits(facts.date);
  const window = windowOf(source, day, rules, input);
  for (const game of facts.games) {
    writeRow(table, at, day, window, pointsOf(facts, game, side, me, rules), me.off);
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
export const sideOf = ({ facts }: PlayedMatch, input: FoldInput): 0 | 1 =>
  seatOf(facts.sides[0], input, true) === null ? 1 : 0;

/** The first on a side who is the card's player, or is not. A loop and no callback: this is asked a million times. */
export function seatOf(side: readonly Lineup[], { player: self, also }: FoldInput, own: boolean): Lineup | null {
  for (const one of side) if ((one.player === self || also?.has(one.player) === true) === own) return one;
  return null;
}

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

/** 20260501 for "2026-05-01". */
export function dayDigits(day: Day): number {
  let number = 0;
  for (let at = 0; at < 10; at++) if (at !== 4 && at !== 7) number = number * 10 + day.charCodeAt(at) - 48;
  return number;
}

export function dayText(number: number): Day {
  const digits = String(number).padStart(8, "0");
  return `${digits.slice(0, 4)}-${digits.slice(4, 6)}-${digits.slice(6)}`;
}
