/** The three-rounds test: three counts added, the published table, and what it writes into the form. */
import { findRuleSet } from "@sward/core";
import { expect, test } from "vitest";
import type { Counts } from "../../../../packages/client/src/app/members/assessment.ts";
import {
  assess,
  noCounts,
  tableRows,
  tableSources,
  withCounts,
} from "../../../../packages/client/src/app/members/assessment.ts";

const england = findRuleSet("england-2016")!;
const found = (...counts: Counts) => assess(england, counts);

test("three counts are added and looked up; a missing one is waited for, and what is no count is named", () => {
  expect(found("", " ", "")).toEqual({ type: "none" });
  expect(found("22", "", "")).toEqual({ type: "unfinished", sum: 22, left: 2 });
  expect(found("22", "21", " 21 ")).toMatchObject({ type: "row", sum: 64, row: { handicap: 11, index: 1150 } });
  expect(found("22", "x", "5")).toEqual({ type: "not-counts", rounds: [2, 3] });
  expect(found("301", "20", "20")).toEqual({ type: "not-counts", rounds: [1] });
  expect(found("16", "16", "17")).toEqual({ type: "below-table", sum: 49, from: 50 });
  expect(assess({ ...england, assessment: [] }, ["22", "21", "21"])).toEqual({ type: "no-table", sum: 64 });
  expect(assess(undefined, ["22", "21", "21"])).toEqual({ type: "no-table", sum: 64 });
});

test("the table on the screen is the published one, and says where it was read", () => {
  // Setting an Initial Handicap, Croquet England: https://www.croquet.org.uk/?p=games/golf/handicapping/initial
  const published = [
    [50, 53, 7, 1350],
    [54, 56, 8, 1300],
    [57, 60, 9, 1250],
    [61, 63, 10, 1200],
    [64, 67, 11, 1150],
    [68, 70, 12, 1100],
    [71, 78, 14, 1050],
    [79, null, 16, 1000],
  ];
  const rows = tableRows(england, found("19", "19", "19"));
  expect(rows.map(({ atLeast, atMost, handicap, index }) => [atLeast, atMost, handicap, index])).toEqual(published);
  expect(rows.filter((row) => row.found).map(({ handicap }) => handicap)).toEqual([9]);
  for (const [from, to, handicap, index] of published) {
    for (const sum of [from!, to ?? 300]) {
      expect(found("6", "6", String(sum - 12))).toMatchObject({ type: "row", row: { handicap, index } });
    }
  }
  expect(tableSources(england).map(({ url }) => url)).toEqual([expect.stringContaining("croquet.org.uk")]);
  expect(tableSources(findRuleSet("new-south-wales-2022"))).toEqual([]);
  expect(tableRows(undefined, { type: "none" })).toEqual([]);
});

test("the table's handicap and how it was found go into the form, and what somebody wrote stays", () => {
  const blank = { counts: noCounts, handicap: null, reason: "" };
  const half = withCounts(england, blank, ["22", "21", ""]);
  expect(half).toEqual({ counts: ["22", "21", ""], handicap: null, reason: "" });
  const whole = withCounts(england, half, ["22", "21", "21"]);
  expect(whole).toMatchObject({ handicap: 11, reason: "three-rounds test: 22 + 21 + 21 = 64 strokes" });
  // A slip put right follows; a reason of one's own is not written over.
  expect(withCounts(england, whole, ["22", "21", "12"])).toMatchObject({
    handicap: 8,
    reason: "three-rounds test: 22 + 21 + 12 = 55 strokes",
  });
  const own = { ...whole, handicap: 9, reason: "test, and watched in play" };
  expect(withCounts(england, own, ["22", "21", "25"])).toMatchObject({ handicap: 12, reason: own.reason });
  // Assessed separately: the count is kept as how it began, the handicap is the handicapper's.
  expect(withCounts(england, { ...blank, handicap: 5 }, ["16", "16", "16"])).toEqual({
    counts: ["16", "16", "16"],
    handicap: 5,
    reason: "three-rounds test: 16 + 16 + 16 = 48 strokes",
  });
});
