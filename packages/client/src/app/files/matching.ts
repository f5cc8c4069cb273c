/**
 * Which column holds what: a guess by the headings, then by what stands below them, for a person to look over and change. A column
 * nobody can tell stays without a meaning, which is seen at once; a wrong meaning may not be.
 */
import { winningScore } from "@sward/core";
import { readEnding, readFormat, readHoops, readOccasion, readPlay, readScore, readStart } from "./cells.ts";
import { looksLikeDay } from "./days.ts";
import type { FieldName } from "./fields.ts";
import { fieldOfHeading, headingKey } from "./fields.ts";
import { peopleInCell } from "./people.ts";
import type { Table } from "./reading.ts";

/** The meaning of each column, from the left; null for none. */
export type Columns = readonly (FieldName | null)[];

/** Rows that are looked at for a guess: enough to tell, however long the file. */
export const SAMPLED = 200;

/** @param isKnown whether a text is somebody's name */
export function guessColumns(table: Table, isKnown: (text: string) => boolean): Columns {
  const columns: (FieldName | null)[] = Array.from({ length: table.width }, () => null);
  const samples = columns.map((_, at) => sample(table, at));
  const free = (field: FieldName): boolean => !columns.includes(field);
  const put = (at: number, field: FieldName): void => {
    if (columns[at] === null && free(field)) columns[at] = field;
  };

  for (const [at, heading] of (table.heading ?? []).entries()) {
    const field = fieldOfHeading(heading);
    if (field === undefined || at >= columns.length) continue;
    // "Score" above single numbers is one side's.
    put(at, field === "score" && most(samples[at], (cell) => readHoops(cell) !== null) ? "hoops" : field);
  }
  const byContent: readonly (readonly [FieldName, (cell: string) => boolean])[] = [
    ["date", looksLikeDay],
    ["score", (cell) => readScore(cell).ok],
    ["play", (cell) => readPlay(cell) !== undefined],
    ["occasion", (cell) => readOccasion(cell) !== undefined],
    ["ended", (cell) => cell !== "" && readEnding(cell) !== undefined],
    ["start", (cell) => readStart(cell) !== undefined],
  ];
  for (const [field, fits] of byContent) {
    if (!free(field) || (field === "score" && !free("hoops"))) continue;
    const at = columns.findIndex((meaning, place) => meaning === null && most(samples[place], fits));
    if (at !== -1) put(at, field);
  }
  guessPeople(columns, samples, isKnown, put);
  guessNumbers(columns, samples, put);
  return columns;
}

/** One meaning stands over one column only: choosing it here takes it from where it stood. */
export const withColumn = (columns: Columns, at: number, field: FieldName | null): Columns =>
  columns.map((meaning, place) => (place === at ? field : meaning === field ? null : meaning));

/** Names a kind of file, so that what was chosen for one of the kind is found for the next. */
export const fileKind = ({ heading, width }: Table): string =>
  heading === null ? `${width} columns` : heading.map(headingKey).join("|");

type Put = (at: number, field: FieldName) => void;
type Samples = readonly (readonly string[])[];

function guessPeople(columns: Columns, samples: Samples, isKnown: (text: string) => boolean, put: Put): void {
  const isName = (cell: string): boolean => peopleInCell(cell, isKnown).some(({ text }) => isKnown(text));
  const found = columns.flatMap((meaning, at) => (meaning === null && most(samples[at], isName, 0.4) ? [at] : []));
  const missing = (["player", "partner", "opponent", "opponentPartner"] as const).filter(
    (field) => !columns.includes(field),
  );
  const fields = found.length >= 4 ? missing : missing.filter((field) => field === "player" || field === "opponent");
  for (const [place, field] of fields.entries()) {
    const at = found[place];
    if (at !== undefined) put(at, field);
  }
}

function guessNumbers(columns: Columns, samples: Samples, put: Put): void {
  const isNumber = (at: number): boolean =>
    columns[at] === null && most(samples[at], (cell) => /^[-−–]?\d{1,2}$/.test(cell));
  if (!columns.includes("score")) {
    for (let at = columns.length - 2; at >= 0 && !columns.includes("hoops"); at--) {
      if (!isNumber(at) || !isNumber(at + 1) || !areHoops(samples[at] ?? [], samples[at + 1] ?? [])) continue;
      put(at, "hoops");
      put(at + 1, "opponentHoops");
    }
  }
  const lengths = columns.findIndex(
    (_, at) =>
      isNumber(at) && most(samples[at], (cell) => readFormat(cell) !== undefined, 1) && samples[at]?.includes("13"),
  );
  if (lengths !== -1) put(lengths, "format");
  const handicapOf = { player: "handicap", partner: "partnerHandicap", opponent: "opponentHandicap" } as const;
  for (const [at, meaning] of columns.entries()) {
    if (meaning === "player" || meaning === "partner" || meaning === "opponent") {
      if (isNumber(at + 1)) put(at + 1, handicapOf[meaning]);
    } else if (meaning === "opponentPartner" && isNumber(at + 1)) put(at + 1, "opponentPartnerHandicap");
  }
}

/** Of each pair one has just what wins a game of some length, mostly. */
function areHoops(own: readonly string[], other: readonly string[]): boolean {
  const wins = new Set<number>(([7, 13, 19] as const).map(winningScore));
  const ends = own.filter((cell, row) => wins.has(Math.max(Number(cell), Number(other[row]))));
  return ends.length >= own.length * 0.6 && own.length > 0;
}

const sample = (table: Table, at: number): readonly string[] =>
  table.rows.slice(0, SAMPLED).map(({ cells }) => cells[at] ?? "");

/** Most of the cells that hold something fit; an empty column fits nothing. */
function most(cells: readonly string[] | undefined, fits: (cell: string) => boolean, share = 0.7): boolean {
  const filled = (cells ?? []).filter((cell) => cell !== "");
  return filled.length > 0 && filled.filter(fits).length >= filled.length * share;
}
