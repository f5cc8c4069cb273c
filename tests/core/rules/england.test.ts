import type { RuleSet } from "@sward/core";
import {
  findRuleSet,
  gapsOf,
  handicapForIndex,
  isOneSpan,
  occasionCounts,
  ruleSets,
  startingRow,
  triggerOf,
} from "@sward/core";
import { expect, test } from "vitest";

const england = findRuleSet("england-2016") as RuleSet;

// Croquet England, The Automatic Handicap System for Golf Croquet, Table 1
// https://www.croquet.org.uk/?p=games/golf/handicapping/automatic
const TABLE_1 = [
  [-6, 2800],
  [-5, 2650],
  [-4, 2500],
  [-3, 2350],
  [-2, 2200],
  [-1, 2100],
  [0, 2000],
  [1, 1900],
  [2, 1800],
  [3, 1700],
  [4, 1600],
  [5, 1500],
  [6, 1400],
  [7, 1350],
  [8, 1300],
  [9, 1250],
  [10, 1200],
  [11, 1150],
  [12, 1100],
  [14, 1050],
  [16, 1000],
  [18, 950],
  [20, 900],
] as const;

test("RU3 the built-in sets have the ids books adopt", () => {
  expect(ruleSets.map(({ id }) => id)).toEqual(["england-2016", "england-2016-like-pairing", "new-south-wales-2022"]);
  expect(findRuleSet("england-2016")).toBe(ruleSets[0]);
  expect(findRuleSet("england-1916")).toBeUndefined();
});

test("RU3 England's trigger table is Table 1, row for row, each as published", () => {
  expect(england.triggers.map(({ handicap, trigger }) => [handicap, trigger])).toEqual(TABLE_1);
  for (const { source, standing } of england.triggers) {
    expect(standing).toBe("published");
    expect(england.sources[source ?? ""]?.url).toBe("https://www.croquet.org.uk/?p=games/golf/handicapping/automatic");
  }
  for (const missing of [13, 15, 17, 19, -7, 21]) expect(triggerOf(england, missing)).toBeUndefined();
});

test("RU3 the table agrees with what other pages print of it", () => {
  // East Anglian Croquet Federation, 2015 trial, initial handicaps: https://angliacroquet.uk/2015/gctrial/initial.php
  for (const [handicap, trigger] of [
    [7, 1350],
    [10, 1200],
    [12, 1100],
    [14, 1050],
    [16, 1000],
  ] as const) {
    expect(triggerOf(england, handicap)).toBe(trigger);
  }
  // Croquet England, Maintaining a GC Handicap (1400 is 6):
  // https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fmaintenance
  expect(triggerOf(england, 6)).toBe(1400);
  // Until 2013 handicap 12 began at 0 and 11 at 50 (Belsay Hall Croquet Club, http://www.belsaycroquet.org/gc-handicap-card.php);
  // handicaps 12 to 6 were carried over by adding 1100 (Croquet Association, Changing to the New System, 2016,
  // https://www.croquet.org.uk/?p=games/golf/handicapping/changes).
  expect(triggerOf(england, 12)).toBe(0 + 1100);
  expect(triggerOf(england, 11)).toBe(50 + 1100);
});

// Croquet England, Setting an Initial Handicap (since April 2022): https://www.croquet.org.uk/?p=games/golf/handicapping/initial
// repeated by Handicapping Amendments, 15 April 2022: https://www.croquet.org.uk/?p=press/news&NewsID=7563
// and Colchester Croquet Club: https://colchestercroquet.org.uk/blog/2024/03/11/golf-croquet-initial-handicap-process/
test("RU10 the starting table gives handicap and index at every boundary", () => {
  const boundaries = [
    [50, 7, 1350],
    [53, 7, 1350],
    [54, 8, 1300],
    [56, 8, 1300],
    [57, 9, 1250],
    [60, 9, 1250],
    [61, 10, 1200],
    [63, 10, 1200],
    [64, 11, 1150],
    [67, 11, 1150],
    [68, 12, 1100],
    [70, 12, 1100],
    [71, 14, 1050],
    [78, 14, 1050],
    [79, 16, 1000],
    [140, 16, 1000],
  ] as const;
  for (const [strokes, handicap, index] of boundaries) {
    expect(startingRow(england, strokes), `${strokes} strokes`).toMatchObject({
      handicap,
      index,
      standing: "published",
    });
    expect(triggerOf(england, handicap)).toBe(index);
  }
  expect(startingRow(england, 49)).toBeUndefined();
});

test("RU4 a grade of 1421 belongs to the trigger 1400, that is 6", () => {
  // Croquet England, Maintaining a GC Handicap: https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fmaintenance
  expect(handicapForIndex(england, 1421)).toBe(6);
  // The association croquet page uses the same reading: 1930 belongs to 1900, that is 1.
  // https://www.croquet.org.uk/?p=/games/association/handicapping/automatic
  expect(handicapForIndex(england, 1930)).toBe(1);
});

test("RU8 England counts calendar events, leagues, matches between clubs and club competitions", () => {
  // Croquet England, Qualifying Games: https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fautomatic
  const counting = ["calendar-event", "league", "inter-club", "inter-club-friendly", "club-competition"] as const;
  for (const occasion of counting) expect(occasionCounts(england, occasion), occasion).toBe(true);
  for (const occasion of ["club-friendly", "ad-hoc"] as const) {
    expect(occasionCounts(england, occasion), occasion).toBe(false);
  }
});

test("RU9 England's changes wait for the end of a calendar event or of one of at most four days", () => {
  // Croquet England, Maintaining a GC Handicap: https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fmaintenance
  expect(england.effective).toMatchObject({ unit: "event", eventDays: 4, standing: "published" });
  expect(isOneSpan(england, "club-competition", 1)).toBe(true);
  expect(isOneSpan(england, "club-competition", 4)).toBe(true);
  expect(isOneSpan(england, "club-competition", 5)).toBe(false);
  expect(isOneSpan(england, "calendar-event", 5)).toBe(true);
});

test("RU3 the older pairing is a set of its own that differs in nothing else", () => {
  const older = findRuleSet("england-2016-like-pairing") as RuleSet;
  expect(older.strokes.doubles).toMatchObject({ pairing: "like", halves: "each" });
  const { id, title, sources, strokes } = england;
  expect({ ...older, id, title, sources, strokes }).toEqual(england);
  expect(older.strokes.conversions).toEqual(strokes.conversions);
});

test("RU3 what could not be read is said: the level-play table above all", () => {
  expect(england.exchange.levelSingles).toMatchObject({ standing: "common practice", source: null });
  expect(gapsOf(england).some((gap) => gap.includes("level play could not be read"))).toBe(true);
});
