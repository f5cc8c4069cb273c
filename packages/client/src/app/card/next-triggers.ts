/** How far a player is from the next change of handicap, either way. Pure arithmetic on the trigger table. */
import type { RuleSet } from "@sward/core";

export interface NextTrigger {
  readonly handicap: number;
  readonly trigger: number;
  /** Points to gain, or to lose, until the trigger point is reached; 0 when it is reached already and the change is waiting. */
  readonly away: number;
}

export interface NextTriggers {
  /** The next lower handicap, which is reached by winning; null at the end of the table. */
  readonly lower: NextTrigger | null;
  /** The next higher one, which is fallen to by losing. */
  readonly higher: NextTrigger | null;
}

export function nextTriggers(set: RuleSet, handicap: number, index: number): NextTriggers {
  const lower = set.triggers.findLast((row) => row.handicap < handicap);
  const higher = set.triggers.find((row) => row.handicap > handicap);
  return {
    lower: lower === undefined ? null : at(lower, Math.max(0, lower.trigger - index)),
    higher: higher === undefined ? null : at(higher, Math.max(0, index - higher.trigger)),
  };
}

const at = ({ handicap, trigger }: { handicap: number; trigger: number }, away: number): NextTrigger => ({
  handicap,
  trigger,
  away,
});
