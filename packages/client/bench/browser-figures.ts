/** What a real browser is measured to do: stages in a page, and what somebody sees of the built app. */
import type { HeldBook } from "./big-book.ts";
import type { Figure } from "./measure.ts";
import { median } from "./measure.ts";

/** From something a person did, or the club, until it stood on the screen. */
export interface Seen {
  readonly what: string;
  /** What was promised of it, with others of its kind. */
  readonly kind: string;
  /** Milliseconds: the median, the least and the most. */
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly runs: number;
  /** The longest task of the page's thread in any of the runs; 0 when none was longer than 50 ms, below which a browser does not tell. */
  readonly task: number;
  /** Milliseconds of processor that the page's thread took until then, the median; null where that was not asked. */
  readonly work: number | null;
  /** How many times as slowly as it could the page's thread was made to go. */
  readonly slower: number;
  /** At most so many milliseconds. */
  readonly aim: number | null;
  readonly floor: { readonly what: string; readonly ms: number } | null;
  readonly note: string;
}

export interface InBrowser {
  /** Day and processors, as a sentence. */
  readonly machine: string;
  /** Name and version. */
  readonly browser: string;
  /** Entries of the book that the built app was measured with. */
  readonly size: number;
  readonly stages: readonly Figure[];
  /** Not there in figures that were kept before it was measured. */
  readonly big?: HeldBook | null;
  readonly seen: readonly Seen[];
  /** What could not be measured, and why. */
  readonly left: readonly string[];
}

export function seen(
  what: string,
  times: readonly number[],
  tasks: readonly number[],
  more: Partial<Pick<Seen, "aim" | "floor" | "kind" | "note" | "slower" | "work">> = {},
): Seen {
  return {
    what,
    value: median(times),
    least: Math.min(...times),
    most: Math.max(...times),
    runs: times.length,
    task: Math.max(0, ...tasks),
    kind: what,
    work: null,
    slower: 1,
    aim: null,
    floor: null,
    note: "",
    ...more,
  };
}

export const isReached = ({ value, aim }: Seen): boolean => aim === null || value <= aim;

export function seenRow({ what, value, least, most, runs, task, work, slower, aim, floor, note }: Seen): string {
  const ms = (n: number): string => Math.round(n).toLocaleString("en");
  const aimed = aim === null ? "" : `, aim ${ms(aim)}: ${value <= aim ? "reached" : "NOT reached"}`;
  const beside = floor === null ? "" : `, ${(value / floor.ms).toFixed(2)} x ${ms(floor.ms)} ms, ${floor.what}`;
  return `${what}${slower === 1 ? "" : `, ${slower} times as slowly`}: ${ms(value)} ms (${ms(least)}..${ms(most)}, ${runs} runs), ${work === null ? "" : `thread's work ${ms(work)}, `}longest task ${ms(task)}${beside}${aimed}${note === "" ? "" : `; ${note}`}`;
}
