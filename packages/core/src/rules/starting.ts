/**
 * The starting handicap a rule set gives for the three-rounds test: three rounds of hoops 1 to 6 from the fourth corner, the
 * strokes of all three added. A proposal to the club's handicapper, who decides.
 *
 * SPEC: RU10.
 */
import type { AssessmentRow, RuleSet } from "./rule-set.ts";

/**
 * @param strokes of the three rounds together
 * @returns the row with handicap and index; undefined below the table (such players are assessed separately) and for a set
 *   whose table could not be read
 */
export function startingRow(set: RuleSet, strokes: number): AssessmentRow | undefined {
  return set.assessment.find(({ atLeast, atMost }) => strokes >= atLeast && (atMost === null || strokes <= atMost));
}
