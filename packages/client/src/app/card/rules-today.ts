/** The rules a card is worked out under today, and since when. */
import type { BookState, Day, RuleSet } from "@sward/core";
import { findRuleSet } from "@sward/core";

export interface RulesToday {
  readonly set: RuleSet;
  readonly from: Day;
}

/** Null while the club has adopted none that this version has. */
export function rulesToday(state: Pick<BookState, "rules">, today: Day): RulesToday | null {
  for (const { rules, from } of [...state.rules].reverse()) {
    const set = from <= today ? findRuleSet(rules) : undefined;
    if (set !== undefined) return { set, from };
  }
  return null;
}
