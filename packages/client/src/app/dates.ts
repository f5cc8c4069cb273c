/**
 * Days as people read them, in the language of the reader's browser. A day in the record is a calendar day in the club's own
 * place and no time zone is ever applied to it, so it is read and shown as UTC; a moment (`at`) is shown in local time.
 */
import type { Day } from "@sward/core";

/** Made when it is first asked for: six of these at once are a tenth of a second of a phone's start. */
const formatted = (options: Intl.DateTimeFormatOptions): ((moment: string) => string) => {
  let format: Intl.DateTimeFormat | null = null;
  return (moment) => {
    format ??= new Intl.DateTimeFormat(undefined, options);
    return format.format(new Date(moment));
  };
};

/** A day once shown is remembered: a card has the same few hundred each time it is drawn, and the browser takes long over one. */
export const onDay = (options: Intl.DateTimeFormatOptions): ((day: Day) => string) => {
  const format = formatted({ ...options, timeZone: "UTC" });
  const shown = new Map<Day, string>();
  return (day) => {
    const known = shown.get(day) ?? format(`${day}T00:00:00Z`);
    shown.set(day, known);
    return known;
  };
};

/** Such as "12 Jul 2025". */
export const showDay = onDay({ day: "numeric", month: "short", year: "numeric" });

/** Such as "12/07/25": for a narrow column of a printed card. */
export const showDayPaper = onDay({ day: "2-digit", month: "2-digit", year: "2-digit" });

const dayAndMonth = onDay({ day: "numeric", month: "short" });

/** Such as "12 Jul", with the year only where it is not today's. */
export const showDayNear = (day: Day, today: Day): string =>
  seasonOf(day) === seasonOf(today) ? dayAndMonth(day) : showDay(day);

/** Such as "Sat 12 Jul": for lists whose year is plain. */
export const showDayShort = onDay({ weekday: "short", day: "numeric", month: "short" });

/** Such as "Saturday 12 July 2025". */
export const showDayLong = onDay({ weekday: "long", day: "numeric", month: "long", year: "numeric" });

/** Takes RFC 3339, such as the `at` of an entry. */
export const showMoment = formatted({ dateStyle: "medium", timeStyle: "short" });

const DAY = 86_400_000;

/** Whole days from one day to another, negative when `to` is earlier. */
export const daysBetween = (from: Day, to: Day): number => dayNumber(to) - dayNumber(from);

/** Remembered too: a chart of many years asks for each of its days again with every game. */
const dayNumbers = new Map<Day, number>();

function dayNumber(day: Day): number {
  const known = dayNumbers.get(day) ?? Date.parse(`${day}T00:00:00Z`) / DAY;
  dayNumbers.set(day, known);
  return known;
}

/** The same day so many months earlier; the last of the month where it has no such day. */
export function monthsBefore(day: Day, months: number): Day {
  const [year = 0, month = 1, date = 1] = day.split("-").map(Number);
  const last = new Date(Date.UTC(year, month - months, 0)).getUTCDate();
  return new Date(Date.UTC(year, month - 1 - months, Math.min(date, last))).toISOString().slice(0, 10);
}

/**
 * Whether a day lies in the twelve months up to today. Lists count by these and not by "this season": where the year turns in
 * summer a season is not a calendar year, and no rule says when one begins.
 */
export const inLastYear = (day: Day, today: Day): boolean => day > monthsBefore(today, 12) && day <= today;

/** Such as "2025": the year a day belongs to. */
export const seasonOf = (day: Day): string => day.slice(0, 4);
