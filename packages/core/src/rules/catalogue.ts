/**
 * The rule sets that come with the program, and the way in for one that does not. Both go through the same two checks, form
 * and sense, so a slip in our own data stops the program at the first use of that set instead of moving somebody's index. Not at
 * load: a phone would check all of them at every start, for one that is used.
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

const checked = new Map<string, RuleSet>();

/** @param id such as `england-2016` */
export function findRuleSet(id: string): RuleSet | undefined {
  const before = checked.get(id);
  const written = ruleSets.find((set) => set.id === id);
  if (before !== undefined || written === undefined) return before;
  const result = parseRuleSet(written);
  if (!result.ok) throw new Error(`rule set ${id}: ${JSON.stringify(result.fault)}`);
  checked.set(id, written);
  return written;
}
