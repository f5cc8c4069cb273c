import type { RuleSet } from "@sward/core";
import { findRuleSet, fromOlderScale, triggerOf } from "@sward/core";
import { expect, test } from "vitest";

const england = findRuleSet("england-2016") as RuleSet;

// Croquet Association, Changing to the New System (2016): 12 to 6 add 1100, 5 adds 1150, 4 and 3 add 1200 and a result of 1800 or
// more makes the handicap 2. https://www.croquet.org.uk/?p=games/golf/handicapping/changes
test.each([
  [12, 0, 12, 1100],
  [9, 150, 9, 1250],
  [6, 300, 6, 1400],
  [5, 350, 5, 1500],
  [4, 400, 4, 1600],
  [3, 500, 3, 1700],
  [4, 599, 4, 1799],
  [4, 600, 2, 1800],
  [3, 640, 2, 1840],
])("RU11 a card at %i with index %i comes to %i with index %i", (handicap, index, to, converted) => {
  expect(fromOlderScale(england, { handicap, index })).toEqual({ handicap: to, index: converted });
});

test("RU11 a player below the trigger for the handicap stays below it, and the handicap never gets worse", () => {
  for (let handicap = 3; handicap <= 12; handicap += 1) {
    const converted = fromOlderScale(england, { handicap, index: 0 });
    expect(converted?.handicap).toBe(handicap);
    expect(converted?.index).toBeLessThanOrEqual(triggerOf(england, handicap) ?? 0);
  }
});

test("RU11 where the table is silent there is no answer", () => {
  expect(fromOlderScale(england, { handicap: 2, index: 650 })).toBe(null);
  expect(fromOlderScale(england, { handicap: 14, index: 0 })).toBe(null);
  expect(fromOlderScale(findRuleSet("new-south-wales-2022") as RuleSet, { handicap: 6, index: 300 })).toBe(null);
});
