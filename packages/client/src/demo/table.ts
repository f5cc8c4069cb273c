/**
 * One CSV file as lines that know where they stand. A line reads its cells by column and form; a cell that is wrong is noted with
 * file, line and column, and a stand-in comes back so that reading can go on (see faults.ts).
 *
 * A line break inside a quoted cell is refused though CSV allows it: line numbers would no longer be those an editor shows.
 */
import Papa from "papaparse";
import type { DemoFault, Named, Place } from "./faults.ts";
import type { Form } from "./forms.ts";

/** The files, by path from the folder of the demo clubs, and what was found wrong so far. */
export interface Reading {
  readonly files: ReadonlyMap<string, string>;
  readonly faults: DemoFault[];
}

export interface Line {
  readonly number: number;
  /** The cell as it stands. */
  raw(column: string): string;
  read<T>(column: string, form: Form<T>): T;
  /** Undefined for an empty cell. */
  maybe<T>(column: string, form: Form<T>): T | undefined;
  /** What the cell names, from a map of what there is; undefined, and a fault, when there is no such thing. */
  find<T>(column: string, what: Named, among: ReadonlyMap<string, T>): T | undefined;
  place(column: string): Place;
  blame(fault: DemoFault): void;
}

/** The lines of a file below its header; none when the file is missing or its header lacks a column. */
export function readTable(reading: Reading, file: string, columns: readonly string[]): Line[] {
  const { faults } = reading;
  const text = reading.files.get(file);
  if (text === undefined) {
    faults.push({ type: "demo-file-missing", file });
    return [];
  }
  const { data, errors } = Papa.parse<string[]>(text.replace(/\r?\n$/, ""), { delimiter: "," });
  const [header = [], ...rows] = data;
  const missing = columns.filter((column) => !header.includes(column));
  for (const column of missing) faults.push({ type: "demo-column-missing", file, line: 1, column });
  if (missing.length > 0) return [];

  const lines: Line[] = [];
  for (const [place, cells] of rows.entries()) {
    const line = place + 2;
    const broken = cells.length !== header.length || cells.some((cell) => /[\r\n]/.test(cell));
    if (broken || errors.some(({ row }) => row === place + 1)) {
      faults.push({ type: "demo-broken-line", file, line });
      // An unclosed quote swallows the rest of the file: what follows would be blamed for it.
      if (cells.some((cell) => /[\r\n]/.test(cell))) break;
      continue;
    }
    lines.push(createLine(file, line, new Map(header.map((column, at) => [column, cells[at]?.trim() ?? ""])), faults));
  }
  return lines;
}

function createLine(file: string, number: number, cells: ReadonlyMap<string, string>, faults: DemoFault[]): Line {
  const raw = (column: string): string => cells.get(column) ?? "";
  const place = (column: string): Place => ({ file, line: number, column });
  const blame = (fault: DemoFault): void => {
    faults.push(fault);
  };
  function read<T>(column: string, form: Form<T>): T {
    const value = raw(column);
    const parsed = form.parse(value);
    if (parsed === undefined) blame({ type: "demo-value", ...place(column), value, wanted: form.wanted });
    return parsed ?? form.standIn;
  }
  return {
    number,
    raw,
    read,
    maybe: (column, form) => (raw(column) === "" ? undefined : read(column, form)),
    find(column, what, among) {
      const found = among.get(raw(column));
      if (found === undefined) blame({ type: "demo-unknown", ...place(column), what, key: raw(column) });
      return found;
    },
    place,
    blame,
  };
}

/** Notes a key that two lines have; true the first time. */
export function isFirst(line: Line, column: string, what: Named, seen: ReadonlyMap<string, unknown>): boolean {
  const value = line.raw(column);
  if (!seen.has(value)) return true;
  line.blame({ type: "demo-twice", ...line.place(column), what, key: value });
  return false;
}
