/**
 * Any pairing in two taps: which handicaps stand on which side, and what follows for games of every length at once, so that nobody
 * has to say the length first. A third tap on a side begins that side anew.
 */
import type { Format, RuleSet, SeatExtras } from "@sward/core";
import { triggerOf } from "@sward/core";
import { readWhole } from "../entry/check.ts";
import { extrasOf } from "../entry/extras.ts";

export interface Seat {
  /** As typed or tapped. */
  readonly off: string;
  /** Short name of who was picked; null for a bare handicap. */
  readonly name: string | null;
}

export type SideSeats = readonly [Seat, Seat];

export interface StrokesForm {
  readonly doubles: boolean;
  readonly sides: readonly [SideSeats, SideSeats];
}

const empty: Seat = { off: "", name: null };

export const newStrokes: StrokesForm = {
  doubles: false,
  sides: [
    [empty, empty],
    [empty, empty],
  ],
};

/** Puts someone on a side: in singles in place of who was there, in doubles on the free seat, or on the first of a side begun anew. */
export function tap({ doubles, sides }: StrokesForm, side: 0 | 1, seat: Seat): StrokesForm {
  const [first, second] = sides[side];
  const seats: SideSeats =
    doubles && first.off !== "" && second.off === "" ? [first, seat] : doubles ? [seat, empty] : [seat, second];
  return { doubles, sides: side === 0 ? [seats, sides[1]] : [sides[0], seats] };
}

/** Writes into one seat. */
export function write({ doubles, sides }: StrokesForm, side: 0 | 1, at: 0 | 1, off: string): StrokesForm {
  const [first, second] = sides[side];
  const seat: Seat = { off, name: null };
  const seats: SideSeats = at === 0 ? [seat, second] : [first, seat];
  return { doubles, sides: side === 0 ? [seats, sides[1]] : [sides[0], seats] };
}

/** Seats in use on a side. */
export const seatsOn = ({ doubles, sides }: StrokesForm, side: 0 | 1): readonly Seat[] =>
  sides[side].slice(0, doubles ? 2 : 1);

/** Ids of seats whose handicap is not one of the rule set, as "side-seat". */
export function unknownSeats(rules: RuleSet, form: StrokesForm): ReadonlySet<string> {
  const unknown = new Set<string>();
  for (const side of [0, 1] as const) {
    for (const [at, { off }] of seatsOn(form, side).entries()) {
      const handicap = readWhole(off);
      if (off.trim() !== "" && (handicap === null || triggerOf(rules, handicap) === undefined))
        unknown.add(`${side}-${at}`);
    }
  }
  return unknown;
}

export interface Answer {
  readonly format: Format;
  /** Every lawful way; null while a seat is empty or unknown. */
  readonly ways: readonly SeatExtras[] | null;
}

const formats: readonly Format[] = [13, 7, 19];

/** For games of 13, 7 and 19 points. */
export function answersFor(rules: RuleSet, form: StrokesForm): readonly Answer[] {
  const offs = ([0, 1] as const).map((side) => seatsOn(form, side).map(({ off }) => readWhole(off)));
  const sides = offs.flat().includes(null) ? null : offs.map((side) => side.map((off) => off ?? 0));
  return formats.map((format) => {
    const extras = extrasOf(rules, { play: "handicap", format }, sides);
    return { format, ways: extras.type === "ways" ? extras.ways : null };
  });
}

/** What each seat is called in an answer: a name, else "the 9", and "the first 9" where both partners have it. */
export function labelsFor(form: StrokesForm, words: StrokesLabels): readonly (readonly string[])[] {
  return ([0, 1] as const).map((side) => {
    const seats = seatsOn(form, side);
    return seats.map(({ off, name }, at) => {
      if (name !== null) return name;
      const handicap = readWhole(off) ?? 0;
      const twin = seats.some(
        (other, place) => place !== at && other.name === null && readWhole(other.off) === handicap,
      );
      return twin ? words.numbered(at, handicap) : words.bare(handicap);
    });
  });
}

export interface StrokesLabels {
  bare(handicap: number): string;
  numbered(seat: number, handicap: number): string;
}
