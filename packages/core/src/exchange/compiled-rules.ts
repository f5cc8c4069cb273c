/**
 * A rule set as a fold over a million games wants it: every answer one read of an array, nothing allocated, no text compared.
 * For each kind of play in singles one square of points, winner down and loser across, for all handicaps an entry can hold;
 * doubles move everyone alike, so there one number does.
 *
 * Compiling takes a few milliseconds and gives the same answer always, so it is remembered for as long as the set itself is
 * held. Rejected: asking the rule set each time (a search through its rows for each game) and working the logistic out for
 * each game (some thousand bits of arithmetic).
 *
 * SPEC: EX1 to EX9.
 */
import type { Occasion, Play } from "../ledger/kinds.ts";
import { occasionCounts } from "../rules/effective.ts";
import type { ExchangeRule, RuleSet } from "../rules/rule-set.ts";
import type { CompiledTriggers } from "../rules/triggers.ts";
import { compileTriggers, LOWEST, SPAN } from "../rules/triggers.ts";
import { createLogistic } from "./logistic.ts";

/** No row in the trigger table for one of the handicaps: the game moves nothing and the card says so. */
export const NOT_IN_TABLE = -1;

/** The body's table exists and could not be read: the game moves nothing and the card says so. */
export const UNREAD = -2;

export interface CompiledRules extends CompiledTriggers {
  readonly set: RuleSet;
  /** By (winner - LOWEST) * SPAN + (loser - LOWEST): points, NOT_IN_TABLE or UNREAD. */
  readonly handicapSingles: Int16Array;
  readonly levelSingles: Int16Array;
  /** Points each winner gains and each loser loses, or UNREAD. */
  readonly handicapDoubles: number;
  readonly levelDoubles: number;
  /** Occasions whose games count. */
  readonly counting: ReadonlySet<Occasion>;
}

const compiledBySet = new WeakMap<RuleSet, CompiledRules>();

/** The same object for the same rule set, which must be one that `checkRuleSet` let through. */
export function compileRules(set: RuleSet): CompiledRules {
  const known = compiledBySet.get(set);
  if (known !== undefined) return known;
  const { handicapSingles, handicapDoubles, levelSingles, levelDoubles } = set.exchange;
  const compiled: CompiledRules = {
    ...compileTriggers(set),
    set,
    handicapSingles: singlesSquare(set, handicapSingles),
    levelSingles: singlesSquare(set, levelSingles),
    handicapDoubles: alikePoints(handicapDoubles),
    levelDoubles: alikePoints(levelDoubles),
    counting: new Set(set.counting.map((row) => row.occasion).filter((occasion) => occasionCounts(set, occasion))),
  };
  compiledBySet.set(set, compiled);
  return compiled;
}

/**
 * Points the winner of a singles game gains and the loser loses, or NOT_IN_TABLE or UNREAD. Allocates nothing.
 * @param winnerOff the handicap the winner was played off; both must be handicaps an entry can hold (the schema `Handicap`),
 *   a number outside that range would read another pair's square
 */
export function singlesPoints(rules: CompiledRules, play: Play, winnerOff: number, loserOff: number): number {
  const square = play === "level" ? rules.levelSingles : rules.handicapSingles;
  return square[(winnerOff - LOWEST) * SPAN + (loserOff - LOWEST)] ?? NOT_IN_TABLE;
}

/** Points each winner of a doubles game gains and each loser loses (0 when doubles do not count), or UNREAD. */
export function doublesPoints(rules: CompiledRules, play: Play): number {
  return play === "level" ? rules.levelDoubles : rules.handicapDoubles;
}

function singlesSquare(set: RuleSet, rule: ExchangeRule): Int16Array {
  const square = new Int16Array(SPAN * SPAN).fill(NOT_IN_TABLE);
  const points = pointsByDifference(rule);
  for (const winner of set.triggers) {
    for (const loser of set.triggers) {
      const place = (winner.handicap - LOWEST) * SPAN + (loser.handicap - LOWEST);
      square[place] = points(winner.trigger - loser.trigger);
    }
  }
  return square;
}

function pointsByDifference(rule: ExchangeRule): (difference: number) => number {
  if (rule.kind !== "logistic") {
    const alike = alikePoints(rule);
    return () => alike;
  }
  const logistic = createLogistic(rule);
  const known = new Map<number, number>();
  return (difference) => {
    const points = known.get(difference) ?? logistic(difference);
    known.set(difference, points);
    return points;
  };
}

function alikePoints(rule: ExchangeRule): number {
  if (rule.kind === "fixed") return rule.points;
  if (rule.kind === "none") return 0;
  if (rule.kind === "unread") return UNREAD;
  throw new Error("a logistic exchange depends on the two handicaps: checkRuleSet refuses it for doubles");
}
