/**
 * Shares and their evidence, held to published tables and to another library. What is called SciPy is SciPy 1.17.1, `binomtest(won,
 * games)` with `.proportion_ci()` and `.pvalue`.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  chanceAgainst,
  chanceOfShare,
  chancesOf,
  oneIn,
  shareInterval,
  standing,
} from "../../../../packages/client/src/app/review/share.ts";

test("the interval is the one in print", () => {
  // SciPy documentation, BinomTestResult.proportion_ci, 7 of 50:
  // https://docs.scipy.org/doc/scipy/reference/generated/scipy.stats._result_classes.BinomTestResult.proportion_ci.html
  const seven = shareInterval({ won: 7, games: 50 });
  expect(seven.low).toBeCloseTo(0.05819170033997342, 8);
  expect(seven.high).toBeCloseTo(0.26739600249700846, 8);
  // 5 of 25: 0.068 to 0.407 in Conover's tables (Practical Nonparametric Statistics, 1999), as worked through in InfluentialPoints,
  // Confidence intervals of proportions: http://influentialpoints.com/Training/confidence_intervals_of_proportions.htm
  const five = shareInterval({ won: 5, games: 25 });
  expect([five.low.toFixed(3), five.high.toFixed(3)]).toEqual(["0.068", "0.407"]);
  // Newcombe, Statistics in Medicine 17 (1998), table I, method 5. From memory: the paper could not be opened.
  for (const [won, games, low, high] of [
    [81, 263, "0.2527", "0.3676"],
    [15, 148, "0.0578", "0.1617"],
    [0, 20, "0.0000", "0.1684"],
    [1, 29, "0.0009", "0.1776"],
  ] as const) {
    const interval = shareInterval({ won, games });
    expect([interval.low.toFixed(4), interval.high.toFixed(4)]).toEqual([low, high]);
  }
});

const scipy = [
  [0, 1, 0, 0.975, 1],
  [1, 1, 0.025, 1, 1],
  [0, 10, 0, 0.308497107819, 0.001953125],
  [3, 10, 0.0667395111777, 0.65245285006, 0.34375],
  [5, 10, 0.187086028447, 0.812913971553, 1],
  [14, 18, 0.523627234264, 0.935907952282, 0.0308837890625],
  [9, 12, 0.428141538122, 0.945139355472, 0.14599609375],
  [20, 20, 0.831566529017, 1, 1.90734863281e-6],
  [31, 60, 0.383946017332, 0.647687069998, 0.897421826991],
  [61, 90, 0.57099963257, 0.772479693711, 0.000972760707951],
  [128, 300, 0.370002553072, 0.484793616616, 0.0129118356355],
  [1500, 3100, 0.46614008887, 0.501632314764, 0.0753716970753],
] as const;

test.each(scipy)("%i of %i: interval and chance are SciPy's", (won, games, low, high, chance) => {
  const interval = shareInterval({ won, games });
  expect(interval.low).toBeCloseTo(low, 7);
  expect(interval.high).toBeCloseTo(high, 7);
  expect(chanceOfShare({ won, games })).toBeCloseTo(chance, 7);
});

/**
 * Critical values for the sign test: the largest number of the less frequent sign at which a two-tailed test at 1, 2, 5 and 10 %
 * rejects, null where none does. Triola, Elementary Statistics, appendix A, table A-7:
 * https://wgdesigngroup.com/Pearson/elementary_stats/741/
 */
const signTest: readonly (readonly (number | null)[])[] = [
  [1, null, null, null, null],
  [2, null, null, null, null],
  [3, null, null, null, null],
  [4, null, null, null, null],
  [5, null, null, null, 0],
  [6, null, null, 0, 0],
  [7, null, 0, 0, 0],
  [8, 0, 0, 0, 1],
  [9, 0, 0, 1, 1],
  [10, 0, 0, 1, 1],
  [11, 0, 1, 1, 2],
  [12, 1, 1, 2, 2],
  [13, 1, 1, 2, 3],
  [14, 1, 2, 2, 3],
  [15, 2, 2, 3, 3],
  [16, 2, 2, 3, 4],
  [17, 2, 3, 4, 4],
  [18, 3, 3, 4, 5],
  [19, 3, 4, 4, 5],
  [20, 3, 4, 5, 5],
  [21, 4, 4, 5, 6],
  [22, 4, 5, 5, 6],
  [23, 4, 5, 6, 7],
  [24, 5, 5, 6, 7],
  [25, 5, 6, 7, 7],
];

test("chance alone, as printed in a table of the sign test", () => {
  for (const [games, ...printed] of signTest) {
    for (const [place, alpha] of [0.01, 0.02, 0.05, 0.1].entries()) {
      let critical: number | null = null;
      for (let won = 0; won * 2 < games!; won += 1) {
        if (chanceOfShare({ won, games: games! }) <= alpha) critical = won;
      }
      expect([games, alpha, critical]).toEqual([games, alpha, printed[place]]);
    }
  }
});

test("7 of 8 or better is 0.0352 at one end", () => {
  // Lane, HyperStat, Sign test: https://davidmlane.com/hyperstat/B168076.html
  expect(chanceOfShare({ won: 7, games: 8 }) / 2).toBeCloseTo(0.0352, 4);
});

const SEED = 51;
test(`one half lies outside the interval exactly when chance gives it less than one time in twenty (seed ${SEED})`, () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 400 }), fc.double({ min: 0, max: 1, noNaN: true }), (games, share) => {
      const won = Math.round(share * games);
      const { low, high } = shareInterval({ won, games });
      expect(low > 0.5 || high < 0.5).toBe(chanceOfShare({ won, games }) < 0.05);
      expect(low).toBeLessThanOrEqual(won / games);
      expect(high).toBeGreaterThanOrEqual(won / games);
    }),
    { seed: SEED, numRuns: 500 },
  );
});

test(`unlike games: the distribution is that of every way they can end (seed ${SEED})`, () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 9 }),
      (expectations) => {
        const every = new Array<number>(expectations.length + 1).fill(0);
        for (let ending = 0; ending < 2 ** expectations.length; ending += 1) {
          const wins = expectations.map((_, at) => (ending >> at) % 2 === 1);
          const likely = wins.reduce(
            (product, win, at) => product * (win ? expectations[at]! : 1 - expectations[at]!),
            1,
          );
          every[wins.filter((win) => win).length]! += likely;
        }
        for (const [won, chance] of chancesOf(expectations).entries()) expect(chance).toBeCloseTo(every[won]!, 12);
      },
    ),
    { seed: SEED, numRuns: 60 },
  );
});

test("games of one half each give the chance of a share", () => {
  for (const [won, games] of [
    [14, 18],
    [4, 18],
    [9, 18],
    [0, 7],
    [40, 57],
  ] as const) {
    const chances = chancesOf(new Array<number>(games).fill(0.5));
    expect(chanceAgainst(won, chances)).toBeCloseTo(chanceOfShare({ won, games }), 9);
  }
});

test("fewer than ten games say nothing; from ten on the interval decides", () => {
  expect(standing({ won: 9, games: 9 })).toBe("too-few");
  expect(standing({ won: 9, games: 10 })).toBe("above");
  expect(standing({ won: 1, games: 10 })).toBe("below");
  expect(standing({ won: 7, games: 10 })).toBe("about");
  expect(standing({ won: 9, games: 10 }, 0.9)).toBe("about");
});

test("one time in so many: whole up to twenty, then two figures", () => {
  expect([0.5, 0.34, 0.1, 0.0308837890625, 0.0066, 0.0001234].map(oneIn)).toEqual([2, 3, 10, 32, 150, 8100]);
});
