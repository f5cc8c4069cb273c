/** The form for setting a handicap by a handicapper's decision: what it holds, what is wrong with it, what it would write. */
import type { Card, Day, Draft, RuleSet } from "@sward/core";
import { handicapInForce, triggerOf } from "@sward/core";
import { cardWords } from "../words/card.ts";

export interface HandicapForm {
  readonly handicap: number;
  readonly from: string;
  readonly reason: string;
}

export interface HandicapFormFaults {
  readonly from: string | null;
  readonly reason: string | null;
}

export const isDay = (text: string): boolean =>
  /^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(Date.parse(`${text}T00:00:00Z`));

export function faultsOf({ from, reason }: HandicapForm): HandicapFormFaults | null {
  const faults = {
    from: isDay(from) ? null : cardWords.set.dateMissing,
    reason: reason.trim() === "" ? cardWords.set.reasonMissing : null,
  };
  return faults.from === null && faults.reason === null ? null : faults;
}

/** What the decision would do, to be said before it is saved. */
export interface Effect {
  /** Index it sets; null when the table has no such handicap. */
  readonly index: number | null;
  /** Lines after it, which are worked out again. */
  readonly later: number;
  /** It is the handicap in force on that day already. */
  readonly same: boolean;
}

export function effectOf(card: Card, set: RuleSet | undefined, { handicap, from }: HandicapForm): Effect {
  return {
    index: set === undefined ? null : (triggerOf(set, handicap) ?? null),
    later: card.lines.filter(({ date }) => date >= from).length,
    same: handicapInForce(card, from as Day).handicap === handicap,
  };
}

export const settingDraft = (card: Card, { handicap, from, reason }: HandicapForm): Draft => ({
  kind: "handicap-set",
  body: { player: card.player, handicap, from, basis: "discretionary", reason: reason.trim() },
});
