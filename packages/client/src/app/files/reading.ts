/**
 * From a text to a table: a file of comma, semicolon or tab separated values, or what a spreadsheet puts on the clipboard (tabs). The
 * file edge of the screen: nothing is judged here but whether there is a table at all, and each row keeps the line it stands on as
 * an editor counts them, also when a quoted value goes over several lines.
 *
 * Rejected: guessing over an unclosed quotation mark. Everything below it would be read into one cell, and the faults that come of it
 * would blame lines that are right.
 */
import type { Result } from "@sward/core";
import { fail, ok } from "@sward/core";
import Papa from "papaparse";
import { readScore } from "./cells.ts";
import { looksLikeDay } from "./days.ts";
import { fieldOfHeading } from "./fields.ts";

export interface Row {
  /** Line of the text, from 1. */
  readonly line: number;
  /** As many as the table is wide. */
  readonly cells: readonly string[];
}

export interface Table {
  /** Null when the first row is data. */
  readonly heading: readonly string[] | null;
  readonly rows: readonly Row[];
  readonly width: number;
  readonly delimiter: "," | ";" | "\t";
}

export type TableFault =
  | { readonly type: "table-empty" }
  | { readonly type: "table-quotes"; readonly line: number }
  | { readonly type: "table-too-long"; readonly lines: number; readonly most: number };

/** More than a club plays in thirty years, or a league in ten; what is longer is rather the wrong file. */
export const MOST_ROWS = 120_000;

/** @param heading whether the first row is one; "detect" looks at it */
export function readTable(text: string, heading: "detect" | "yes" | "no" = "detect"): Result<Table, TableFault> {
  const plain = text.replace(/^\uFEFF/, "").replace(/\r\n?/g, "\n");
  const delimiter = delimiterOf(plain);
  const parsed = Papa.parse<string[]>(plain, { delimiter, newline: "\n" });
  const broken = parsed.errors.find(({ type }) => type === "Quotes");
  const rows: Row[] = [];
  let line = 1;
  for (const [at, fields] of parsed.data.entries()) {
    if (at === broken?.row) return fail({ type: "table-quotes", line });
    const cells = fields.map(cellText);
    if (cells.some((cell) => cell !== "")) rows.push({ line, cells });
    line += 1 + fields.reduce((breaks, field) => breaks + (field.match(/\n/g)?.length ?? 0), 0);
  }
  if (broken !== undefined) return fail({ type: "table-quotes", line });
  if (rows.length > MOST_ROWS) return fail({ type: "table-too-long", lines: rows.length, most: MOST_ROWS });

  const width = rows.reduce((most, { cells }) => Math.max(most, filled(cells)), 0);
  const even = rows.map((row) => ({ ...row, cells: Array.from({ length: width }, (_, at) => row.cells[at] ?? "") }));
  const [first, ...rest] = even;
  if (first === undefined) return fail({ type: "table-empty" });
  const headed = heading === "detect" ? isHeading(first.cells, rest[0]?.cells ?? []) : heading === "yes";
  const body = headed ? rest : even;
  if (body.length === 0) return fail({ type: "table-empty" });
  return ok({ heading: headed ? first.cells : null, rows: body, width, delimiter });
}

/** Without what an export puts before a cell so that no spreadsheet takes it for a formula. */
const cellText = (field: string): string => field.trim().replace(/^'(?='*[=+\-@＝＋－＠\t\n])/, "");

const filled = (cells: readonly string[]): number => cells.findLastIndex((cell) => cell !== "") + 1;

function delimiterOf(text: string): Table["delimiter"] {
  const first = text.split("\n").find((line) => line.trim() !== "") ?? "";
  const outside = first.replace(/"[^"]*"/g, "");
  if (outside.includes("\t")) return "\t";
  const many = (sign: string): number => outside.split(sign).length - 1;
  return many(";") > many(",") ? ";" : ",";
}

/** Two headings we know; or nothing in it that could be of a game, above a line that has something. */
function isHeading(cells: readonly string[], below: readonly string[]): boolean {
  const known = cells.filter((cell) => fieldOfHeading(cell) !== undefined).length;
  if (known >= 2) return true;
  const isOfGame = (cell: string): boolean => looksLikeDay(cell) || readScore(cell).ok || /^-?\d+$/.test(cell);
  return !cells.some(isOfGame) && (known === 1 || below.some(isOfGame));
}
