/**
 * Time, as it passes in the simulator: a list of what is to happen and when, one thing after another, each with all its consequences
 * before the next. Two things of one millisecond are told apart by name before by the order in which they were put here, since that
 * order may come from the platform's threads.
 */
import { quiet } from "./quiet.ts";

export interface Schedule {
  /** Milliseconds since the simulation began. */
  now(): number;
  /** Returns the way to take it back. */
  after(milliseconds: number, name: string, run: () => void): () => void;
  /** Lets so much time pass. */
  pass(milliseconds: number): Promise<void>;
  /** How many things have happened, and a number that is the same for two runs in which the same things did. */
  trace(): { readonly events: number; readonly hash: number };
}

interface Event {
  readonly at: number;
  readonly name: string;
  readonly order: number;
  readonly run: () => void;
  off: boolean;
}

export function createSchedule(): Schedule {
  const heap: Event[] = [];
  let now = 0;
  let order = 0;
  let events = 0;
  let hash = 17;

  function push(event: Event): void {
    heap.push(event);
    let at = heap.length - 1;
    while (at > 0) {
      const up = (at - 1) >> 1;
      if (!isBefore(heap[at]!, heap[up]!)) return;
      [heap[at], heap[up]] = [heap[up]!, heap[at]!];
      at = up;
    }
  }

  function pop(): Event {
    const first = heap[0]!;
    const last = heap.pop()!;
    if (heap.length === 0) return first;
    heap[0] = last;
    for (let at = 0; ; ) {
      let least = at;
      for (const child of [2 * at + 1, 2 * at + 2]) {
        if (child < heap.length && isBefore(heap[child]!, heap[least]!)) least = child;
      }
      if (least === at) return first;
      [heap[at], heap[least]] = [heap[least]!, heap[at]!];
      at = least;
    }
  }

  function note({ at, name }: Event): void {
    events += 1;
    hash = Math.imul(hash ^ at, 597399067);
    for (let place = 0; place < name.length; place += 1) hash = Math.imul(hash ^ name.charCodeAt(place), 951274213);
  }

  return {
    now: () => now,
    after(milliseconds, name, run) {
      order += 1;
      const event: Event = { at: now + Math.max(0, Math.round(milliseconds)), name, order, run, off: false };
      push(event);
      return () => {
        event.off = true;
      };
    },
    async pass(milliseconds) {
      const end = now + milliseconds;
      await quiet();
      while (heap.length > 0 && heap[0]!.at <= end) {
        const event = pop();
        if (event.off) continue;
        now = event.at;
        note(event);
        event.run();
        await quiet();
      }
      now = end;
    },
    trace: () => ({ events, hash: hash >>> 0 }),
  };
}

const isBefore = (a: Event, b: Event): boolean =>
  a.at - b.at < 0 || (a.at === b.at && (a.name < b.name || (a.name === b.name && a.order < b.order)));

/** The first day of the simulation, counted from 1970-01-01: 2026-07-01. */
const firstDay = 20_635;
const dayMilliseconds = 86_400_000;

/** The calendar day so many days after 1970-01-01 (Howard Hinnant's `civil_from_days`, https://howardhinnant.github.io/date_algorithms.html). */
export function dayNumbered(days: number): string {
  const shifted = days + 719_468;
  const era = Math.floor(shifted / 146_097);
  const ofEra = shifted - era * 146_097;
  const year = Math.floor(
    (ofEra - Math.floor(ofEra / 1460) + Math.floor(ofEra / 36_524) - Math.floor(ofEra / 146_096)) / 365,
  );
  const ofYear = ofEra - (365 * year + Math.floor(year / 4) - Math.floor(year / 100));
  const shiftedMonth = Math.floor((5 * ofYear + 2) / 153);
  const day = ofYear - Math.floor((153 * shiftedMonth + 2) / 5) + 1;
  const month = shiftedMonth < 10 ? shiftedMonth + 3 : shiftedMonth - 9;
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${year + era * 400 + (month <= 2 ? 1 : 0)}-${two(month)}-${two(day)}`;
}

/** The calendar day of a moment of the simulation, `back` days earlier. */
export const dayAt = (milliseconds: number, back = 0): string =>
  dayNumbered(firstDay + Math.floor(milliseconds / dayMilliseconds) - back);

/** The moment as entries write it. */
export function timestampAt(milliseconds: number): string {
  const seconds = Math.floor((((milliseconds % dayMilliseconds) + dayMilliseconds) % dayMilliseconds) / 1000);
  const two = (value: number): string => String(value).padStart(2, "0");
  const time = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60].map(two).join(":");
  return `${dayAt(milliseconds)}T${time}Z`;
}
