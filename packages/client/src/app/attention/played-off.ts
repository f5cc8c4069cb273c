/**
 * A game played off another handicap than the record gives for its day stands as it was played. Here is what would have been
 * different: the points that were exchanged, and in handicap play the extra strokes.
 */
import type { GameLine, RuleSet } from "@sward/core";
import {
  compileRules,
  convertedStrokes,
  doublesPoints,
  findRuleSet,
  isInTable,
  singlesPoints,
  triggerOf,
} from "@sward/core";

export interface PlayedOff {
  readonly off: number;
  readonly record: number;
  /** With the player's sign; null where the rules give none for such a game. */
  readonly points: { readonly was: number; readonly would: number | null };
  /** Extra strokes of the player less those of the opponent, singles in handicap play; null otherwise. */
  readonly strokes: { readonly was: number; readonly would: number } | null;
}

export function playedOff(line: GameLine): PlayedOff {
  const off = line.notice?.off ?? line.off;
  const record = line.notice?.record ?? line.off;
  const set = findRuleSet(line.rules);
  return {
    off,
    record,
    points: { was: line.points, would: set === undefined ? null : pointsOff(set, line, record) },
    strokes: set === undefined ? null : strokesBoth(set, line, off, record),
  };
}

/**
 * As `exchangePoints` has it, which also says why not, as nobody asks here. A game that moved nothing, for what it was played for or how
 * it ended, would have moved nothing off any handicap.
 */
function pointsOff(set: RuleSet, { play, partner, opponents, points: was }: GameLine, own: number): number | null {
  if (was === 0) return 0;
  const rules = compileRules(set);
  const [theirs = own, ...others] = [...opponents, ...(partner === null ? [] : [partner])].map(({ off }) => off);
  if ([own, theirs, ...others].some((off) => !isInTable(rules, off))) return null;
  const [winner, loser] = was > 0 ? [own, theirs] : [theirs, own];
  const points = partner === null ? singlesPoints(rules, play, winner, loser) : doublesPoints(rules, play);
  return points < 0 ? null : was > 0 ? points : -points;
}

function strokesBoth(set: RuleSet, line: GameLine, off: number, record: number): PlayedOff["strokes"] {
  const [opponent] = line.opponents;
  if (line.play === "level" || line.partner !== null || opponent === undefined) return null;
  const was = strokesOff(set, line, off, opponent.off);
  const would = strokesOff(set, line, record, opponent.off);
  return was === null || would === null ? null : { was, would };
}

/** As `extraStrokes` has it between two. That also knows doubles and their choices, which the first view would have to fetch for this. */
function strokesOff(set: RuleSet, { format }: GameLine, own: number, other: number): number | null {
  const strokes = convertedStrokes(set, format, Math.abs(own - other));
  if (strokes === null || triggerOf(set, own) === undefined || triggerOf(set, other) === undefined) return null;
  return own < other ? -strokes : strokes;
}
