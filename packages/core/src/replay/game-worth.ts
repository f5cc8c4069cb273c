/**
 * What one game is worth on one player's card, and why: the points of an exchange, or what stood in the way of one. Apart from the fold,
 * which only adds it up.
 *
 * SPEC: RP.
 */
import type { CompiledRules } from "../exchange/compiled-rules.ts";
import { doublesPoints, NOT_IN_TABLE, singlesPoints, UNREAD } from "../exchange/compiled-rules.ts";
import type { Game, Lineup } from "../ledger/kinds.ts";
import { movedBy } from "../matches/single-game.ts";
import type { LineReason, MatchFacts } from "../state.ts";

export interface Worth {
  readonly reason: LineReason;
  /** Points moved on the player's own card. */
  readonly points: number;
}

/** @param side the player's */
export function worthOf(facts: MatchFacts, game: Game, side: 0 | 1, me: Lineup, rules: CompiledRules): Worth {
  const reason = standsAside(facts, game, rules);
  if (reason !== COUNTS) return { reason, points: 0 };
  const won = game.score[side] > game.score[side === 0 ? 1 : 0];
  const worth = gamePoints(facts, won, me, facts.sides[side === 0 ? 1 : 0], rules);
  return { reason: pricedAs(facts, worth), points: movedBy(worth, won) };
}

/** Nothing stands in the way of an exchange: which one it is, is told by `pricedAs`. */
const COUNTS = "handicap-singles";

function standsAside({ excluded, occasion }: MatchFacts, { ended, score }: Game, rules: CompiledRules): LineReason {
  if (ended === "abandoned" || ended === "walkover") return ended;
  if (excluded) return "excluded-beforehand";
  if (!rules.counting.has(occasion)) return "occasion-does-not-count";
  return score[0] === score[1] ? "drawn" : COUNTS;
}

/** Points the winner gains and the loser loses, NOT_IN_TABLE or UNREAD. */
function gamePoints(
  { play }: MatchFacts,
  won: boolean,
  me: Lineup,
  opponents: readonly Lineup[],
  rules: CompiledRules,
): number {
  const [opponent] = opponents;
  if (opponents.length !== 1 || opponent === undefined) return doublesPoints(rules, play);
  return won ? singlesPoints(rules, play, me.off, opponent.off) : singlesPoints(rules, play, opponent.off, me.off);
}

function pricedAs({ play, sides }: MatchFacts, worth: number): LineReason {
  if (worth === UNREAD) return "table-not-readable";
  if (worth === NOT_IN_TABLE) return "handicap-not-in-table";
  if (sides[0].length === 1) return play === "handicap" ? "handicap-singles" : "level-singles";
  if (worth === 0) return "doubles-do-not-count";
  return play === "handicap" ? "handicap-doubles" : "level-doubles";
}
