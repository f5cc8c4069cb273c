/** Where an index is going, and what a newcomer's first games speak for. */
import type { Card } from "@sward/core";
import { findRuleSet } from "@sward/core";
import { expect, test } from "vitest";
import { estimateFirst, posterior } from "../../../../packages/client/src/app/review/first-games.ts";
import { estimateWords } from "../../../../packages/client/src/app/review/first-words.ts";
import { slopeOf, trendOf } from "../../../../packages/client/src/app/review/trend.ts";
import type { Club } from "../../../support/cast.ts";
import { clubs, played, player } from "../../../support/cast.ts";

const england = findRuleSet("england-2016")!;

test("the slope is the one in print, and another library's", () => {
  // Anscombe, Graphs in Statistical Analysis, American Statistician 27 (1973): y = 3.00 + 0.500 x for each of his four sets; the data at
  // http://oxfordindex.oup.com/view/10.1093/oi/authority.20110803095415470
  const x = [10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5];
  const ys = [
    [8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68],
    [9.14, 8.14, 8.74, 8.77, 9.26, 8.1, 6.13, 3.1, 9.13, 7.26, 4.74],
    [7.46, 6.77, 12.74, 7.11, 7.81, 8.84, 6.08, 5.39, 8.15, 6.42, 5.73],
  ];
  for (const y of ys) expect(slopeOf(x.map((at, i) => [at, y[i]!])).toFixed(3)).toBe("0.500");
  // SciPy 1.17.1, linregress.
  const index = [1390, 1400, 1410, 1400, 1404, 1414, 1424, 1418, 1428, 1438, 1428, 1438];
  expect(slopeOf(index.map((value, at) => [at + 1, value]))).toBeCloseTo(4.083916083916084, 10);
});

const day = (n: number): string =>
  `2026-${String(4 + Math.floor(n / 28)).padStart(2, "0")}-${String(1 + (n % 28)).padStart(2, "0")}`;

/** `w` and `l` for ada, in handicap play off 9 against a 9. */
function season(results: string, more: (north: Club) => void = () => undefined): Card {
  const { north } = clubs("north");
  north.member("ada", 9, { from: "2026-03-01" });
  north.member("ben", 9, { from: "2026-03-01" });
  for (const [n, result] of [...results].entries()) {
    north.recorder.reports(played(day(n), "ada 9", "ben 9", result === "w" ? "7-4" : "4-7"));
  }
  more(north);
  return north.card(player("ada"));
}

test("the last twenty games, from the index before the first of them", () => {
  const trend = trendOf(season(`${"l".repeat(5)}${"w".repeat(20)}`), findRuleSet)!;
  expect(trend).toMatchObject({ games: 20, from: 1200, to: 1400 });
  expect(trend.slope).toBeCloseTo(10, 10);
  // Twenty steps of ten: 1.96 times 10 times the root of twenty is 87.65.
  expect(trend.reach).toBe(88);
});

test("only games since the handicap was last set, and only those that moved the index", () => {
  const card = season("wwwww", (north) => {
    north.handicapper.sets("ada", 12, day(3));
    north.recorder.reports(played(day(8), "ada 12", "ben 9", "7-4", { occasion: "ad-hoc" }));
  });
  expect(trendOf(card, findRuleSet)).toMatchObject({ games: 2, from: 1100, to: 1120 });
  expect(trendOf(season("w"), findRuleSet)).toBeNull();
});

test("a level game's chance movement is smaller the more one-sided it is", () => {
  const level = (off: number) =>
    trendOf(
      season("", (north) => {
        for (const n of [0, 1]) north.recorder.reports(played(day(n), "ada 9", `ben ${off}`, "7-4", { play: "level" }));
      }),
      findRuleSet,
    )!.reach;
  // Equal: two games of variance 20 * 20 / 4. The triggers of 9 and 2 are 550 apart.
  expect(level(9)).toBe(Math.round(1.959964 * Math.sqrt(200)));
  const expected = 1 / (1 + 10 ** 1.1);
  expect(level(2)).toBe(Math.round(1.959964 * Math.sqrt(2 * 400 * expected * (1 - expected))));
});

test("the belief after a few games is that of another integration", () => {
  // SciPy 1.17.1, quad and brentq: a normal of mean 1250 and deviation 150, three wins and a loss at 1250, a win at 1400.
  const evidence = [true, true, false, true].map((won) => ({ even: 1250, won }));
  const [low, middle, high] = posterior(england, 1250, [...evidence, { even: 1400, won: true }]);
  expect(low).toBeCloseTo(1162.973074593497, 1);
  expect(middle).toBeCloseTo(1360.5441881076113, 1);
  expect(high).toBeCloseTo(1561.5740123927894, 1);
});

test("without games it is the starting handicap, three steps wide in two cases of three; even results leave it there", () => {
  const [low, middle, high] = posterior(england, 1250, []);
  expect(middle).toBeCloseTo(1250, 2);
  // A normal's 5 % point is 1.6449 deviations out.
  expect(high - 1250).toBeCloseTo(1.6449 * 150, 0);
  expect(1250 - low).toBeCloseTo(1.6449 * 150, 0);
  const even = posterior(england, 1250, [
    { even: 1250, won: true },
    { even: 1250, won: false },
  ]);
  expect(even[1]).toBeCloseTo(1250, 2);
  expect(even[2] - even[0]).toBeLessThan(high - low);
});

test("a newcomer's first ten games are looked at, up to twenty games in all, and three at least", () => {
  expect(estimateFirst(season("ww"), findRuleSet)).toBeNull();
  expect(estimateFirst(season("www"), findRuleSet)).toMatchObject({ games: 3, won: 3, start: 9 });
  expect(estimateFirst(season(`${"w".repeat(8)}${"l".repeat(12)}`), findRuleSet)).toMatchObject({ games: 10, won: 8 });
  expect(estimateFirst(season("w".repeat(21)), findRuleSet)).toBeNull();
});

test("winning means a lower handicap, losing a higher one, and never a jump to the end of the table", () => {
  const of = (results: string) => estimateFirst(season(results), findRuleSet)!;
  const [winner, even, loser] = [of("w".repeat(10)), of("wl".repeat(5)), of("l".repeat(10))];
  expect(even.estimate).toBe(9);
  expect(winner.estimate).toBeLessThan(7);
  expect(winner.estimate).toBeGreaterThan(0);
  expect(loser.estimate).toBeGreaterThan(11);
  for (const each of [winner, even, loser]) {
    expect(each.strongest).toBeLessThanOrEqual(each.estimate);
    expect(each.weakest).toBeGreaterThanOrEqual(each.estimate);
  }
  // 16 is 1000, 20 is 800: ten losses may reach beyond the table.
  expect(loser.beyondTable).toBe(true);
  expect(even.beyondTable).toBe(false);
});

test("level games weigh by the opponent's handicap: beating a 2 says more than beating a 16", () => {
  const beats = (off: number) =>
    estimateFirst(
      season("", (north) => {
        for (const n of [0, 1, 2])
          north.recorder.reports(played(day(n), "ada 9", `ben ${off}`, "7-4", { play: "level" }));
      }),
      findRuleSet,
    )!.index[1];
  expect(beats(2)).toBeGreaterThan(beats(9));
  expect(beats(9)).toBeGreaterThan(beats(16));
  expect(beats(16)).toBeGreaterThan(1250);
});

test("who came from another club, or has no first handicap of this one, is no newcomer", () => {
  const { north } = clubs("north");
  north.handicapper.joins("ada");
  north.handicapper.sets("ada", 9, "2026-03-01", { basis: "transfer", reason: "card from elsewhere" });
  north.member("ben", 9);
  for (const n of [0, 1, 2, 3]) north.recorder.reports(played(day(n), "ada 9", "ben 9", "7-4"));
  expect(estimateFirst(north.card(player("ada")), findRuleSet)).toBeNull();
  expect(estimateFirst(north.card(player("ben")), findRuleSet)).not.toBeNull();
});

test("the estimate is said as one, with its games, and whether the handicap of today is within it", () => {
  const estimate = estimateFirst(season("w".repeat(10)), findRuleSet)!;
  expect(estimateWords(estimate, estimate.estimate)).toMatch(
    /^started at 9 and won 10 of the first 10 games\. Estimate: \d+; nine times in ten between \d+ and \d+\. .* is within that range\.$/,
  );
  expect(estimateWords(estimate, 14)).toContain("14, is outside that range");
  expect(estimateWords(estimate, 0)).toContain("0, is outside that range");
  expect(estimateWords({ ...estimate, beyondTable: true }, 14)).toContain("end of the table");
});
