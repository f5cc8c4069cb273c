/**
 * The extra strokes of a game of handicap play: singles the difference of the two handicaps, doubles as the rule set pairs
 * partners, both converted for a shorter or longer game after rounding (two to the 7 in a 13-point game are one in a 7-point
 * game: Croquet North Carolina, 2013). The answer is every lawful choice, most strokes to the earliest seat first, so that two
 * devices list them alike.
 *
 * The handicaps must be ones the rule set has: a stroke count for a handicap that does not exist is more likely a slip of
 * the finger than a wish.
 *
 * SPEC: ST1 to ST11.
 */
import type { Format, Play } from "../ledger/kinds.ts";
import type { Result } from "../result.ts";
import { fail, ok } from "../result.ts";
import type { RuleSet } from "../rules/rule-set.ts";
import { triggerOf } from "../rules/triggers.ts";
import type { Choice, SeatExtras, Sides } from "./choice.ts";
import { choiceOf } from "./choice.ts";
import { convertedStrokes } from "./conversion.ts";
import { doublesExtras } from "./doubles.ts";

export type StrokesFault =
  /** `side` and `player` count from 1. */
  | {
      readonly type: "strokes-unknown-handicap";
      readonly rules: string;
      readonly side: 1 | 2;
      readonly player: 1 | 2;
      readonly handicap: number;
    }
  /** There are two sides, of one player each or of two. */
  | { readonly type: "strokes-sides"; readonly players: readonly number[] }
  | { readonly type: "strokes-level-play" }
  /** The rule set does not say how a game of this length is to be converted. */
  | { readonly type: "strokes-no-conversion"; readonly rules: string; readonly format: Format };

export interface StrokesQuestion {
  readonly format: Format;
  /** Handicaps in the order the players are named, one or two a side. */
  readonly sides: Sides;
  /** Handicap play unless said otherwise; level play gives no strokes and is a fault. */
  readonly play?: Play;
}

/** Every lawful way the extra strokes of a game may fall: one choice or several, never none. */
export function extraStrokes(
  set: RuleSet,
  game: StrokesQuestion,
): Result<{ readonly choices: readonly Choice[] }, StrokesFault> {
  const { format, sides, play = "handicap" } = game;
  if (play === "level") return fail({ type: "strokes-level-play" });
  const fault = sidesFault(set, sides);
  if (fault !== null) return fail(fault);

  const inThirteen = thirteenPointExtras(set, sides);
  const converted: SeatExtras[] = [];
  for (const extras of inThirteen) {
    const lengths = extras.map((side) => side.map((strokes) => convertedStrokes(set, format, strokes)));
    if (lengths.flat().includes(null)) return fail({ type: "strokes-no-conversion", rules: set.id, format });
    converted.push(lengths.map((side) => side.map((strokes) => strokes ?? 0)));
  }
  return ok({ choices: distinct(converted).map((extras) => choiceOf(extras, sides)) });
}

function sidesFault(set: RuleSet, sides: Sides): StrokesFault | null {
  const players = sides.map((side) => side.length);
  const [first, second] = players;
  if (players.length !== 2 || first !== second || (first !== 1 && first !== 2)) {
    return { type: "strokes-sides", players };
  }
  for (const [sideAt, handicaps] of sides.entries()) {
    for (const [seat, handicap] of handicaps.entries()) {
      if (triggerOf(set, handicap) !== undefined) continue;
      const side = sideAt === 0 ? 1 : 2;
      return { type: "strokes-unknown-handicap", rules: set.id, side, player: seat === 0 ? 1 : 2, handicap };
    }
  }
  return null;
}

function thirteenPointExtras(set: RuleSet, sides: Sides): readonly SeatExtras[] {
  const [[a1, a2], [b1, b2]] = sides as readonly [readonly number[], readonly number[]];
  if (a1 === undefined || b1 === undefined) throw new Error("a side without players passed sidesFault");
  if (a2 === undefined || b2 === undefined) return [[[Math.max(a1 - b1, 0)], [Math.max(b1 - a1, 0)]]];
  return doublesExtras(set.strokes.doubles, [a1, a2], [b1, b2]);
}

function byMostToEarliestSeat(a: SeatExtras, b: SeatExtras): number {
  const [first, second] = [a.flat(), b.flat()];
  for (const [seat, strokes] of first.entries()) {
    const difference = (second[seat] ?? 0) - strokes;
    if (difference !== 0) return difference;
  }
  return 0;
}

/** Sorted, each once. */
function distinct(ways: readonly SeatExtras[]): readonly SeatExtras[] {
  const sorted = [...ways].sort(byMostToEarliestSeat);
  return sorted.filter((way, at) => at === 0 || byMostToEarliestSeat(way, sorted[at - 1] ?? way) !== 0);
}
