import type { RuleSet, RuleSetFault } from "@sward/core";
import { findRuleSet, Occasion, parseRuleSet, ruleSets } from "@sward/core";
import { expect, test } from "vitest";

/** A copy of England's set that a test may spoil. */
const spoilt = (spoil: (set: RuleSet) => void): unknown => {
  const set = structuredClone(findRuleSet("england-2016") as RuleSet);
  spoil(set);
  return set;
};

const faultOf = (json: unknown): RuleSetFault | "taken" => {
  const result = parseRuleSet(json);
  return result.ok ? "taken" : result.fault;
};

test("RU1 every row of every built-in set names a source of the set, or is common practice without one", () => {
  let rows = 0;
  const visit = (set: RuleSet, value: unknown): void => {
    if (typeof value !== "object" || value === null) return;
    if ("standing" in value && "source" in value) {
      rows += 1;
      if (value.standing === "common practice") expect(value.source).toBeNull();
      else expect(Object.keys(set.sources)).toContain(value.source);
    }
    for (const inner of Object.values(value)) visit(set, inner);
  };
  for (const set of ruleSets) visit(set, set);
  expect(rows).toBeGreaterThan(100);
});

test("RU1 RU2 a set written to a file and read again is the same set", () => {
  for (const set of ruleSets) {
    const read = parseRuleSet(JSON.parse(JSON.stringify(set)));
    expect(read).toEqual({ ok: true, value: set });
  }
});

test("RU1 a source that is not there, missing or out of place is refused with the row", () => {
  const row = (set: RuleSet, at: number) => set.triggers[at] as RuleSet["triggers"][number];
  expect(faultOf(spoilt((set) => Object.assign(row(set, 3), { source: "hearsay" })))).toEqual({
    type: "source-unknown",
    at: "triggers.3",
    source: "hearsay",
  });
  expect(faultOf(spoilt((set) => Object.assign(row(set, 3), { source: "toString" })))).toMatchObject({
    type: "source-unknown",
  });
  expect(faultOf(spoilt((set) => Object.assign(set.effective, { source: null })))).toEqual({
    type: "source-missing",
    at: "effective",
  });
  expect(faultOf(spoilt((set) => Object.assign(set.strokes.doubles, { standing: "common practice" })))).toMatchObject({
    type: "source-of-common-practice",
    at: "strokes.doubles",
  });
});

test("RU2 rows out of order are refused, not sorted", () => {
  expect(faultOf(spoilt((set) => set.triggers.reverse()))).toEqual({
    type: "handicaps-not-ascending",
    at: "triggers.1",
    handicap: 18,
  });
  expect(faultOf(spoilt((set) => Object.assign(set.triggers[1] ?? {}, { handicap: -6 })))).toMatchObject({
    type: "handicaps-not-ascending",
  });
  // Equal triggers would make two handicaps of one index.
  expect(faultOf(spoilt((set) => Object.assign(set.triggers[5] ?? {}, { trigger: 2200 })))).toEqual({
    type: "triggers-not-descending",
    at: "triggers.5",
    handicap: -1,
    trigger: 2200,
  });
});

test("RU2 an exchange that cannot be is refused", () => {
  const level = { kind: "logistic", base: 10, scale: 500, sum: 20, source: null, standing: "common practice" };
  const levelSingles = (min: number, max: number) =>
    spoilt((set) => Object.assign(set.exchange, { levelSingles: { ...level, min, max } }));
  expect(faultOf(levelSingles(1, 19))).toBe("taken");
  expect(faultOf(levelSingles(20, 19))).toEqual({ type: "exchange-bounds", at: "exchange.levelSingles" });
  expect(faultOf(levelSingles(1, 21))).toEqual({ type: "exchange-bounds", at: "exchange.levelSingles" });
  const doubles = spoilt((set) => Object.assign(set.exchange, { levelDoubles: { ...level, min: 1, max: 19 } }));
  expect(faultOf(doubles)).toEqual({ type: "logistic-for-doubles", at: "exchange.levelDoubles" });
});

test("RU2 every occasion stands once, and each length of game has its one conversion", () => {
  for (const [at, occasion] of Occasion().options.entries()) {
    expect(faultOf(spoilt((set) => set.counting.splice(at, 1)))).toEqual({
      type: "occasion-not-once",
      occasion,
      times: 0,
    });
  }
  expect(faultOf(spoilt((set) => set.counting.push(structuredClone(set.counting[0] as never))))).toMatchObject({
    type: "occasion-not-once",
    times: 2,
  });
  expect(faultOf(spoilt((set) => set.strokes.conversions.pop()))).toEqual({
    type: "conversion-not-once",
    format: 19,
    times: 0,
  });
  expect(faultOf(spoilt((set) => Object.assign(set.strokes.conversions[0] ?? {}, { format: 13 })))).toMatchObject({
    type: "conversion-not-once",
    format: 7,
  });
});

test("RU2 RU10 starting rows ascend without overlap, and begin at their handicap's trigger", () => {
  const row = (change: object) => spoilt((set) => Object.assign(set.assessment[2] ?? {}, change));
  expect(faultOf(row({ atLeast: 56 }))).toEqual({ type: "assessment-not-ascending", at: "assessment.2" });
  expect(faultOf(row({ atMost: 56 }))).toEqual({ type: "assessment-not-ascending", at: "assessment.2" });
  expect(faultOf(row({ atMost: null }))).toEqual({ type: "assessment-not-ascending", at: "assessment.3" });
  expect(faultOf(row({ index: 1251 }))).toEqual({
    type: "assessment-index",
    at: "assessment.2",
    handicap: 9,
    index: 1251,
  });
});

test("RU2 what is not a rule set at all is refused with the place", () => {
  expect(faultOf(null)).toEqual({ type: "rule-set-form", at: "", problem: "invalid_type" });
  expect(faultOf(spoilt((set) => Object.assign(set.triggers[4] ?? {}, { trigger: 2200.5 })))).toEqual({
    type: "rule-set-form",
    at: "triggers.4.trigger",
    problem: "invalid_type",
  });
  expect(faultOf(spoilt((set) => Object.assign(set, { motto: "fair play" })))).toMatchObject({
    type: "rule-set-form",
    problem: "unrecognized_keys",
  });
  expect(faultOf(spoilt((set) => set.triggers.splice(1)))).toMatchObject({ type: "rule-set-form", at: "triggers" });
});
