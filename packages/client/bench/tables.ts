/** Figures as tables of a page. */
import type { Row } from "./growth.ts";
import type { Figure } from "./measure.ts";

export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;
  return [line(head), line(head.map((_, n) => (n === 0 ? "---" : "--:"))), ...rows.map(line)].join("\n");
}

/** A stage a line, a size a column, and how it grows. */
export function stageTable(rows: readonly Row[]): string {
  const sizes = [...new Set(rows.flatMap(({ figures }) => figures.map(({ size = 0 }) => size)))].sort((a, b) => a - b);
  return table(
    ["stage", ...sizes.map((size) => size.toLocaleString("en")), "exponent", "floor", "floor's exponent"],
    rows.map(({ what, figures, exponent, floorExponent }) => [
      what,
      ...sizes.map((size) => cell(figures.find((one) => one.size === size))),
      exponent?.toFixed(2) ?? "",
      figures[0]?.floor?.what ?? "",
      floorExponent?.toFixed(2) ?? "",
    ]),
  );
}

const cell = (one: Figure | undefined): string =>
  one === undefined ? "" : `${ms(one.value)}${one.floor === undefined ? "" : ` (${times(one.floor.ratio)})`}`;

/** Of a floor too short for a browser's clock there is no ratio, and none in a file of figures. */
const times = (ratio: number): string => (Number.isFinite(ratio) ? ratio.toFixed(2) : "–");

export const ms = (n: number): string =>
  n < 10 ? n.toFixed(2) : n < 100 ? n.toFixed(1) : Math.round(n).toLocaleString("en");
