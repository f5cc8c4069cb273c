import type { RuleSet } from "@sward/core";
import {
  compileTriggers,
  findRuleSet,
  Handicap,
  handicapForIndex,
  isInTable,
  LOWEST,
  SPAN,
  settle,
  settledHandicap,
  triggerOf,
} from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";

const england = findRuleSet("england-2016") as RuleSet;
const table = compileTriggers(england);
const SEED = 20_160_401;

const anyHandicap = fc.integer({ min: LOWEST, max: LOWEST + SPAN - 1 });
const inTable = fc.constantFrom(...england.triggers.map(({ handicap }) => handicap));
const anyIndex = fc.oneof(fc.integer({ min: -10_000, max: 20_000 }), fc.integer({ min: 850, max: 2900 }));
const tenth = fc.integer({ min: 80, max: 300 }).map((tens) => tens * 10);

/** Handicap and index after games worth ten points each, evaluated after every one. */
function play(handicap: number, index: number, results: string): [number, number] {
  let held = handicap;
  let points = index;
  for (const result of results) {
    points += result === "w" ? 10 : -10;
    held = settledHandicap(table, held, points);
  }
  return [held, points];
}

test("RU5 RU6 a 7 on 1390 wins a handicap game: 1400, handicap 6, and stays 6 when the next two are lost", () => {
  // Croquet England, The Automatic Handicap System: https://www.croquet.org.uk/?p=games/golf/handicapping/automatic
  expect(play(7, 1390, "w")).toEqual([6, 1400]);
  expect(play(7, 1390, "wll")).toEqual([6, 1380]);
  expect(settle(england, 7, 1400)).toEqual({ handicap: 6, trigger: 1400 });
  expect(settle(england, 6, 1351)).toBeNull();
  expect(settle(england, 6, 1350)).toEqual({ handicap: 7, trigger: 1350 });
});

test("RU5 at a trigger with 50 points to the next, five handicap wins in a row are one handicap", () => {
  // Scottish Croquet Association, Automatic Handicap Systems: https://scottishcroquet.org.uk/index.php/handicapping
  expect(play(10, 1200, "wwww")).toEqual([10, 1240]);
  expect(play(10, 1200, "wwwww")).toEqual([9, 1250]);
});

test("RU5 RU6 the facts every club player knows", () => {
  // common practice, no source
  expect(play(16, 1000, "w")).toEqual([16, 1010]);
  expect(play(16, 1000, "l")).toEqual([16, 990]);
  expect(play(14, 1050, "w")).toEqual([14, 1060]);
  expect(play(14, 1050, "wwwww")).toEqual([12, 1100]);
  expect(play(12, 1100, "w")).toEqual([12, 1110]);
  expect(play(12, 1110, "ll")).toEqual([12, 1090]);
  expect(play(12, 1090, "llll")).toEqual([14, 1050]);
  expect(play(6, 1400, "wwwwwwwww")).toEqual([6, 1490]);
  expect(play(6, 1400, "wwwwwwwwww")).toEqual([5, 1500]);
  expect(play(-2, 2200, "wwwwwwwwwwwwww")).toEqual([-2, 2340]);
  expect(play(-2, 2200, "wwwwwwwwwwwwwww")).toEqual([-3, 2350]);
});

test("RU5 several triggers passed at once: the lowest handicap reached", () => {
  expect(settle(england, 12, 1299)).toEqual({ handicap: 9, trigger: 1250 });
  expect(settle(england, 20, 5000)).toEqual({ handicap: -6, trigger: 2800 });
});

test("RU6 several triggers fallen through at once: the highest handicap fallen to", () => {
  expect(settle(england, 6, 1260)).toEqual({ handicap: 8, trigger: 1300 });
  expect(settle(england, 6, 1250)).toEqual({ handicap: 9, trigger: 1250 });
  expect(settle(england, -6, 0)).toEqual({ handicap: 20, trigger: 900 });
});

test("RU7 a handicap without a row moves by the same comparison, and the ends hold", () => {
  expect(isInTable(table, 13)).toBe(false);
  expect(settle(england, 13, 1075)).toBeNull();
  expect(settle(england, 13, 1100)).toEqual({ handicap: 12, trigger: 1100 });
  expect(settle(england, 13, 1050)).toEqual({ handicap: 14, trigger: 1050 });
  expect(settle(england, -6, 9000)).toBeNull();
  expect(settle(england, 20, -500)).toBeNull();
  // From beyond an end the table is entered as soon as its end is reached.
  expect(settle(england, 24, 900)).toEqual({ handicap: 20, trigger: 900 });
  expect(settle(england, 24, 899)).toBeNull();
});

test("RU7 the compiled table covers every handicap an entry can hold", () => {
  expect(Handicap().safeParse(LOWEST).success).toBe(true);
  expect(Handicap().safeParse(LOWEST - 1).success).toBe(false);
  expect(Handicap().safeParse(LOWEST + SPAN - 1).success).toBe(true);
  expect(Handicap().safeParse(LOWEST + SPAN).success).toBe(false);
});

test("RU4 every trigger belongs to its own handicap, one point less to the next row, anything below to the last", () => {
  for (const [row, { handicap, trigger }] of england.triggers.entries()) {
    expect(handicapForIndex(england, trigger)).toBe(handicap);
    expect(handicapForIndex(england, trigger - 1)).toBe(england.triggers[row + 1]?.handicap ?? 20);
  }
  expect(handicapForIndex(england, -400)).toBe(20);
  expect(handicapForIndex(england, 4000)).toBe(-6);
});

test(`RU5 RU6 RU7 the compiled answer is the plain one (seed ${SEED})`, () => {
  fc.assert(
    fc.property(anyHandicap, anyIndex, (held, index) => {
      expect(settledHandicap(table, held, index)).toBe(settle(england, held, index)?.handicap ?? held);
    }),
    { seed: SEED, numRuns: 5000 },
  );
});

test(`RU5 RU6 after one evaluation a second changes nothing (seed ${SEED})`, () => {
  fc.assert(
    fc.property(anyHandicap, anyIndex, (held, index) => {
      const once = settledHandicap(table, held, index);
      expect(settledHandicap(table, once, index)).toBe(once);
    }),
    { seed: SEED, numRuns: 2000 },
  );
});

test(`RU6 RU7 a handicap in the table stays within one trigger on either side, and in the table (seed ${SEED})`, () => {
  fc.assert(
    fc.property(inTable, tenth, (held, index) => {
      const after = settledHandicap(table, held, index);
      const row = england.triggers.findIndex(({ handicap }) => handicap === after);
      expect(row).toBeGreaterThanOrEqual(0);
      // Above the next higher handicap's trigger and below the next lower one's: the band in which it is held.
      expect(index).toBeGreaterThan(row === 22 ? -10_001 : (england.triggers[row + 1]?.trigger ?? 0));
      expect(index).toBeLessThan(row === 0 ? 20_001 : (england.triggers[row - 1]?.trigger ?? 0));
    }),
    { seed: SEED, numRuns: 2000 },
  );
});

test(`RU5 RU6 a higher index never gives a higher handicap (seed ${SEED})`, () => {
  fc.assert(
    fc.property(anyHandicap, anyIndex, anyIndex, (held, a, b) => {
      const [low, high] = a < b ? [a, b] : [b, a];
      expect(settledHandicap(table, held, high)).toBeLessThanOrEqual(settledHandicap(table, held, low));
    }),
    { seed: SEED, numRuns: 2000 },
  );
});

test("RU4 the trigger of a handicap, and none for a handicap that is not there", () => {
  expect(triggerOf(england, -2)).toBe(2200);
  expect(triggerOf(england, 13)).toBeUndefined();
});
