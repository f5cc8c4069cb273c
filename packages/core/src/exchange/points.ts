/**
 * The index points one game moves, for whoever asks about one game: a screen before saving, the command line, a test. It
 * answers from the compiled rules, as the replay does, so a screen cannot promise what the card will not show.
 *
 * One number is returned, not two: the winner gains it and the loser loses it, so no caller can make the sum anything but
 * zero. Rejected: taking indexes instead of handicaps (the printed tables are entered by the two handicaps).
 *
 * SPEC: EX1 to EX9.
 */
import type { Play } from "../ledger/kinds.ts";
import type { Result } from "../result.ts";
import { fail, ok } from "../result.ts";
import type { RuleSet } from "../rules/rule-set.ts";
import { isInTable } from "../rules/triggers.ts";
import { compileRules, doublesPoints, singlesPoints, UNREAD } from "./compiled-rules.ts";

export type ExchangeFault =
  /** The rule set has no such handicap: `side` says whose it is. */
  | {
      readonly type: "exchange-unknown-handicap";
      readonly rules: string;
      readonly side: "winner" | "loser";
      readonly handicap: number;
    }
  /** A side is one player or two, and both sides are alike. */
  | { readonly type: "exchange-sides"; readonly winners: number; readonly losers: number }
  /** The governing body has a table for such games and it could not be read. */
  | { readonly type: "exchange-not-read"; readonly rules: string; readonly play: Play; readonly players: 2 | 4 };

export interface ExchangeQuestion {
  readonly play: Play;
  /** Handicaps the players were played off, one for singles and two for doubles. */
  readonly winner: readonly number[];
  readonly loser: readonly number[];
}

/**
 * Index points each winner gains and each loser loses: 0 when the rule set moves nothing for such a game.
 * Whether the game's occasion counts at all is another question (`occasionCounts`).
 */
export function exchangePoints(
  set: RuleSet,
  game: ExchangeQuestion,
): Result<{ readonly points: number }, ExchangeFault> {
  const { play, winner, loser } = game;
  const rules = compileRules(set);
  const [winnerOff] = winner;
  const [loserOff] = loser;
  if (winner.length !== loser.length || winner.length > 2 || winnerOff === undefined || loserOff === undefined) {
    return fail({ type: "exchange-sides", winners: winner.length, losers: loser.length });
  }
  for (const [side, handicaps] of [
    ["winner", winner],
    ["loser", loser],
  ] as const) {
    const handicap = handicaps.find((each) => !isInTable(rules, each));
    if (handicap !== undefined) return fail({ type: "exchange-unknown-handicap", rules: set.id, side, handicap });
  }
  const singles = winner.length === 1;
  const points = singles ? singlesPoints(rules, play, winnerOff, loserOff) : doublesPoints(rules, play);
  if (points === UNREAD) return fail({ type: "exchange-not-read", rules: set.id, play, players: singles ? 2 : 4 });
  return ok({ points });
}
