/**
 * Whether a rule set that has the right form also makes sense: the faults a schema cannot see. Kept apart from the schema, so
 * that each names the row and the reason. The first fault found is the one returned: a set is taken whole or not at all, and
 * whoever writes one corrects it row by row. Rejected: repairing (sorting rows, dropping doubles): the set used would then not
 * be the set that was written.
 *
 * SPEC: RU1, RU2, RU10.
 */
import type { Format, Occasion } from "../ledger/kinds.ts";
import { occasions } from "../ledger/kinds.ts";
import type { Result } from "../result.ts";
import { fail, ok } from "../result.ts";
import type { ExchangeRule, RuleSet, Standing } from "./rule-set.ts";
import { triggerOf } from "./triggers.ts";

/** `at` is a path into the set, such as `triggers.3` or `exchange.levelSingles`; rows count from 0. */
export type RuleSetFault =
  /** Not the shape of a rule set; `problem` is the code of the check that failed. */
  | { readonly type: "rule-set-form"; readonly at: string; readonly problem: string }
  | { readonly type: "handicaps-not-ascending"; readonly at: string; readonly handicap: number }
  | {
      readonly type: "triggers-not-descending";
      readonly at: string;
      readonly handicap: number;
      readonly trigger: number;
    }
  | { readonly type: "source-unknown"; readonly at: string; readonly source: string }
  /** Said to be published or derived, without saying where. */
  | { readonly type: "source-missing"; readonly at: string }
  /** Common practice has no source; a row that has one is published or derived. */
  | { readonly type: "source-of-common-practice"; readonly at: string; readonly source: string }
  /** Not 0 <= min <= max <= sum. */
  | { readonly type: "exchange-bounds"; readonly at: string }
  /** A pair has two handicaps and no rule says which difference of trigger points would be meant. */
  | { readonly type: "logistic-for-doubles"; readonly at: string }
  | { readonly type: "occasion-not-once"; readonly occasion: Occasion; readonly times: number }
  /** 7 and 19 need one conversion each, 13 none. */
  | { readonly type: "conversion-not-once"; readonly format: Format; readonly times: number }
  | { readonly type: "assessment-not-ascending"; readonly at: string }
  /** A starting handicap begins at its own trigger. */
  | { readonly type: "assessment-index"; readonly at: string; readonly handicap: number; readonly index: number };

/** The set itself when every row holds; SPEC RU1, RU2. */
export function checkRuleSet(set: RuleSet): Result<RuleSet, RuleSetFault> {
  const fault =
    triggerFault(set) ?? sourceFault(set) ?? exchangeFault(set) ?? onceFault(set) ?? assessmentFault(set) ?? null;
  return fault === null ? ok(set) : fail(fault);
}

function triggerFault(set: RuleSet): RuleSetFault | undefined {
  for (const [row, { handicap, trigger }] of set.triggers.entries()) {
    const before = set.triggers[row - 1];
    if (before === undefined) continue;
    const at = `triggers.${row}`;
    if (handicap <= before.handicap) return { type: "handicaps-not-ascending", at, handicap };
    if (trigger >= before.trigger) return { type: "triggers-not-descending", at, handicap, trigger };
  }
  return undefined;
}

type Provenance = { readonly source: string | null; readonly standing: Standing };

function provenances(set: RuleSet): readonly (readonly [string, Provenance])[] {
  const rows = (name: string, list: readonly Provenance[]) =>
    list.map((row, number): readonly [string, Provenance] => [`${name}.${number}`, row]);
  return [
    ...rows("triggers", set.triggers),
    ...exchanges(set).map(([at, rule]): readonly [string, Provenance] => [at, rule]),
    ["effective", set.effective],
    ...rows("counting", set.counting),
    ...rows("strokes.conversions", set.strokes.conversions),
    ["strokes.doubles", set.strokes.doubles],
    ...rows("assessment", set.assessment),
    ...rows("olderScale", set.olderScale),
  ];
}

function sourceFault(set: RuleSet): RuleSetFault | undefined {
  for (const [at, { source, standing }] of provenances(set)) {
    if (source === null) {
      if (standing !== "common practice") return { type: "source-missing", at };
    } else {
      if (standing === "common practice") return { type: "source-of-common-practice", at, source };
      if (!Object.hasOwn(set.sources, source)) return { type: "source-unknown", at, source };
    }
  }
  return undefined;
}

function exchanges(set: RuleSet): readonly (readonly [string, ExchangeRule])[] {
  const { handicapSingles, handicapDoubles, levelSingles, levelDoubles } = set.exchange;
  return [
    ["exchange.handicapSingles", handicapSingles],
    ["exchange.handicapDoubles", handicapDoubles],
    ["exchange.levelSingles", levelSingles],
    ["exchange.levelDoubles", levelDoubles],
  ];
}

function exchangeFault(set: RuleSet): RuleSetFault | undefined {
  for (const [at, rule] of exchanges(set)) {
    if (rule.kind !== "logistic") continue;
    if (at.endsWith("Doubles")) return { type: "logistic-for-doubles", at };
    if (rule.min > rule.max || rule.max > rule.sum) return { type: "exchange-bounds", at };
  }
  return undefined;
}

function onceFault(set: RuleSet): RuleSetFault | undefined {
  for (const occasion of occasions) {
    const times = set.counting.filter((row) => row.occasion === occasion).length;
    if (times !== 1) return { type: "occasion-not-once", occasion, times };
  }
  for (const format of [7, 13, 19] as const) {
    const times = set.strokes.conversions.filter((row) => row.format === format).length;
    if (times !== (format === 13 ? 0 : 1)) return { type: "conversion-not-once", format, times };
  }
  return undefined;
}

function assessmentFault(set: RuleSet): RuleSetFault | undefined {
  for (const [row, { atLeast, atMost, handicap, index }] of set.assessment.entries()) {
    const before = set.assessment[row - 1];
    if (triggerOf(set, handicap) !== index)
      return { type: "assessment-index", at: `assessment.${row}`, handicap, index };
    const follows = before === undefined || (before.atMost !== null && before.atMost < atLeast);
    if (!follows || (atMost !== null && atMost < atLeast)) {
      return { type: "assessment-not-ascending", at: `assessment.${row}` };
    }
  }
  return undefined;
}
