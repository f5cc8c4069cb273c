import fc from "fast-check";
import { expect, test } from "vitest";
import { planHint, strokePlan } from "../../../../packages/client/src/app/lawn/stroke-plan.ts";

test("up to three are kept for late hoops, four to eight spread from the start, nine or more at almost every hoop", () => {
  // common coaching practice, no source
  const types = [0, 1, 3, 4, 8, 9, 26].map((count) => strokePlan(count, 13).type);
  expect(types).toEqual(["none", "keep", "keep", "spread", "spread", "every-hoop", "every-hoop"]);
  expect(strokePlan(3, 13).hoops).toEqual([10, 11, 12]);
  expect(strokePlan(4, 13).hoops).toEqual([1, 4, 7, 10]);
  expect(strokePlan(12, 13).hoops).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
  expect(new Set(strokePlan(9, 13).hoops).size).toBe(9);
});

test("a shorter or longer game is judged in proportion", () => {
  expect([1, 2, 4, 5].map((count) => strokePlan(count, 7).type)).toEqual(["keep", "spread", "spread", "every-hoop"]);
  expect([5, 6, 12, 13].map((count) => strokePlan(count, 19).type)).toEqual(["keep", "spread", "spread", "every-hoop"]);
});

test("the hint: as planned, sooner when one is behind the plan, and never past the end", () => {
  const plan = strokePlan(3, 13);
  const ask = (left: number, hoop: number, score: readonly [number, number]) =>
    planHint(plan, { left, hoop, score, format: 13 });
  expect(ask(3, 4, [2, 1])).toBe("keep");
  expect(ask(3, 10, [5, 4])).toBe("use-one");
  expect(ask(2, 10, [5, 4])).toBe("keep");
  expect(ask(3, 7, [6, 0])).toBe("now-or-never");
  expect(ask(1, 7, [0, 6])).toBe("now-or-never");
});

test("seed 4711: every stroke is planned once, at hoops that are sure to be in the game's round, in order", () => {
  const law = fc.property(fc.integer({ min: 0, max: 60 }), fc.constantFrom(7 as const, 13, 19), (count, format) => {
    const { hoops } = strokePlan(count, format);
    expect(hoops).toHaveLength(count);
    expect([...hoops].sort((a, b) => a - b)).toEqual(hoops);
    for (const hoop of hoops) {
      expect(hoop).toBeGreaterThanOrEqual(1);
      expect(hoop).toBeLessThan(format);
    }
  });
  fc.assert(law, { seed: 4711, numRuns: 300 });
});
