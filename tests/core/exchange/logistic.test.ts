import type { LogisticExchange } from "@sward/core";
import { createLogistic } from "@sward/core";
import Elo from "arpad";
import fc from "fast-check";
import { expect, test } from "vitest";

const SEED = 1_960;

const level: LogisticExchange = {
  kind: "logistic",
  base: 10,
  scale: 500,
  sum: 20,
  min: 1,
  max: 19,
  source: null,
  standing: "common practice",
};
const points = createLogistic(level);
const unheld = createLogistic({ ...level, min: 0, max: 20 });

const elo = new Elo();
/** Points by a general-purpose Elo library (https://www.npmjs.com/package/arpad): its scale is 400, ours 500. */
const byElo = (difference: number): number => level.sum * (1 - elo.expectedScore((difference * 400) / level.scale, 0));

test("EX2 EX3 the logistic is what a general Elo library computes, for every difference up to 3000", () => {
  for (let difference = -3000; difference <= 3000; difference += 1) {
    const exact = byElo(difference);
    expect(unheld(difference), `D ${difference}`).toBe(Math.floor(exact + 0.5));
    expect(points(difference), `D ${difference}`).toBe(Math.min(Math.max(Math.floor(exact + 0.5), 1), 19));
  }
});

test(`EX2 EX3 the same for other scales and sums (seed ${SEED})`, () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 50, max: 1200 }),
      fc.integer({ min: 2, max: 100 }),
      fc.integer({ min: -3000, max: 3000 }),
      (scale, sum, difference) => {
        const exact = sum * (1 - elo.expectedScore((difference * 400) / scale, 0));
        // Nearer to a half than a double can tell: only the exact answer can be right.
        fc.pre(Math.abs(exact - Math.floor(exact) - 0.5) > 1e-9);
        expect(createLogistic({ ...level, scale, sum, min: 0, max: sum })(difference)).toBe(Math.floor(exact + 0.5));
      },
    ),
    { seed: SEED, numRuns: 500 },
  );
});

test("EX2 equal handicaps 10; one step of 50 gives 9 and 11; the ends are 1 and 19", () => {
  // common practice, no source
  expect(points(0)).toBe(10);
  expect([points(50), points(-50)]).toEqual([9, 11]);
  expect([points(1900), points(-1900)]).toEqual([1, 19]);
});

test("EX2 a weaker winner gains 11 to 19, a stronger one 1 to 9, at every difference of the trigger table", () => {
  // Scottish Croquet Association, Automatic Handicap Systems: https://scottishcroquet.org.uk/index.php/handicapping
  for (let difference = 50; difference <= 1900; difference += 50) {
    expect(points(difference)).toBeGreaterThanOrEqual(1);
    expect(points(difference)).toBeLessThanOrEqual(9);
    expect(points(-difference)).toBeGreaterThanOrEqual(11);
    expect(points(-difference)).toBeLessThanOrEqual(19);
  }
});

test("EX2 an exact half rounds up on both sides", () => {
  // base 3, scale 1, D 1: 6 / (1 + 3) = 1.5, and 6 / (1 + 1/3) = 4.5.
  const halves = createLogistic({ ...level, base: 3, scale: 1, sum: 6, min: 0, max: 6 });
  expect([halves(1), halves(-1), halves(0)]).toEqual([2, 5, 3]);
});

const rule = fc
  .record({
    base: fc.integer({ min: 2, max: 30 }),
    scale: fc.integer({ min: 1, max: 600 }),
    sum: fc.integer({ min: 2, max: 60 }),
  })
  .map((numbers): LogisticExchange => ({ ...level, ...numbers, min: 0, max: numbers.sum }));

test(`EX6 the stronger the winner the fewer points, within the ends (seed ${SEED})`, () => {
  const difference = fc.integer({ min: -2500, max: 2500 });
  fc.assert(
    fc.property(rule, difference, difference, fc.integer({ min: 0, max: 30 }), (any, a, b, min) => {
      const held = createLogistic({ ...any, min: Math.min(min, any.sum), max: Math.max(any.sum - 1, min) });
      const [weaker, stronger] = a < b ? [a, b] : [b, a];
      expect(held(stronger)).toBeLessThanOrEqual(held(weaker));
      expect(held(stronger)).toBeGreaterThanOrEqual(Math.min(min, any.sum));
    }),
    { seed: SEED, numRuns: 500 },
  );
});

test(`EX6 a difference and its opposite add up to the sum, but for exact halves (seed ${SEED})`, () => {
  fc.assert(
    fc.property(rule, fc.integer({ min: 0, max: 2500 }), (any, difference) => {
      const both = createLogistic(any);
      const total = both(difference) + both(-difference);
      if (total === any.sum) return;
      // Only an exact half may add one: (2k - 1)^scale * base^D = (2*sum - 2k + 1)^scale.
      const k = both(difference);
      const scale = BigInt(any.scale);
      expect(total).toBe(any.sum + 1);
      expect(BigInt(2 * k - 1) ** scale * BigInt(any.base) ** BigInt(difference)).toBe(
        BigInt(2 * any.sum - 2 * k + 1) ** scale,
      );
    }),
    { seed: SEED, numRuns: 500 },
  );
});
