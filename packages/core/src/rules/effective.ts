/**
 * Two questions about a day at the club that a rule set answers: is the game one that counts, and does a change of handicap
 * wait for the end of the event. The spans themselves are laid over the games by the replay; here is only what the set says.
 *
 * SPEC: RU8, RU9.
 */
import type { Occasion } from "../ledger/kinds.ts";
import type { RuleSet } from "./rule-set.ts";

/** Whether a game played for this occasion moves an index at all (before any exclusion both clubs agreed). */
export function occasionCounts(set: RuleSet, occasion: Occasion): boolean {
  return set.counting.some((row) => row.occasion === occasion && row.counts);
}

/**
 * Whether all games of one event settle together, after its last game. When not, each day of it settles by itself.
 * @param days how many days the event lasts, first and last included
 */
export function isOneSpan(set: RuleSet, occasion: Occasion, days: number): boolean {
  const { unit, eventDays, wholeEvents } = set.effective;
  return unit === "event" && (days <= eventDays || wholeEvents.includes(occasion));
}
