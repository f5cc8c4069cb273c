/**
 * The index over time against the trigger points, as numbers to be drawn: one point a day (the index the day ended with), a mark
 * where the handicap changed, and a line for every trigger point in reach. In days and index points; the drawing scales them.
 * Rejected: one point a game in equal steps (a winter without games would not be seen).
 */
import type { CardLine, Day, RuleSet } from "@sward/core";
import { daysBetween, seasonOf } from "../dates.ts";

export interface ChartPoint {
  readonly date: Day;
  /** Days since the first point. */
  readonly x: number;
  readonly index: number;
  /** The handicap after this day when it changed on it. */
  readonly became: number | null;
  /** Set by a handicapper rather than played for. */
  readonly set: boolean;
}

export interface ChartTrigger {
  readonly handicap: number;
  readonly trigger: number;
  /** The next ones from where the player stands. */
  readonly next: boolean;
}

export interface ChartPlan {
  readonly points: readonly ChartPoint[];
  readonly triggers: readonly ChartTrigger[];
  readonly days: number;
  readonly low: number;
  readonly high: number;
  /** First days of months to write below, few enough to be read. */
  readonly ticks: readonly { readonly date: Day; readonly x: number }[];
}

/** Null while there is nothing to draw. */
export function planChart(lines: readonly CardLine[], set: RuleSet | undefined, handicap: number): ChartPlan | null {
  const points = pointsOf(lines);
  const [first] = points;
  const last = points.at(-1);
  if (first === undefined || last === undefined) return null;
  const indexes = points.map(({ index }) => index);
  const rows = set?.triggers ?? [];
  const lower = rows.findLast((row) => row.handicap < handicap);
  const higher = rows.find((row) => row.handicap > handicap);
  // The next trigger on either side is always in the picture.
  const reach = [...indexes, ...[lower, higher].flatMap((row) => (row === undefined ? [] : [row.trigger]))];
  const low = Math.min(...reach) - MARGIN;
  const high = Math.max(...reach) + MARGIN;
  const days = Math.max(1, last.x);
  return {
    points,
    days,
    low,
    high,
    triggers: rows
      .filter(({ trigger }) => trigger >= low && trigger <= high)
      .map((row) => ({ handicap: row.handicap, trigger: row.trigger, next: row === lower || row === higher })),
    ticks: ticksFor(first.date, days),
  };
}

export interface KeyedChange<T> {
  /** Its day, and which of that day's it is: a game told late puts days before it, and leaves it the same mark. */
  readonly key: string;
  readonly one: T;
  readonly became: number;
}

/** The points at which the handicap changed. */
export function keyedChanges<T extends { readonly point: ChartPoint }>(all: readonly T[]): readonly KeyedChange<T>[] {
  const found: KeyedChange<T>[] = [];
  let [day, nth] = ["", 0];
  for (const one of all) {
    const { became, date } = one.point;
    if (became === null) continue;
    nth = date === day ? nth + 1 : 0;
    day = date;
    found.push({ key: `${day} ${nth}`, one, became });
  }
  return found;
}

/** Index points above and below. */
const MARGIN = 15;
/** More labels than this cannot be read side by side. */
const MOST_TICKS = 6;

function pointsOf(lines: readonly CardLine[]): ChartPoint[] {
  const start = lines[0]?.date;
  if (start === undefined) return [];
  const points: ChartPoint[] = [];
  for (const line of lines) {
    const became = line.moved?.to ?? null;
    const point = { date: line.date, x: daysBetween(start, line.date), index: line.index };
    const before = points.at(-1);
    const set = line.line === "set";
    // A day of games is one point; what was set stands by itself, for it is a step and not a day's play.
    if (before?.date === line.date && !set && !before.set)
      points[points.length - 1] = { ...point, became: became ?? before.became, set };
    else points.push({ ...point, became, set });
  }
  return points;
}

let lastTicks: { readonly first: Day; readonly days: number; readonly ticks: ChartPlan["ticks"] } | null = null;

/** A game told late leaves the days of the card what they were, and the months of ten years are many. */
function ticksFor(first: Day, days: number): ChartPlan["ticks"] {
  if (lastTicks?.first !== first || lastTicks.days !== days) lastTicks = { first, days, ticks: ticksOf(first, days) };
  return lastTicks.ticks;
}

function ticksOf(first: Day, days: number): ChartPlan["ticks"] {
  const months: Day[] = [];
  let [year = 0, month = 1] = first.split("-").map(Number);
  for (;;) {
    month += 1;
    if (month > 12) {
      month = 1;
      year += 1;
    }
    const date = `${year}-${String(month).padStart(2, "0")}-01`;
    if (daysBetween(first, date) > days) break;
    months.push(date);
  }
  const every = Math.ceil(months.length / MOST_TICKS);
  return months.filter((_, at) => at % every === 0).map((date) => ({ date, x: daysBetween(first, date) }));
}

/** The years the chart spans, for its caption. */
export const seasonsOf = ({ points }: ChartPlan): string => {
  const years = [...new Set(points.map(({ date }) => seasonOf(date)))];
  return years.length < 2 ? (years[0] ?? "") : `${years[0]}–${years.at(-1)}`;
};
