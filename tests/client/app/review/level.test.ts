/** Level play against what the rules' curve expects: calibration and log loss. */
import type { LevelGap } from "@sward/core";
import { exchangePoints, findRuleSet, ruleSets, triggerOf } from "@sward/core";
import { expect, test } from "vitest";
import { COIN, expectationOf, logLossOf, reviewLevel } from "../../../../packages/client/src/app/review/level.ts";

const england = findRuleSet("england-2016")!;
const gap = (difference: number, handicaps: number, games: number, won: number): LevelGap => ({
  rules: "england-2016",
  difference,
  gap: handicaps,
  games,
  won,
});

test("what is expected is the curve the points come from: what a loser risks, as a share of all", () => {
  for (const set of ruleSets) {
    const rule = set.exchange.levelSingles;
    if (rule.kind !== "logistic") throw new Error(`${set.id} has no curve`);
    for (const one of set.triggers) {
      for (const two of set.triggers) {
        const found = exchangePoints(set, { play: "level", winner: [two.handicap], loser: [one.handicap] });
        if (!found.ok) throw new Error(JSON.stringify(found.fault));
        // The first player's expectation is the share of the points the other would take for a win, but for rounding and limits.
        const share = expectationOf(set, triggerOf(set, one.handicap)! - triggerOf(set, two.handicap)!)!;
        const held = Math.min(rule.max, Math.max(rule.min, rule.sum * share));
        expect(Math.abs(found.value.points - held)).toBeLessThanOrEqual(0.5);
      }
    }
  }
});

test("equal handicaps expect one half, one scale apart the base to one, and both sides together one", () => {
  expect(expectationOf(england, 0)).toBe(0.5);
  expect(expectationOf(england, 500)).toBeCloseTo(10 / 11, 12);
  expect(expectationOf(england, 350)! + expectationOf(england, -350)!).toBeCloseTo(1, 12);
});

test("log loss is the one in print", () => {
  // scikit-learn, sklearn.metrics.log_loss, example: spam 0.9, ham 0.9, ham 0.8, spam 0.65 come to 0.21616...
  // https://scikit-learn.org/1.0/modules/generated/sklearn.metrics.log_loss.html
  expect(logLossOf([0.9, 0.9, 0.8, 0.65])!.mean.toFixed(5)).toBe("0.21616");
});

test("a coin scores ln 2, and how far chance moves a mean is its standard error", () => {
  const coin = logLossOf([0.5, 0.5, 0.5])!;
  expect(coin.mean).toBeCloseTo(COIN, 12);
  expect(coin).toMatchObject({ games: 3, better: 0, error: 0 });
  // Two games at 0.8 and 0.4: gains ln 1.6 and ln 0.8, half their difference.
  const two = logLossOf([0.8, 0.4])!;
  expect(two.better).toBeCloseTo((Math.log(1.6) + Math.log(0.8)) / 2, 12);
  expect(two.error).toBeCloseTo((Math.log(1.6) - Math.log(0.8)) / 2, 12);
  expect(logLossOf([])).toBeNull();
});

test("bands: games, wins and mean expectation together; equal handicaps in none, but in the log loss", () => {
  const review = reviewLevel([gap(0, 0, 3, 0), gap(50, 1, 4, 3), gap(100, 2, 2, 1), gap(600, 12, 1, 0)], findRuleSet);
  const fifty = 1 / (1 + 10 ** -0.1);
  const hundred = 1 / (1 + 10 ** -0.2);
  const large = 1 / (1 + 10 ** -1.2);
  expect(review.bands.map(({ from, to, games, won }) => [from, to, games, won])).toEqual([
    [1, 2, 6, 4],
    [10, null, 1, 0],
  ]);
  expect(review.bands[0]!.expected).toBeCloseTo((4 * fifty + 2 * hundred) / 6, 12);
  expect(review.bands[0]!.observed).toBeCloseTo(4 / 6, 12);
  expect(review.equal).toBe(3);
  expect(review.unequal).toMatchObject({ games: 7, won: 4 });
  expect(review.unequal.expected).toBeCloseTo(4 * fifty + 2 * hundred + large, 12);
  const losses = [
    ...[COIN, COIN, COIN],
    ...[fifty, fifty, fifty, 1 - fifty, hundred, 1 - hundred, 1 - large].map((p) => -Math.log(p)),
  ];
  expect(review.logLoss!.games).toBe(10);
  expect(review.logLoss!.mean).toBeCloseTo(losses.reduce((sum, loss) => sum + loss, 0) / 10, 12);
});

test("one game against all expectation is as unlikely as the curve says, counted at both ends", () => {
  const { unequal } = reviewLevel([gap(600, 12, 1, 0)], findRuleSet);
  expect(unequal.chance).toBeCloseTo(2 * (1 - 1 / (1 + 10 ** -1.2)), 12);
});

test("nothing to look at, and a rule set nobody knows", () => {
  expect(reviewLevel([], findRuleSet)).toMatchObject({ bands: [], equal: 0, logLoss: null });
  expect(reviewLevel([{ ...gap(50, 1, 4, 3), rules: "elsewhere" }], findRuleSet).logLoss).toBeNull();
});
