/**
 * One row of a file as a report of one game, or as everything that is wrong with it at once, each fault with its field. Nothing of the
 * record is looked at here but names and handicaps: whether the game is in the record already is told in `judging.ts`. What only matters
 * for a new game (a day that lies ahead, a handicap the table does not have, an event nobody opened) is a doubt and no fault: a line
 * that is in the record already is not blamed for it.
 */
import type { Day, EventId, Format, Game, MatchReported, Occasion, Play, PlayerId, RuleSet } from "@sward/core";
import { checkMatch, triggerOf } from "@sward/core";
import { readWhole } from "../entry/check.ts";
import {
  readCounts,
  readEnding,
  readFormat,
  readHoops,
  readOccasion,
  readPlay,
  readScore,
  readStart,
} from "./cells.ts";
import type { DateOrder } from "./days.ts";
import { readDay } from "./days.ts";
import type { LineFault, PlainFaultType } from "./faults.ts";
import type { FieldName } from "./fields.ts";
import { seatFields } from "./fields.ts";
import type { Row } from "./reading.ts";
import type { SeatSetup } from "./seats.ts";
import { readSeats } from "./seats.ts";

/** What holds for a line that does not say otherwise. */
export interface Defaults {
  readonly date: Day;
  readonly play: Play;
  readonly format: Format;
  /** Null until somebody has said it. */
  readonly occasion: Occasion | null;
}

export type EventAnswer =
  | { readonly type: "event"; readonly event: EventId }
  | { readonly type: "without" }
  | { readonly type: "not-on-day"; readonly from: Day; readonly to: Day }
  /** Nobody has said whether to open it. */
  | { readonly type: "open" };

export interface LineSetup extends SeatSetup {
  readonly columns: ReadonlyMap<FieldName, number>;
  /** Typed on the screen instead of what the file has, by line. */
  readonly edits: ReadonlyMap<number, ReadonlyMap<FieldName, string>>;
  readonly order: DateOrder | null;
  readonly defaults: Defaults;
  readonly today: Day;
  rulesOn(day: Day): RuleSet | undefined;
  eventOf(title: string, day: Day): EventAnswer;
}

/** A line that can be a game. */
export interface ToldLine {
  /** With one game, own side first, and number 1. */
  readonly body: MatchReported;
  /** Which match of the day and which game of it, where the file says so. */
  readonly place: { readonly match: number; readonly game: number } | null;
  readonly filled: ReadonlySet<PlayerId>;
}

export interface LineReading {
  readonly line: number;
  /** Null when there are faults. */
  readonly told: ToldLine | null;
  readonly faults: readonly LineFault[];
  readonly doubts: readonly LineFault[];
}

export const cellReader =
  (row: Row, { columns, edits }: Pick<LineSetup, "columns" | "edits">) =>
  (field: FieldName): string => {
    const at = columns.get(field);
    return (edits.get(row.line)?.get(field) ?? (at === undefined ? "" : (row.cells[at] ?? ""))).trim();
  };

export function readLine(row: Row, setup: LineSetup): LineReading {
  const value = cellReader(row, setup);
  const faults: LineFault[] = [];
  const date = dayOf(value, setup, faults);
  const start = optional("start", readStart, "not-a-time", value, faults);
  const play = optional("play", readPlay, "not-a-play", value, faults) ?? setup.defaults.play;
  const format = optional("format", readFormat, "not-a-format", value, faults) ?? setup.defaults.format;
  const occasion = occasionOf(value, setup, faults);
  const counts = optional("counts", readCounts, "not-yes-or-no", value, faults) ?? true;
  const game = gameOf(value, faults);
  const place = placeOf(value, faults);
  const seats = readSeats(value, date, setup);
  faults.push(...seats.faults);
  const nothing = { line: row.line, told: null, faults, doubts: [] };
  if (faults.length > 0 || date === null || occasion === null || game === null) return nothing;

  const title = value("event");
  const event = title === "" ? ({ type: "without" } as const) : setup.eventOf(title, date);
  const [own, other] = seats.sides;
  const body: MatchReported = {
    date,
    ...(start === undefined ? {} : { start }),
    occasion,
    ...(event.type === "event" ? { event: event.event } : {}),
    n: 1,
    play,
    format,
    sides: [[...own], [...other]],
    games: [game],
    ...(counts ? {} : { excluded: true as const }),
  };
  const fault = matchFault(body, value);
  if (fault !== null) return { ...nothing, faults: [fault] };
  const told: ToldLine = { body, place, filled: seats.filled };
  return { line: row.line, told, faults, doubts: [...doubtsOf(body, value, setup), ...eventDoubts(event, title)] };
}

type Value = (field: FieldName) => string;

function optional<T>(
  field: FieldName,
  read: (text: string) => T | undefined,
  type: PlainFaultType,
  value: Value,
  faults: LineFault[],
): T | undefined {
  const text = value(field);
  if (text === "") return undefined;
  const found = read(text);
  if (found === undefined) faults.push({ type, field, text });
  return found;
}

function dayOf(value: Value, { columns, order, defaults }: LineSetup, faults: LineFault[]): Day | null {
  const text = value("date");
  if (text === "") {
    if (!columns.has("date") && defaults.date !== "") return defaults.date;
    faults.push({ type: "no-date", field: "date", text });
    return null;
  }
  const day = readDay(text, order);
  if (day.ok) return day.value;
  faults.push({ type: day.fault, field: "date", text });
  return null;
}

function occasionOf(value: Value, { defaults }: LineSetup, faults: LineFault[]): Occasion | null {
  const said = optional("occasion", readOccasion, "not-an-occasion", value, faults);
  if (said !== undefined || value("occasion") !== "") return said ?? null;
  if (defaults.occasion === null) faults.push({ type: "no-occasion", field: "occasion", text: "" });
  return defaults.occasion;
}

function gameOf(value: Value, faults: LineFault[]): Game | null {
  const ended = readEnding(value("ended"));
  if (ended === undefined) faults.push({ type: "not-an-ending", field: "ended", text: value("ended") });
  const score = scoreOf(value, faults);
  if (score === null || ended === undefined) return null;
  return ended === "played-out" ? { score } : { score, ended };
}

function scoreOf(value: Value, faults: LineFault[]): [number, number] | null {
  const whole = value("score");
  const both = whole === "" && value("opponentHoops") === "" ? value("hoops") : whole;
  if (both !== "") {
    const field = whole === "" ? "hoops" : "score";
    const read = readScore(both);
    if (read.ok) return [read.value[0], read.value[1]];
    faults.push({ type: read.fault, field, text: both });
    return null;
  }
  if (value("opponentHoops") === "") {
    // Typed anew as one, whichever way the file has it.
    faults.push({ type: "no-score", field: "score", text: "" });
    return null;
  }
  const hoops = (["hoops", "opponentHoops"] as const).map((field): number | null => {
    const text = value(field);
    const read = readHoops(text);
    if (read === null) faults.push({ type: text === "" ? "no-score" : "not-a-score", field, text });
    return read;
  });
  const [own, other] = hoops;
  return own == null || other == null ? null : [own, other];
}

function placeOf(value: Value, faults: LineFault[]): ToldLine["place"] {
  const number = (field: "match" | "game", most: number): number => {
    const text = value(field);
    if (text === "") return 1;
    const read = readWhole(text);
    if (read !== null && read >= 1 && read <= most) return read;
    faults.push({ type: "not-a-number", field, text });
    return 1;
  };
  const [match, game] = [number("match", 50), number("game", 9)];
  return value("match") === "" && value("game") === "" ? null : { match, game };
}

/** Core's own answer, so that the file is held to what an entry is held to. */
function matchFault(body: MatchReported, value: Value): LineFault | null {
  const fault = checkMatch(body);
  if (fault === null) return null;
  if (fault.type === "score-cannot-be") {
    const field = value("score") === "" ? "hoops" : "score";
    return { type: fault.type, field, text: fault.score.join("-"), format: body.format };
  }
  if (fault.type === "player-twice") {
    const [own] = body.sides[0];
    const field = own?.player === fault.player && body.sides[0].length === 1 ? "opponent" : twiceIn(body, fault.player);
    return { type: fault.type, field, text: value(field) };
  }
  return { type: "uneven-sides", field: "partner", text: value("partner") };
}

/** The field of the later of the two places. */
function twiceIn({ sides: [own, other] }: MatchReported, player: PlayerId): FieldName {
  const seats = [own[0], own[1], other[0], other[1]];
  const at = seats.findLastIndex((seat) => seat?.player === player);
  return seatFields[at]?.[0] ?? "opponent";
}

function doubtsOf(body: MatchReported, value: Value, { today, rulesOn }: LineSetup): LineFault[] {
  const doubts: LineFault[] = [];
  if (body.date > today) doubts.push({ type: "future-date", field: "date", text: value("date"), today });
  const rules = rulesOn(body.date);
  for (const [s, side] of body.sides.entries()) {
    for (const [p, { off }] of side.entries()) {
      if (rules === undefined || triggerOf(rules, off) !== undefined) continue;
      const field = seatFields[s * 2 + p]?.[1] ?? "handicap";
      doubts.push({ type: "handicap-not-in-table", field, text: String(off), rules: rules.title });
    }
  }
  return doubts;
}

function eventDoubts(answer: EventAnswer, title: string): LineFault[] {
  const at = { field: "event", text: title } as const;
  if (answer.type === "open") return [{ ...at, type: "event-open" }];
  return answer.type === "not-on-day" ? [{ ...at, ...answer, type: "event-not-on-day" }] : [];
}
