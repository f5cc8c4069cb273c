/**
 * The trigger table as arithmetic: which index belongs to which handicap and when a handicap moves.
 *
 * A handicap has a memory: between its own trigger and the next lower handicap's it stays what it is, whichever way the index
 * came. So a move needs the handicap held as well as the index:
 *
 *     index    1300 .......... 1350 .......... 1400
 *     held 8   8                7 --------------- 6      going up: the lowest handicap whose trigger is reached
 *     held 6   8 -------------- 7 ............... 6      coming down: held until a higher handicap's trigger is reached
 *
 * The replay asks this a million times, so the two indexes at which a held handicap moves are worked out once for every
 * handicap there can be, also those the table lacks (a visitor's 13, a handicap from before another set was adopted). Nothing
 * is allocated on the way. Rejected: searching the rows each time, and looking up by row (every caller would have to carry
 * rows beside handicaps and take care of handicaps that have none).
 *
 * SPEC: RU4 to RU7.
 */
import type { RuleSet } from "./rule-set.ts";

/** Handicaps an entry can hold: LOWEST .. LOWEST + SPAN - 1 (the schema `Handicap`). */
export const LOWEST = -30;
export const SPAN = 91;

export interface CompiledTriggers {
  /** Ascending. */
  readonly handicaps: Int16Array;
  /** Descending, of the same row. */
  readonly triggers: Int32Array;
  /** By handicap - LOWEST: at this index or above, a lower handicap's trigger is reached. */
  readonly lowersAt: Int32Array;
  /** By handicap - LOWEST: at this index or below, a higher handicap's trigger is reached. */
  readonly raisesAt: Int32Array;
  /** By handicap - LOWEST: 1 when the table has a row for it. */
  readonly inTable: Uint8Array;
}

export interface Settled {
  readonly handicap: number;
  /** The trigger point of the new handicap, which the index reached. */
  readonly trigger: number;
}

const NEVER_LOWERS = 2_147_483_647;
const NEVER_RAISES = -2_147_483_648;

export function compileTriggers(set: RuleSet): CompiledTriggers {
  const lowersAt = new Int32Array(SPAN).fill(NEVER_LOWERS);
  const raisesAt = new Int32Array(SPAN).fill(NEVER_RAISES);
  const inTable = new Uint8Array(SPAN);
  for (const { handicap } of set.triggers) inTable[handicap - LOWEST] = 1;
  for (let place = 0; place < SPAN; place += 1) {
    // Triggers fall as handicaps rise: the nearest handicap on either side is the first to be reached.
    for (const { handicap, trigger } of set.triggers) {
      if (handicap - LOWEST < place) lowersAt[place] = trigger;
      if (handicap - LOWEST > place) {
        raisesAt[place] = trigger;
        break;
      }
    }
  }
  return {
    handicaps: Int16Array.from(set.triggers, (row) => row.handicap),
    triggers: Int32Array.from(set.triggers, (row) => row.trigger),
    lowersAt,
    raisesAt,
    inTable,
  };
}

/** Whether the table has a row for the handicap. */
export function isInTable(table: CompiledTriggers, handicap: number): boolean {
  return table.inTable[handicap - LOWEST] === 1;
}

/**
 * The handicap after one evaluation; the held one when it does not move. Allocates nothing; agrees with `settle`.
 * @param held between LOWEST and LOWEST + SPAN - 1, in the table or not
 */
export function settledHandicap(table: CompiledTriggers, held: number, index: number): number {
  const place = held - LOWEST;
  if (index >= (table.lowersAt[place] ?? NEVER_LOWERS)) return lowestReached(table, index);
  if (index <= (table.raisesAt[place] ?? NEVER_RAISES)) return highestFallenTo(table, index);
  return held;
}

function lowestReached(table: CompiledTriggers, index: number): number {
  let row = 0;
  while ((table.triggers[row] as number) > index) row += 1;
  return table.handicaps[row] as number;
}

function highestFallenTo(table: CompiledTriggers, index: number): number {
  let row = table.triggers.length - 1;
  while ((table.triggers[row] as number) < index) row -= 1;
  return table.handicaps[row] as number;
}

/** The trigger point of a handicap; undefined when the table has no such handicap. */
export function triggerOf(set: RuleSet, handicap: number): number | undefined {
  return set.triggers.find((row) => row.handicap === handicap)?.trigger;
}

/**
 * The handicap that goes with an index when nothing else is known of the player: the first trigger at or below it, and the
 * last row for an index below them all. Croquet England, Maintaining a GC Handicap: 1421 belongs to 1400, that is 6.
 */
export function handicapForIndex(set: RuleSet, index: number): number {
  const row = set.triggers.find(({ trigger }) => trigger <= index) ?? set.triggers.at(-1);
  if (row === undefined) throw new Error(`rule set ${set.id} has no trigger rows`);
  return row.handicap;
}

/**
 * One evaluation of a held handicap against an index, for callers that are not in a hurry.
 * @returns the new handicap and the trigger point reached, or null when the handicap stays
 */
export function settle(set: RuleSet, held: number, index: number): Settled | null {
  const reached = set.triggers.find((row) => row.handicap < held && row.trigger <= index);
  const fallenTo = set.triggers.findLast((row) => row.handicap > held && row.trigger >= index);
  const row = reached ?? fallenTo;
  return row === undefined ? null : { handicap: row.handicap, trigger: row.trigger };
}
