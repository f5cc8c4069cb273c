import type { RuleSet } from "@sward/core";
import { extraStrokes, findRuleSet } from "@sward/core";
import { expect, test } from "vitest";

const england = findRuleSet("england-2016") as RuleSet;
const faultOf = (...question: Parameters<typeof extraStrokes>) => {
  const result = extraStrokes(...question);
  return result.ok ? "answered" : result.fault;
};

test("ST11 a handicap the rule set does not have: which, and whose", () => {
  expect(faultOf(england, { format: 13, sides: [[4], [13]] })).toEqual({
    type: "strokes-unknown-handicap",
    rules: "england-2016",
    side: 2,
    player: 1,
    handicap: 13,
  });
  expect(
    faultOf(england, {
      format: 13,
      sides: [
        [4, 21],
        [6, 8],
      ],
    }),
  ).toMatchObject({ type: "strokes-unknown-handicap", side: 1, player: 2, handicap: 21 });
  expect(faultOf(england, { format: 13, sides: [[4.5], [6]] })).toMatchObject({ type: "strokes-unknown-handicap" });
});

test("ST11 sides that are not one against one or two against two", () => {
  const uneven = [
    [[4], [6, 8]],
    [
      [4, 5, 6],
      [6, 7, 8],
    ],
    [[], []],
    [[4]],
    [],
    [[4], [5], [6]],
  ];
  for (const sides of uneven) {
    expect(faultOf(england, { format: 13, sides })).toEqual({
      type: "strokes-sides",
      players: sides.map((side) => side.length),
    });
  }
});

test("ST11 level play gives no extra strokes", () => {
  expect(faultOf(england, { format: 13, play: "level", sides: [[4], [6]] })).toEqual({ type: "strokes-level-play" });
  expect(faultOf(england, { format: 13, play: "handicap", sides: [[4], [6]] })).toBe("answered");
});

test("ST2 ST11 a length the rule set does not convert", () => {
  const without = { ...england, strokes: { ...england.strokes, conversions: [] } };
  expect(faultOf(without, { format: 7, sides: [[4], [6]] })).toEqual({
    type: "strokes-no-conversion",
    rules: "england-2016",
    format: 7,
  });
  expect(faultOf(without, { format: 13, sides: [[4], [6]] })).toBe("answered");
});
