import type { RuleSet } from "@sward/core";
import { findRuleSet, gapsOf, isOneSpan, occasionCounts, startingRow } from "@sward/core";
import { expect, test } from "vitest";

// Newcastle Park club (Croquet NSW), GC Handicaps: https://www.revolutionise.com.au/newcastlepark/gc-handicaps
const nsw = findRuleSet("new-south-wales-2022") as RuleSet;
const england = findRuleSet("england-2016") as RuleSet;

test("RU3 New South Wales has England's rows, every one marked derived, and says so", () => {
  const rows = (set: RuleSet) => set.triggers.map(({ handicap, trigger }) => [handicap, trigger]);
  expect(rows(nsw)).toEqual(rows(england));
  expect(new Set(nsw.triggers.map(({ standing }) => standing))).toEqual(new Set(["derived"]));
  // The range was read: -6 to 20.
  expect([nsw.triggers[0]?.handicap, nsw.triggers.at(-1)?.handicap]).toEqual([-6, 20]);
  expect(gapsOf(nsw).some((gap) => gap.includes("trigger table on the page could not be read"))).toBe(true);
});

test("RU9 a handicap changes at once, so an event is never one span", () => {
  expect(nsw.effective).toMatchObject({ unit: "game", standing: "published" });
  expect(isOneSpan(nsw, "calendar-event", 1)).toBe(false);
});

test("RU8 what counts could not be read: England's list is assumed and marked", () => {
  expect(new Set(nsw.counting.map(({ standing }) => standing))).toEqual(new Set(["derived"]));
  expect(occasionCounts(nsw, "league")).toBe(true);
  expect(occasionCounts(nsw, "ad-hoc")).toBe(false);
});

test("RU10 the starting table could not be read, so there is none", () => {
  expect(startingRow(nsw, 60)).toBeUndefined();
});
