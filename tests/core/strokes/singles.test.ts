import type { Format, RuleSet } from "@sward/core";
import { convertedStrokes, extraStrokes, findRuleSet } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";

const england = findRuleSet("england-2016") as RuleSet;
const SEED = 7_13_19;

/** The strokes of a singles game as [to side 1, to side 2]. */
function singles(format: Format, one: number, two: number): [number, number] {
  const result = extraStrokes(england, { format, sides: [[one], [two]] });
  if (!result.ok) throw new Error(JSON.stringify(result.fault));
  const [choice, ...others] = result.value.choices;
  expect(others).toEqual([]);
  const to = (side: 1 | 2) => choice?.strokes.find((each) => each.side === side)?.extra ?? 0;
  return [to(1), to(2)];
}

test("ST1 a 5 against a 9 gives four", () => {
  // Auchincruive Croquet Club, 2024 singles rules: https://auchincruivecroquet.club/2024-acc-golf-singles-competition
  expect(singles(13, 5, 9)).toEqual([0, 4]);
  expect(singles(13, 9, 5)).toEqual([4, 0]);
});

test("ST1 a 7 against a 16 gives nine", () => {
  // common practice, no source
  expect(singles(13, 7, 16)).toEqual([0, 9]);
});

test("ST1 negative handicaps subtract as numbers do, 26 between the ends of the table", () => {
  // Australian GC rules course, session 6 (range -6 to 20, so at most 26): https://slideplayer.com./amp/12942944
  expect(singles(13, -6, 20)).toEqual([0, 26]);
  expect(singles(13, -2, 4)).toEqual([0, 6]);
  expect(singles(13, -3, -1)).toEqual([0, 2]);
});

test("ST1 ST8 equal handicaps: one choice, in which nobody receives", () => {
  expect(extraStrokes(england, { format: 13, sides: [[4], [4]] })).toEqual({
    ok: true,
    value: { choices: [{ strokes: [] }] },
  });
});

// Australian GC rules course, session 6, the values above 26 of its 19-point row: https://slideplayer.com./amp/12942944
test.each([
  [19, 28],
  [20, 29],
  [21, 31],
  [22, 32],
  [23, 34],
  [24, 35],
  [25, 37],
  [26, 38],
])("ST2 a difference of %i is %i strokes in a 19-point game", (difference, strokes) => {
  expect(convertedStrokes(england, 19, difference)).toBe(strokes);
});

test("ST2 the same through handicaps", () => {
  expect(singles(19, -6, 14)).toEqual([0, 29]);
  expect(singles(19, -6, 16)).toEqual([0, 32]);
  expect(singles(19, -6, 18)).toEqual([0, 35]);
  expect(singles(19, -6, 20)).toEqual([0, 38]);
});

test("ST2 up to 13, a 7-point game has half the 13-point strokes rounded up", () => {
  // Croquet North Carolina, Handicap Golf Croquet, 2013: http://croquetnc.org/reference/handicap-golf-croquet-introduction
  for (let difference = 1; difference <= 13; difference += 1) {
    expect(convertedStrokes(england, 7, difference), `difference ${difference}`).toBe(Math.ceil(difference / 2));
  }
  // Beyond 13 nothing was read: the proportion goes on.
  expect(convertedStrokes(england, 7, 14)).toBe(8);
  expect(convertedStrokes(england, 7, 26)).toBe(14);
});

test(`ST2 a conversion is the nearest whole number to the fraction (seed ${SEED})`, () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 60 }), fc.constantFrom<7 | 19>(7, 19), (strokes, format) => {
      const converted = convertedStrokes(england, format, strokes) ?? Number.NaN;
      // |converted - strokes * format / 13| <= 1/2, in whole numbers; 13 is odd, so there is no exact half.
      expect(Math.abs(26 * converted - 2 * strokes * format)).toBeLessThan(13);
    }),
    { seed: SEED, numRuns: 500 },
  );
});

test(`ST1 ST4 only the higher handicap receives, and turning the sides turns the strokes (seed ${SEED})`, () => {
  const handicap = fc.constantFrom(...england.triggers.map((row) => row.handicap));
  fc.assert(
    fc.property(handicap, handicap, fc.constantFrom<Format>(7, 13, 19), (one, two, format) => {
      const [first, second] = singles(format, one, two);
      expect(Math.min(first, second)).toBe(0);
      if (format === 13) expect(first - second).toBe(one - two);
      expect(singles(format, two, one)).toEqual([second, first]);
    }),
    { seed: SEED, numRuns: 1000 },
  );
});
