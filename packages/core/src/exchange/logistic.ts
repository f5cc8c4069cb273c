/**
 * points = round(sum / (1 + base^(D / scale))), halves up, held within min..max; D = winner's trigger less loser's.
 *
 * Worked out without a single fraction. Two devices must never differ by a point because one rounded 0.4999999 another way,
 * and `Math.pow` may differ between engines. The points are at least k exactly when
 *
 *     sum / (1 + base^(D/scale)) >= k - 1/2
 *     (2k - 1) * base^(D/scale)  <= 2*sum - 2k + 1
 *     (2k - 1)^scale * base^D    <= (2*sum - 2k + 1)^scale          all whole numbers; for D < 0 the power of base
 *                                                                   stands on the other side
 *
 * which BigInt decides exactly. The powers have some thousands of bits, so this is for filling a table once, not for a game.
 * Rejected: floating point with a tolerance (some difference lies inside any tolerance) and a printed matrix (nobody could
 * read one; a rule set from another country would need its own).
 *
 * SPEC: EX2, EX3.
 */
import type { LogisticExchange } from "../rules/rule-set.ts";

type Points = (difference: number) => number;

/**
 * The exchange of a logistic rule as a function of D, in index points.
 * @returns whole points within min..max; the function remembers the powers it needed
 */
export function createLogistic(rule: LogisticExchange): Points {
  const scale = BigInt(rule.scale);
  const base = BigInt(rule.base);
  const powers = new Map<number, bigint>();

  const toScale = (odd: number): bigint => {
    const known = powers.get(odd);
    if (known !== undefined) return known;
    const power = BigInt(odd) ** scale;
    powers.set(odd, power);
    return power;
  };

  /** Whether the rounded points are at least k, 1 <= k <= sum. */
  const reaches = (k: number, difference: number): boolean => {
    const gap = base ** BigInt(Math.abs(difference));
    const left = toScale(2 * k - 1);
    const right = toScale(2 * rule.sum - 2 * k + 1);
    return difference >= 0 ? left * gap <= right : left <= right * gap;
  };

  return (difference) => {
    let reached = rule.min;
    let beyond = rule.max + 1;
    while (beyond - reached > 1) {
      const middle = Math.floor((reached + beyond) / 2);
      if (reaches(middle, difference)) reached = middle;
      else beyond = middle;
    }
    return reached;
  };
}
