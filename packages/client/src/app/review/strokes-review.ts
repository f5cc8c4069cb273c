/** What became of extra strokes, over many games: how many were given, taken, left over, and at which hoops they went. */
import type { StrokeRecord } from "@sward/core";

export interface HoopUse {
  readonly hoop: number;
  readonly taken: number;
  /** Of those whose hoop was kept, how many times the taker's side made it. */
  readonly known: number;
  readonly made: number;
}

/** Strokes of players in games: a player in a game counts once. */
export interface StrokeUse {
  readonly records: number;
  readonly given: number;
  readonly taken: number;
  readonly unused: number;
}

export interface StrokesReview {
  readonly all: StrokeUse;
  /** By how it ended for the player given them. */
  readonly won: StrokeUse;
  readonly lost: StrokeUse;
  /** Those who left at least one, in games they lost. */
  readonly lostWithUnused: number;
  /** Ascending; hoops at which none was taken are left out. */
  readonly hoops: readonly HoopUse[];
}

/** Null when no game was kept. */
export function reviewStrokes(records: readonly StrokeRecord[]): StrokesReview | null {
  if (records.length === 0) return null;
  const lost = records.filter(({ won }) => won === false);
  return {
    all: useOf(records),
    won: useOf(records.filter(({ won }) => won === true)),
    lost: useOf(lost),
    lostWithUnused: lost.filter(({ unused }) => unused > 0).length,
    hoops: hoopsOf(records),
  };
}

const useOf = (records: readonly StrokeRecord[]): StrokeUse => ({
  records: records.length,
  given: total(records, ({ given }) => given),
  taken: total(records, ({ taken }) => taken.length),
  unused: total(records, ({ unused }) => unused),
});

function hoopsOf(records: readonly StrokeRecord[]): readonly HoopUse[] {
  const uses = new Map<number, HoopUse>();
  for (const { hoop, made } of records.flatMap(({ taken }) => taken)) {
    const before = uses.get(hoop) ?? { hoop, taken: 0, known: 0, made: 0 };
    uses.set(hoop, {
      hoop,
      taken: before.taken + 1,
      known: before.known + (made === null ? 0 : 1),
      made: before.made + (made === true ? 1 : 0),
    });
  }
  return [...uses.values()].sort((a, b) => a.hoop - b.hoop);
}

const total = (records: readonly StrokeRecord[], value: (record: StrokeRecord) => number): number =>
  records.reduce((sum, record) => sum + value(record), 0);
