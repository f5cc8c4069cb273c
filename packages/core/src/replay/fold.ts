/**
 * The fold of a player's card: that player's own games and settings, in canonical order, under the rules in force on each day. Nothing
 * else is read: the exchange of points uses the handicaps the match was played off, so a card can be refolded alone, needs no other
 * card, and can move to another club whole.
 *
 * A handicap changes with hysteresis: down on reaching the next lower handicap's trigger point, back up only on falling to the
 * next higher one's. When the change bites is the rule set's `effective`: games of one window (a day, a short event) are played
 * off the handicap it began with and only the index at its end is tested.
 *
 *       index  1390 ──────●1400 ───●1390 ───●1380           7 becomes 6 on reaching 1400;
 *                      7 becomes 6   6        6             6 becomes 7 again only at 1350
 *
 * A core with no clock cannot know whether the day or the event is over, so a change carries the last day of its window and
 * `handicapInForce` reads it.
 *
 * Here is one loop over integers: who reads a card wants lines (`card-lines.ts`), adding up a million games does not. Rejected: a line
 * made for each game on the way (150 times as long as the loop), storing the index per player and moving it as results arrive (a late
 * result could not be put right), and testing the trigger after each game with an undo (order inside a day would matter).
 *
 * SPEC: RP.
 */
import { dayDigits } from "../ledger/day-digits.ts";
import { settledHandicap } from "../rules/triggers.ts";
import type { Adoption, Adoptions } from "./adoption.ts";
import type { Rows } from "./card-rows.ts";
import {
  BY_GAME,
  BY_MATCH,
  DAY,
  HANDICAP,
  INDEX,
  MOVES,
  NEVER,
  OFF,
  OPEN,
  SETTING,
  WIDE,
  WINDOW,
} from "./card-rows.ts";

/**
 * Folds rows anew from row `from` on; those before it are folded. It goes on from what the row before says, which is all there is to
 * know: so a fold can begin anywhere.
 * @param start the row of the first setting. What is before it moves nothing
 */
export function foldRows({ table, sources }: Rows, start: number, from: number, adoptions: Adoptions): void {
  const end = sources.length * WIDE;
  let at = Math.max(from, start) * WIDE;
  for (let row = from * WIDE; row < start * WIDE; row += WIDE) {
    table[row + INDEX] = table[start * WIDE + MOVES] as number;
    table[row + HANDICAP] = table[start * WIDE + OFF] as number;
    table[row + OPEN] = NEVER;
  }
  let index = 0;
  let handicap = 0;
  let open = NEVER;
  let byMatch = false;
  let adoption = 0;
  if (from > start) {
    const before = at - WIDE;
    index = table[before + INDEX] as number;
    handicap = table[before + HANDICAP] as number;
    open = table[before + OPEN] as number;
    byMatch = table[before + WINDOW] === BY_MATCH && open === NEVER;
    adoption = adoptedBy(adoptions, table[before + DAY] as number);
  }
  let { rules } = adoptions[adoption] as Adoption;
  let following = dayAfter(adoptions, adoption);
  for (; at < end; at += WIDE) {
    const day = table[at + DAY] as number;
    const window = table[at + WINDOW] as number;
    const isOver = open === NEVER ? byMatch && sources[at / WIDE] !== sources[at / WIDE - 1] : day > open;
    if (isOver) {
      // The window ended with the row before: the index is tested against the trigger points, once.
      const settled = settledHandicap(rules, handicap, index);
      if (settled !== handicap) table[at - WIDE + HANDICAP] = handicap = settled;
      open = NEVER;
      byMatch = false;
    }
    if (day >= following) {
      adoption = adoptedBy(adoptions, day);
      ({ rules } = adoptions[adoption] as Adoption);
      following = dayAfter(adoptions, adoption);
    }
    if (window === SETTING) {
      // A setting inside a window ends it untested: the handicapper has just decided.
      open = NEVER;
      index = table[at + MOVES] as number;
      handicap = table[at + OFF] as number;
    } else {
      index += table[at + MOVES] as number;
      if (window > BY_MATCH) {
        if (window > open) open = window;
      } else if (open === NEVER && window === BY_GAME) handicap = settledHandicap(rules, handicap, index);
      else byMatch = open === NEVER;
    }
    table[at + INDEX] = index;
    table[at + HANDICAP] = handicap;
    table[at + OPEN] = open;
  }
  // After the last row the window is over as well.
  if (open !== NEVER || byMatch) table[end - WIDE + HANDICAP] = settledHandicap(rules, handicap, index);
}

/** The place of the adoption in force on a day. */
function adoptedBy(adoptions: Adoptions, day: number): number {
  let place = 0;
  while (day >= dayAfter(adoptions, place)) place += 1;
  return place;
}

/** The day from which the next adoption is in force. */
function dayAfter(adoptions: Adoptions, place: number): number {
  const next = adoptions[place + 1];
  return next === undefined ? LAST : dayDigits(next.from);
}

/** After every day. An integer, as days are. */
const LAST = 2_147_483_647;
