/**
 * A player's results from a spreadsheet: CSV with a heading, one game on each line. The file edge: everything is checked here and
 * named by line and column, so that what is folded into a card is known to be possible. The first fault ends the reading, and
 * nothing is taken of a file that has one.
 *
 * Lines are counted as an editor shows them, also when a quoted value goes over several. Columns may come in any order; those that
 * mean nothing here are passed over and named in the answer, so that a slip in an optional heading is seen.
 */
import type { Day, Format, Game, MatchReported, Occasion, Play, PlayerId, Result, RuleSet } from "@sward/core";
import {
  checkMatch,
  Day as DaySchema,
  Format as FormatSchema,
  fail,
  Occasion as OccasionSchema,
  ok,
  triggerOf,
} from "@sward/core";
import Papa from "papaparse";
import type { ResultsFault } from "./faults.ts";
import { readHandicap } from "./options.ts";

export interface ResultRow {
  /** Line of the file, the heading being 1. */
  readonly line: number;
  readonly date: Day;
  readonly opponent: string;
  readonly opponentHandicap: number;
  readonly play: Play;
  readonly format: Format;
  readonly game: Game;
  readonly occasion: Occasion;
  /** Title of the tournament, empty for none. */
  readonly event: string;
}

export interface ResultsFile {
  readonly rows: readonly ResultRow[];
  /** Headings that mean nothing here. */
  readonly unused: readonly string[];
}

const REQUIRED = ["date", "opponent", "opponent_handicap", "play", "score"];
const OPTIONAL = ["event", "occasion", "format", "ended"];

interface Line {
  readonly line: number;
  readonly fields: readonly string[];
}

type Read<T> = Result<T, ResultsFault>;

/** @param today the reader's calendar day: nothing was played after it */
export function readResults(text: string, set: RuleSet, today: Day): Read<ResultsFile> {
  const lines = splitLines(text);
  if (!lines.ok) return lines;
  const [first, ...rest] = lines.value;
  if (first === undefined) return fail({ type: "results-empty" });
  const heading = first.fields.map((name) => name.trim().toLowerCase().replaceAll(" ", "_"));
  const missing = REQUIRED.find((column) => !heading.includes(column));
  if (missing !== undefined) return fail({ type: "results-column-missing", column: missing, found: first.fields });
  const twice = heading.find((column, at) => column !== "" && heading.indexOf(column) !== at);
  if (twice !== undefined) return fail({ type: "results-column-twice", column: twice });
  if (rest.length === 0) return fail({ type: "results-empty" });

  const rows: ResultRow[] = [];
  for (const { line, fields } of rest) {
    if (fields.length !== heading.length) {
      return fail({ type: "results-fields", line, fields: fields.length, columns: heading.length });
    }
    const row = readRow(line, (column) => fields[heading.indexOf(column)]?.trim() ?? "", set, today);
    if (!row.ok) return row;
    rows.push(row.value);
  }
  const unused = first.fields.filter((_, at) => ![...REQUIRED, ...OPTIONAL, ""].includes(heading[at] ?? ""));
  return ok({ rows, unused });
}

function splitLines(text: string): Read<readonly Line[]> {
  const parsed = Papa.parse<string[]>(text, { delimitersToGuess: [",", ";", "\t"] });
  const broken = parsed.errors.find(({ type }) => type === "Quotes");
  const lines: Line[] = [];
  let line = 1;
  for (const [at, fields] of parsed.data.entries()) {
    if (at === broken?.row) return fail({ type: "results-quotes", line });
    if (fields.some((field) => field.trim() !== "")) lines.push({ line, fields });
    line += 1 + fields.reduce((breaks, field) => breaks + (field.match(/\r\n|\r|\n/g)?.length ?? 0), 0);
  }
  return broken === undefined ? ok(lines) : fail({ type: "results-quotes", line });
}

function readRow(line: number, value: (column: string) => string, set: RuleSet, today: Day): Read<ResultRow> {
  const unreadable = (column: string): Read<never> =>
    fail({ type: "results-value", line, column, given: value(column) });

  const date = DaySchema().safeParse(value("date"));
  if (!date.success) return unreadable("date");
  if (date.data > today) return fail({ type: "results-future", line, date: date.data, today });
  const opponent = value("opponent");
  if (opponent === "") return unreadable("opponent");
  const handicap = readHandicap(value("opponent_handicap"));
  if (!handicap.ok) return unreadable("opponent_handicap");
  if (triggerOf(set, handicap.value) === undefined) {
    return fail({ type: "results-unknown-handicap", line, handicap: handicap.value, rules: set.id });
  }
  const play = PLAYS.get(value("play").toLowerCase());
  if (play === undefined) return unreadable("play");
  const occasion = OccasionSchema().safeParse(value("occasion") || "club-competition");
  if (!occasion.success) return unreadable("occasion");
  const format = FormatSchema().safeParse(Number(value("format") || "13"));
  if (!format.success) return unreadable("format");
  const ended = ENDINGS.get(value("ended").toLowerCase());
  if (ended === undefined) return unreadable("ended");
  const points = /^(\d{1,2}) ?[-\u2013] ?(\d{1,2})$/.exec(value("score"));
  if (points === null) return unreadable("score");

  const score: [number, number] = [Number(points[1]), Number(points[2])];
  const game: Game = ended === "played out" ? { score } : { score, ended };
  if (!canBe(game, format.data)) {
    return fail({ type: "results-score", line, score: value("score"), format: format.data });
  }
  return ok({
    line,
    date: date.data,
    opponent,
    opponentHandicap: handicap.value,
    play,
    format: format.data,
    game,
    occasion: occasion.data,
    event: value("event"),
  });
}

const PLAYS: ReadonlyMap<string, Play> = new Map([
  ["h", "handicap"],
  ["handicap", "handicap"],
  ["l", "level"],
  ["level", "level"],
]);

const ENDINGS: ReadonlyMap<string, "played out" | NonNullable<Game["ended"]>> = new Map([
  ["", "played out"],
  ["time", "time"],
  ["abandoned", "abandoned"],
  ["walkover", "walkover"],
]);

/** Asked of core, so that a file is held to what an entry is held to. */
function canBe(game: Game, format: Format): boolean {
  const lineup = (name: string) => [{ player: name as PlayerId, off: 0 }];
  const match: MatchReported = {
    date: "2000-01-01",
    occasion: "ad-hoc",
    n: 1,
    play: "level",
    format,
    sides: [lineup("own"), lineup("opponent")],
    games: [game],
  };
  return checkMatch(match) === null;
}
