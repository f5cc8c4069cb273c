/**
 * A sheet as the text of a file: CSV (RFC 4180, with the mark that has every spreadsheet read it as UTF-8) or JSON. A cell that a
 * spreadsheet would run as a formula gets an apostrophe before it, which the reading of files takes off again. The pattern is our own:
 * the library's stops at the first line break inside a cell.
 */
import type { Day } from "@sward/core";
import Papa from "papaparse";
import type { CellValue, Sheet } from "./export.ts";

/**
 * What begins a formula somewhere: OWASP, "CSV Injection", https://owasp.org/www-community/attacks/CSV_Injection. Apostrophes before it
 * belong to it, so that taking one off gives back what was there.
 */
const FORMULA = /^'*[=+\-@＝＋－＠\t\r\n]/;

export const sheetCsv = ({ columns, rows }: Sheet): string =>
  `\uFEFF${Papa.unparse({ fields: [...columns], data: rows.map((row) => [...row]) }, { escapeFormulae: FORMULA, newline: "\r\n" })}\r\n`;

export interface JsonHead {
  readonly club: string;
  /** The day it was taken out. */
  readonly on: Day;
}

/** `{ sheet, club, on, lines: [{ <column>: value or null }] }`. */
export function sheetJson({ sheet, columns, rows }: Sheet, { club, on }: JsonHead): string {
  const lines = rows.map((row) =>
    Object.fromEntries(columns.map((column, at): [string, CellValue] => [column, row[at] ?? null])),
  );
  return `${JSON.stringify({ sheet, club, on, lines }, null, 1)}\n`;
}
