/** What the benches conclude from their figures: how cost grows, and whether an aim is reached. */
import { expect, test } from "vitest";
import { exponentOf, rowsOf } from "../../../packages/client/bench/growth.ts";
import { figure, median } from "../../../packages/client/bench/measure.ts";
import { allAims, pageOf } from "../../../packages/client/bench/report.ts";

const sizes = [1_000, 10_000, 100_000, 1_000_000];
const power = (exponent: number) => sizes.map((size) => [size, 3 * size ** exponent] as const);

test("a power of the size is found again, and one size has no growth", () => {
  for (const exponent of [0, 0.5, 1, 1.05, 2]) expect(exponentOf(power(exponent))).toBeCloseTo(exponent, 9);
  expect(exponentOf([[10, 5]])).toBeNull();
  expect(
    exponentOf([
      [10, 5],
      [10, 6],
    ]),
  ).toBeNull();
});

test("below ten thousand nothing is fitted: there the compiler is measured", () => {
  const figures = [
    figure("fold", [900], { size: 1_000 }),
    ...[10_000, 100_000].map((size) => figure("fold", [size], { size })),
  ];
  expect(rowsOf(figures)).toMatchObject([{ what: "fold", exponent: expect.closeTo(1, 9), floorExponent: null }]);
});

test("medians, ratios to the floor, and aims that are reached or not", () => {
  expect([median([3, 1, 2]), median([4, 1, 2, 3])]).toEqual([2, 2.5]);
  const fold = (size: number, times: readonly number[]) =>
    figure("fold", times, { size, floor: { what: "loop over typed arrays", times: [size, size, size] } });
  const reconcile = [10_000, 1_000_000].map((size) => figure("reconcile", [size], { size }));
  const measured = (times: readonly number[], ledger: number) => ({
    machine: "nowhere",
    others: [],
    rows: rowsOf([fold(10_000, [10_000]), fold(1_000_000, times), ...reconcile]),
    memory: [{ size: 100_000, ledger, document: 1, text: 1 }],
    big: null,
    inBrowser: null,
  });
  const good = allAims(measured([1_000_000, 2_000_000, 3_000_000], 599));
  expect(good.map(({ met }) => met)).toEqual([true, false, true]);
  expect(good[0]).toMatchObject({ aim: "2 x", measured: "2.00 x" });
  expect(allAims(measured([1_000_000], 600)).map(({ met }) => met)).toEqual([true, true, false]);
  expect(pageOf(measured([2_500_000], 600)).match(/\*\*not reached\*\*/g)).toHaveLength(3);
});

test("the largest book is said to be held or not, and is left out where it was not opened", () => {
  const big = (held: number) => ({ entries: 1_000_000, cards: 20_000, opened: 30_000, saved: 25, held, task: null });
  const measured = (largest: ReturnType<typeof big> | null) => ({
    machine: "nowhere",
    others: [],
    rows: [],
    memory: [],
    big: largest,
    inBrowser: null,
  });
  expect(allAims(measured(big(1_000_000_000)))).toMatchObject([{ aim: "1,000 MB", measured: "1,000 MB", met: true }]);
  expect(allAims(measured(big(1_000_000_001)))).toMatchObject([{ met: false }]);
  const page = pageOf(measured(big(600_000_000)));
  expect(page).toContain("| Node | 1,000,000 | 20,000 | 30,000 | 25.0 | 600 MB | 600 |  |");
  expect(pageOf(measured(null))).not.toContain("The largest book");
});
