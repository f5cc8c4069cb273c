/** What the page says of a browser follows from its figures, and from nothing else. */
import { expect, test } from "vitest";
import type { InBrowser } from "../../../packages/client/bench/browser-figures.ts";
import { seen, seenRow } from "../../../packages/client/bench/browser-figures.ts";
import { browserAims, browserPart } from "../../../packages/client/bench/browser-report.ts";
import { chartOf } from "../../../packages/client/bench/chart.ts";
import { rowsOf } from "../../../packages/client/bench/growth.ts";
import { figure } from "../../../packages/client/bench/measure.ts";

const stage = (size: number) =>
  figure("admit", [size / 100], { size, floor: { what: "one Map of the ids", times: [size / 1_000] } });

const measured = (late: readonly number[], join: number): InBrowser => ({
  machine: "2031-06-14, 2 x nothing.",
  browser: "Chromium 1",
  size: 30_000,
  stages: [stage(10_000), stage(100_000)],
  seen: [
    seen("first join", [join], [120], { aim: 2_000, floor: { what: "bare Ed25519", ms: 1_000 } }),
    seen("late game, card", late, [0], { aim: 50, slower: 4, kind: "late game" }),
    seen("late game, members", [20], [0], { aim: 50, slower: 4, kind: "late game" }),
  ],
  left: ["render at 1,000,000: the page ran out of memory"],
});

test("an aim is reached when the slowest of its kind keeps it", () => {
  expect(browserAims(measured([40, 50, 60], 2_000))).toMatchObject([
    { aim: "2 x bare Ed25519", measured: "2.00 x", met: true },
    {
      what: "late game, 30,000 entries in a browser, 4 times as slowly",
      aim: "50.0 ms",
      measured: "50.0 ms",
      met: true,
    },
  ]);
  expect(browserAims(measured([51], 2_001)).map(({ met }) => met)).toEqual([false, false]);
  expect(browserAims(null)).toEqual([]);
});

test("every figure is in the page, what could not be measured is said, and the chart has a line for the browser", () => {
  const page = browserPart(measured([40], 1_500));
  expect(page).toContain("| admit | 100 (10.00) | 1,000 (10.00) | 1.00 | one Map of the ids | 1.00 |");
  expect(page).toContain("| late game, card, 4 times as slowly | 40.0 | 40.0 to 40.0 |  | under 50 |  |");
  expect(page).toContain("- render at 1,000,000: the page ran out of memory");
  expect(seenRow(measured([51], 1)["seen"][1]!)).toContain("NOT reached");
  const rows = rowsOf(measured([40], 1).stages);
  const [both, alone] = [chartOf(rows, rows), chartOf([], rows)];
  expect(both.match(/<path class="page" d="M/g)).toHaveLength(1);
  expect(both).toContain("admit in a browser: 1.00e+3 ms at 100,000");
  expect(alone.match(/<path class="ours" d=""/g)).toHaveLength(1);
  const tooShort = rowsOf([figure("fold", [0], { size: 1_000, floor: { what: "a loop", times: [0] } })]);
  // As they are read from a file again.
  const read = JSON.parse(JSON.stringify({ ...measured([40], 1), stages: tooShort[0]!.figures })) as InBrowser;
  expect(browserPart(read)).toContain("| fold | 0.00 (–) |");
  for (const chart of [alone, chartOf(tooShort, rows)]) expect(chart).not.toMatch(/NaN|undefined|Infinity/);
});
