/** The tables of the rules on the screen, against the published rows, and on paper. */
import { afterAll, beforeAll, expect, test } from "vitest";
import type { PrintingScene } from "./printing.ts";
import { isWell, minus, onPaper, rowsOf, startPrinting } from "./printing.ts";

let scene: PrintingScene;

beforeAll(async () => {
  scene = await startPrinting();
});
afterAll(() => scene?.scene.close());

test("trigger table on the screen is Table 1, row for row, each with its standing and its source", async () => {
  const page = await scene.go("tables");
  // Croquet England, The Automatic Handicap System for Golf Croquet, Table 1
  // https://www.croquet.org.uk/?p=games/golf/handicapping/automatic
  const table1 = {
    handicaps: [-6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 14, 16, 18, 20],
    triggers: [
      2800, 2650, 2500, 2350, 2200, 2100, 2000, 1900, 1800, 1700, 1600, 1500, 1400, 1350, 1300, 1250, 1200, 1150, 1100,
      1050, 1000, 950, 900,
    ],
  };
  expect(await rowsOf(page, "[data-table=triggers]")).toEqual(
    table1.handicaps.map((handicap, at) => [minus(handicap), String(table1.triggers[at]), "published [2]"]),
  );
  const cited = page.getByRole("region", { name: "Sources" }).getByRole("listitem").nth(1);
  expect(await cited.getByRole("link").getAttribute("href")).toBe(
    "https://www.croquet.org.uk/?p=games/golf/handicapping/automatic",
  );
});

test("starting table on the screen is the published one of 2022, points of a game as published, level play within the bands", async () => {
  const page = await scene.go("tables");
  // Croquet England, Setting an Initial Handicap (since April 2022): https://www.croquet.org.uk/?p=games/golf/handicapping/initial
  expect(await rowsOf(page, "[data-table=assessment]")).toEqual([
    ["50 to 53", "7", "1350", "published [5]"],
    ["54 to 56", "8", "1300", "published [5]"],
    ["57 to 60", "9", "1250", "published [5]"],
    ["61 to 63", "10", "1200", "published [5]"],
    ["64 to 67", "11", "1150", "published [5]"],
    ["68 to 70", "12", "1100", "published [5]"],
    ["71 to 78", "14", "1050", "published [5]"],
    ["79 or more", "16", "1000", "published [5]"],
  ]);
  // Croquet England, The Automatic Handicap System for Golf Croquet: ten points for handicap singles, doubles do not count.
  // https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fautomatic
  const points = await rowsOf(page, "[data-table=points]");
  expect(points[0]).toEqual(["Handicap singles", "10", "published [2]"]);
  expect(points[1]?.slice(1)).toEqual(["none: does not move the index", "published [3]"]);
  // No printed level-play table could be read: said beside it, and never "published".
  expect(points[2]?.slice(2)).toEqual(["common practice (no source)"]);
  // Scottish Croquet Association, Automatic Handicap Systems: 11 to 19 for a weaker winner, 1 to 9 for a stronger one.
  // https://scottishcroquet.org.uk/index.php/handicapping
  const matrix = await rowsOf(page, "[data-game=levelSingles]");
  expect(matrix).toHaveLength(23);
  for (const [winner, [, ...cells]] of matrix.entries()) {
    expect(cells).toHaveLength(23);
    for (const [loser, cell] of cells.entries()) {
      const value = Number(cell);
      if (winner === loser) expect(value).toBe(10);
      else if (winner > loser) expect(value).toBeGreaterThanOrEqual(11);
      else expect(value).toBeLessThanOrEqual(9);
    }
  }
  expect(await page.getByText("The printed table for level play could not be read.").count()).toBe(1);
});

test("the tables print on four sheets of A4, all of them, with the list of what is not known", async () => {
  const page = await scene.go("tables");
  const sheets = await onPaper(page);
  expect(sheets).toHaveLength(4);
  const text = sheets.map((sheet) => sheet.text).join(" ");
  for (const words of [
    "Tables: England, since 2016",
    "−6 2800 published [2]",
    "20 900 published [2]",
    "79 or more 16 1000 published [5]",
    "club competition yes published",
    "ad-hoc game no published",
    "Not known, or not as one might think",
    "What happens above an index of 2950",
    "https://www.croquet.org.uk/?p=games/golf/handicapping/automatic",
  ]) {
    expect(text).toContain(words);
  }
  expect(text).not.toContain("Print the tables");
  await isWell(scene.device);
});
