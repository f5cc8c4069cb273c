/**
 * An old card brought to a club: handicap and index of the scale before the rule set's own, put onto it. What the table does not
 * cover (a player at 2 or below with a current grade, a 12 who hovers at the bottom) is for a handicapper to decide, so there is no
 * answer rather than a guess.
 *
 * SPEC: RU11.
 */
import type { RuleSet } from "./rule-set.ts";

export interface ScaleReading {
  readonly handicap: number;
  readonly index: number;
}

/** Null when the set's table does not say. */
export function fromOlderScale(set: RuleSet, { handicap, index }: ScaleReading): ScaleReading | null {
  const row = set.olderScale.find(({ from, to }) => from <= handicap && handicap <= to);
  if (row === undefined) return null;
  const converted = index + row.add;
  const { unless } = row;
  if (unless !== null && converted >= unless.index) return { handicap: unless.handicap, index: converted };
  return { handicap, index: converted };
}
