/**
 * The rule sets that come with the program, and the way in for one that does not. Both go through the same two checks, form
 * and sense, so a slip in our own data cannot move somebody's index: ours in the tests, which read each of them the same way. Rejected:
 * checking ours again at every start (a phone would fetch the checks and run them before its first picture, for the same bytes).
 *
 * SPEC: RU1, RU2, RU3.
 */
import type { Result } from "../result.ts";
import { fail } from "../result.ts";
import type { RuleSetFault } from "./check.ts";
import { checkRuleSet } from "./check.ts";
import { england2016, england2016LikePairing } from "./england.ts";
import { newSouthWales2022 } from "./new-south-wales.ts";
import { RuleSet } from "./rule-set.ts";

/**
 * A rule set from parsed JSON, taken whole or refused with the first thing that is wrong.
 * @param json whatever a file or another device brought
 */
export function parseRuleSet(json: unknown): Result<RuleSet, RuleSetFault> {
  const parsed = RuleSet.safeParse(json);
  if (parsed.success) return checkRuleSet(parsed.data);
  const issue = parsed.error.issues[0];
  return fail({
    type: "rule-set-form",
    at: issue === undefined ? "" : issue.path.map(String).join("."),
    problem: issue?.code ?? "custom",
  });
}

/** In the order they are shown. */
export const ruleSets: readonly RuleSet[] = [england2016, england2016LikePairing, newSouthWales2022];

/** @param id such as `england-2016` */
export const findRuleSet = (id: string): RuleSet | undefined => ruleSets.find((set) => set.id === id);
