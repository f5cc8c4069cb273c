/**
 * Days as spreadsheets write them. 3/4/2031 is in March in one country and in April in another, and the file does not say which; so
 * the whole column is looked at for a day that can be read one way only, and when there is none a person is asked. Rejected: the
 * reader's locale (the sheet may be a visiting club's) and deciding line by line (one column would be read two ways).
 */
import type { Day, Result } from "@sward/core";
import { Day as DayShape, fail, ok } from "@sward/core";

export type DateOrder = "day-first" | "month-first";

export type DayFaultType = "not-a-date" | "date-order-open" | "date-is-a-number";

type Written =
  | { readonly type: "day"; readonly day: Day }
  | { readonly type: "either"; readonly one: number; readonly two: number; readonly year: number }
  | { readonly type: "number" }
  | { readonly type: "none" };

/** What the days of a column tell of their order, with the line that tells it. */
export interface OrderEvidence {
  readonly dayFirst: number | null;
  readonly monthFirst: number | null;
  /** Lines whose day depends on the order. */
  readonly open: number;
}

export function orderEvidence(cells: Iterable<{ readonly line: number; readonly text: string }>): OrderEvidence {
  let dayFirst: number | null = null;
  let monthFirst: number | null = null;
  let open = 0;
  for (const { line, text } of cells) {
    const written = readWritten(text);
    if (written.type !== "either" || written.one === written.two) continue;
    open += 1;
    const { one, two, year } = written;
    const first = calendarDay(year, two, one) !== null;
    const second = calendarDay(year, one, two) !== null;
    if (first && !second) dayFirst ??= line;
    if (second && !first) monthFirst ??= line;
  }
  return { dayFirst, monthFirst, open };
}

/** The order all lines agree on; null when none tells, or they disagree. */
export const orderOf = ({ dayFirst, monthFirst }: OrderEvidence): DateOrder | null =>
  dayFirst !== null && monthFirst === null
    ? "day-first"
    : monthFirst !== null && dayFirst === null
      ? "month-first"
      : null;

export function readDay(text: string, order: DateOrder | null): Result<Day, DayFaultType> {
  const written = readWritten(text);
  if (written.type === "number") return fail("date-is-a-number");
  if (written.type === "none") return fail("not-a-date");
  if (written.type === "day") return ok(written.day);
  const { one, two, year } = written;
  if (order === null && one !== two) return fail("date-order-open");
  const [day, month] = order === "month-first" ? [two, one] : [one, two];
  const found = calendarDay(year, month, day);
  return found === null ? fail("not-a-date") : ok(found);
}

export const looksLikeDay = (text: string): boolean => {
  const { type } = readWritten(text);
  return type === "day" || type === "either";
};

const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
const MONTH = "(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\\.?";
const WEEKDAY = /^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+/i;
const CLOCK = /[T\s]+\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?\s*(?:[ap]m|z)?$/i;
const ISO = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$/;
const NUMERIC = /^(\d{1,2})[-/.](\d{1,2})[-/.](\d{4}|\d{2})$/;
const DAY_MONTH = new RegExp(`^(\\d{1,2})(?:st|nd|rd|th)?[-\\s]+${MONTH}[-\\s,]+(\\d{4}|\\d{2})$`, "i");
const MONTH_DAY = new RegExp(`^${MONTH}[-\\s]+(\\d{1,2})(?:st|nd|rd|th)?[-\\s,]+(\\d{4}|\\d{2})$`, "i");

function readWritten(text: string): Written {
  const plain = text.trim().replace(WEEKDAY, "").replace(CLOCK, "");
  const iso = ISO.exec(plain);
  if (iso !== null) return written(calendarDay(Number(iso[1]), Number(iso[2]), Number(iso[3])));
  const numeric = NUMERIC.exec(plain);
  if (numeric !== null) {
    const [one, two, year] = [Number(numeric[1]), Number(numeric[2]), yearOf(numeric[3] ?? "")];
    return calendarDay(year, one, two) === null && calendarDay(year, two, one) === null
      ? { type: "none" }
      : { type: "either", one, two, year };
  }
  const named = DAY_MONTH.exec(plain);
  if (named !== null) return written(calendarDay(yearOf(named[3] ?? ""), monthOf(named[2] ?? ""), Number(named[1])));
  const turned = MONTH_DAY.exec(plain);
  if (turned !== null) {
    return written(calendarDay(yearOf(turned[3] ?? ""), monthOf(turned[1] ?? ""), Number(turned[2])));
  }
  return /^\d{5}(?:\.\d+)?$/.test(plain) ? { type: "number" } : { type: "none" };
}

const written = (day: Day | null): Written => (day === null ? { type: "none" } : { type: "day", day });

const monthOf = (name: string): number => MONTHS.indexOf(name.slice(0, 3).toLowerCase()) + 1;

/** Two figures are of this century: nobody's card goes back further. */
const yearOf = (text: string): number => (text.length === 2 ? 2000 + Number(text) : Number(text));

function calendarDay(year: number, month: number, day: number): Day | null {
  const two = (value: number): string => String(value).padStart(2, "0");
  const text = `${String(year).padStart(4, "0")}-${two(month)}-${two(day)}`;
  return DayShape().safeParse(text).success ? text : null;
}
