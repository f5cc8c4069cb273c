/** The rule set a book's games of a day are computed under, and the same for the whole span of its record. */
import type { Adoptions, BookState, Day, RuleSet } from "@sward/core";
import { compileRules, findRuleSet } from "@sward/core";

/** Undefined when the book adopted none, or one this version does not have. */
export function rulesOnDay({ rules }: Pick<BookState, "rules">, day: Day): RuleSet | undefined {
  const known = rules.flatMap(({ rules: id, from }) => {
    const set = findRuleSet(id);
    return set === undefined ? [] : [{ set, from }];
  });
  return (known.findLast(({ from }) => from <= day) ?? known[0])?.set;
}

/** What `foldCard` wants, from what the state tells: null while nothing this version knows was adopted. */
export function adoptionsOf({ rules }: Pick<BookState, "rules">): Adoptions | null {
  const known = rules.flatMap(({ rules: id, from }) => {
    const set = findRuleSet(id);
    return set === undefined ? [] : [{ from, rules: compileRules(set) }];
  });
  const [first, ...rest] = known;
  return first === undefined ? null : [first, ...rest];
}
