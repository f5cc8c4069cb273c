/** What the tables screen is given to draw, against what was published. What is drawn is held to the same rows in a browser. */
import type { RuleSet } from "@sward/core";
import { findRuleSet, gapsOf, ruleSets } from "@sward/core";
import { expect, test } from "vitest";
import {
  adoptedSets,
  chosenSet,
  citedBy,
  citing,
  exchangeTable,
  games,
  listOfSources,
  sourceNumbers,
  strokesByDifference,
} from "../../../../packages/client/src/app/tables/tables-model.ts";
import { effectWords, pointsRule } from "../../../../packages/client/src/app/words/tables.ts";

const england = findRuleSet("england-2016") as RuleSet;
const newSouthWales = findRuleSet("new-south-wales-2022") as RuleSet;

test("level play by winner and loser: no published cell could be read, so the formula by hand and the bands the Scottish page prints", () => {
  const table = exchangeTable(england, "levelSingles")!;
  expect(table.handicaps).toEqual(england.triggers.map(({ handicap }) => handicap));
  const trigger = (at: number): number => england.triggers[at]!.trigger;
  for (const [row, cells] of table.points.entries()) {
    for (const [column, points] of cells.entries()) {
      // common practice, no source: 20 / (1 + 10^(D/500)), halves up, 1 to 19.
      const exact = 20 / (1 + 10 ** ((trigger(row) - trigger(column)) / 500));
      expect(points).toBe(Math.min(19, Math.max(1, Math.floor(exact + 0.5))));
      // Scottish Croquet Association, Automatic Handicap Systems: a weaker winner gains 11 to 19, a stronger one 1 to 9.
      // https://scottishcroquet.org.uk/index.php/handicapping
      if (row > column) expect(points).toBeGreaterThanOrEqual(10);
      if (row < column) expect(points).toBeLessThanOrEqual(10);
      expect(points! + table.points[column]![row]!).toBeGreaterThanOrEqual(20);
      expect(points! + table.points[column]![row]!).toBeLessThanOrEqual(21);
    }
    expect(cells[row]).toBe(10);
  }
});

test("only a game whose points depend on the handicaps has a table by winner and loser", () => {
  expect(games.filter(({ game }) => exchangeTable(england, game) !== null).map(({ game }) => game)).toEqual([
    "levelSingles",
  ]);
  // Croquet England, The Automatic Handicap System for Golf Croquet: ten points for a handicap game.
  // https://www.croquet.org.uk/?p=games/golf/handicapping/automatic
  expect(pointsRule(england.exchange.handicapSingles)).toBe("10");
  expect(pointsRule(england.exchange.levelDoubles)).toBe("none: does not move the index");
  // Newcastle Park club (Croquet NSW), GC Handicaps: https://www.revolutionise.com.au/newcastlepark/gc-handicaps
  expect(pointsRule(newSouthWales.exchange.handicapDoubles)).toBe("5");
  expect(pointsRule(newSouthWales.exchange.levelDoubles)).toContain("could not be read");
});

test("extra strokes by difference: the 19-point row as read, the 7-point row as half rounded up", () => {
  const rows = strokesByDifference(england);
  expect(rows.map(({ difference }) => difference)).toEqual(Array.from({ length: 26 }, (_, at) => at + 1));
  expect(rows.every(({ difference, strokes }) => strokes[0] === difference)).toBe(true);
  // Australian GC rules course, session 6 (Rule 16 as modified, 3 April 2017): https://slideplayer.com./amp/12942944
  expect(rows.slice(18).map(({ strokes }) => strokes[2])).toEqual([28, 29, 31, 32, 34, 35, 37, 38]);
  // Croquet North Carolina, Handicap Golf Croquet: http://croquetnc.org/reference/handicap-golf-croquet-introduction
  for (const { difference, strokes } of rows.slice(0, 13)) expect(strokes[1]).toBe(Math.ceil(difference / 2));
});

test("several sets adopted one after the other: each with its days, the one in force today chosen, another when asked for", () => {
  const rules = [
    { rules: "england-2016-like-pairing", from: "2018-01-01" },
    { rules: "england-2016", from: "2019-03-01" },
    { rules: "moon-2099", from: "2031-01-01" },
  ];
  const adopted = adoptedSets({ rules }, "2026-06-01");
  expect(adopted.map(({ when, replacedOn }) => [when, replacedOn])).toEqual([
    ["past", "2019-03-01"],
    ["now", "2031-01-01"],
    ["ahead", null],
  ]);
  expect(adopted.map(({ set }) => set?.id)).toEqual(["england-2016-like-pairing", "england-2016", undefined]);
  expect(chosenSet(adopted, undefined)?.id).toBe("england-2016");
  expect(chosenSet(adopted, "0")?.id).toBe("england-2016-like-pairing");
  expect(chosenSet(adopted, "7")?.id).toBe("england-2016");
  expect(chosenSet(adopted, "-1; nonsense")?.id).toBe("england-2016");
  // On its first day a set is the one in force, and the one before it no longer.
  expect(adoptedSets({ rules }, "2019-03-01").map(({ when }) => when)).toEqual(["past", "now", "ahead"]);
  expect(chosenSet([], undefined)).toBeUndefined();
});

test("every row of every set cites a source of the list or says that there is none, and every gap's citation is a number", () => {
  for (const set of ruleSets) {
    const numbers = sourceNumbers(set);
    expect([...numbers.values()]).toEqual(listOfSources(set).map(({ number }) => number));
    const rows = [
      ...set.triggers,
      ...set.counting,
      ...set.assessment,
      ...set.olderScale,
      ...Object.values(set.exchange),
    ];
    for (const row of [...rows, set.effective, set.strokes.doubles, ...set.strokes.conversions]) {
      const cited = citedBy(set, [row]);
      expect(cited.map(({ url }) => url)).toEqual(row.source === null ? [] : [set.sources[row.source]?.url]);
    }
    for (const gap of gapsOf(set)) expect(citing(gap, numbers)).not.toMatch(/\[[a-z]/);
  }
  expect(
    citing(
      "as read [b, a] and [elsewhere]",
      new Map([
        ["a", 1],
        ["b", 2],
      ]),
    ),
  ).toBe("as read [2, 1] and [elsewhere]");
});

test("when a change takes effect, in words, for every way a set can say it", () => {
  expect(effectWords(england)).toBe(
    "After the event, when it lasts at most 4 days, or of any length when it is a calendar event; otherwise after the day. A trigger point passed and passed back within that time changes nothing.",
  );
  expect(effectWords(newSouthWales)).toMatch(/^At once/);
  const unit = (unit: "match" | "day"): string =>
    effectWords({ ...england, effective: { ...england.effective, unit } });
  expect(unit("match")).toMatch(/^After the last game of the match/);
  expect(unit("day")).toMatch(/^After the last game of the day/);
});
