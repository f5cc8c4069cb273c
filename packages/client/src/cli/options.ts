/** Options that several commands share, and how what was typed becomes numbers. The form edge of the command line. */
import type { Result, RuleSet } from "@sward/core";
import { Day, fail, findRuleSet, Index, ok, ruleSets } from "@sward/core";
import { Option } from "commander";
import type { CliFault, LeagueCliFault } from "./faults.ts";

export const DEFAULT_RULES = "england-2016";

export const rulesOption = (): Option => new Option("--rules <id>", "the rule set").default(DEFAULT_RULES);

export const jsonOption = (): Option => new Option("--json", "print one line of JSON instead of text");

export function findRules(id: string): Result<RuleSet, CliFault> {
  const set = findRuleSet(id);
  return set === undefined
    ? fail({ type: "rules-unknown", rules: id, known: ruleSets.map((each) => each.id) })
    : ok(set);
}

/** `4` or `-2`; a minus sign pasted from a printed table is one too. */
export function readHandicap(typed: string): Result<number, CliFault> {
  const plain = typed.trim().replace("\u2212", "-");
  return /^-?\d{1,3}$/.test(plain) ? ok(Number(plain)) : fail({ type: "not-a-handicap", given: typed });
}

/** `4,9`: the handicaps of one side, in the order typed. */
export function readHandicaps(typed: string): Result<readonly number[], CliFault> {
  const handicaps: number[] = [];
  for (const part of typed.split(",")) {
    const handicap = readHandicap(part);
    if (!handicap.ok) return handicap;
    handicaps.push(handicap.value);
  }
  return ok(handicaps);
}

/** `1390`: an index, as on a card. */
export function readIndex(typed: string): Result<number, CliFault> {
  const plain = typed.trim().replace("\u2212", "-");
  return /^-?\d{1,5}$/.test(plain) && Index().safeParse(Number(plain)).success
    ? ok(Number(plain))
    : fail({ type: "not-an-index", given: typed });
}

/** `2031-05-24`: a day that exists. */
export function readDay(typed: string): Result<Day, LeagueCliFault> {
  const day = Day().safeParse(typed.trim());
  return day.success ? ok(day.data) : fail({ type: "not-a-day", given: typed });
}
