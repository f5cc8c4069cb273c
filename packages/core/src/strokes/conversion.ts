/**
 * Extra strokes of a game of another length than 13 points. Apart from `extra-strokes.ts`, for between two players their difference,
 * converted, is all there is: who asks only that needs nothing of doubles and their choices.
 *
 * SPEC: ST2.
 */
import type { Format } from "../ledger/kinds.ts";
import type { RuleSet } from "../rules/rule-set.ts";

/**
 * Strokes of a 13-point game in a game of another length, halves up: 19 strokes are 28 in a 19-point game.
 * @returns null when the rule set says nothing of that length
 */
export function convertedStrokes(set: RuleSet, format: Format, strokes: number): number | null {
  if (format === 13) return strokes;
  const row = set.strokes.conversions.find((each) => each.format === format);
  if (row === undefined) return null;
  return Math.floor((2 * strokes * row.numerator + row.denominator) / (2 * row.denominator));
}
