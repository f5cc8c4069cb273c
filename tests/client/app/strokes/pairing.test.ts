import { findRuleSet } from "@sward/core";
import { expect, test } from "vitest";
import {
  answersFor,
  labelsFor,
  newStrokes,
  tap,
  unknownSeats,
  write,
} from "../../../../packages/client/src/app/strokes/pairing.ts";
import { strokesWords } from "../../../../packages/client/src/app/words/strokes.ts";

const rules = findRuleSet("england-2016")!;
const bare = (handicap: number) => ({ off: String(handicap), name: null });
const told = (form: typeof newStrokes) =>
  answersFor(rules, form).map(({ ways }) =>
    ways?.map((way) => strokesWords.receives(way, labelsFor(form, strokesWords.labels))),
  );

test("two taps answer all lengths of game: 7 against 16", () => {
  // 13 points: the difference. Croquet NSW and others; 7 and 19 points in proportion, see core's SPEC ST2.
  const form = tap(tap(newStrokes, 0, bare(7)), 1, bare(16));
  expect(answersFor(rules, form).map(({ format }) => format)).toEqual([13, 7, 19]);
  expect(told(form)).toEqual([
    ["The 16 receives 9 extra strokes."],
    ["The 16 receives 5 extra strokes."],
    ["The 16 receives 13 extra strokes."],
  ]);
});

test("a third tap replaces in singles, and begins the side anew in doubles", () => {
  const singles = tap(tap(newStrokes, 0, bare(7)), 0, bare(4));
  expect(singles.sides[0][0].off).toBe("4");
  const two = tap(tap({ ...newStrokes, doubles: true }, 0, bare(7)), 0, bare(4));
  expect(two.sides[0].map(({ off }) => off)).toEqual(["7", "4"]);
  expect(tap(two, 0, bare(2)).sides[0].map(({ off }) => off)).toEqual(["2", ""]);
});

test("doubles tell every lawful way, and partners of one handicap apart", () => {
  const doubles = { ...newStrokes, doubles: true };
  const form = tap(tap(tap(tap(doubles, 0, bare(12)), 0, bare(11)), 1, bare(7)), 1, bare(10));
  // common practice, no source: 12 and 11 against 7 and 10 gives 3 and none, or 2 and 1.
  expect(told(form)[0]).toEqual(["The 12 receives 3 extra strokes.", "The 12 receives 2 extra strokes, the 11 1."]);
  const twins = tap(tap(tap(tap(doubles, 0, bare(9)), 0, bare(9)), 1, bare(4)), 1, bare(6));
  expect(labelsFor(twins, strokesWords.labels)[0]).toEqual(["the first 9", "the second 9"]);
  const named = tap(tap(doubles, 0, { off: "9", name: "Ada W." }), 0, bare(9));
  expect(labelsFor(named, strokesWords.labels)[0]).toEqual(["Ada W.", "the 9"]);
});

test("nothing is answered for a seat that is empty or has no handicap of the table", () => {
  const half = tap(newStrokes, 0, bare(7));
  expect(told(half)).toEqual([undefined, undefined, undefined]);
  const odd = write(half, 1, 0, "13");
  expect(told(odd)).toEqual([undefined, undefined, undefined]);
  expect([...unknownSeats(rules, odd)]).toEqual(["1-0"]);
  expect([...unknownSeats(rules, write(half, 1, 0, "−2"))]).toEqual([]);
  expect(told(write(half, 1, 0, "-2"))[0]).toEqual(["The 7 receives 9 extra strokes."]);
});

test("equal handicaps: no extra strokes", () => {
  expect(told(tap(tap(newStrokes, 0, bare(5)), 1, bare(5)))[0]).toEqual(["No extra strokes."]);
});
