/**
 * Day arithmetic on ISO dates without a clock, a time zone or `Date`: the card knows calendar days only. Days since 1 January
 * 1970 in the proleptic Gregorian calendar, by counting from 1 March so that the leap day comes last.
 */
import type { Day } from "../ledger/kinds.ts";

export function dayNumber(day: Day): number {
  const year = Number(day.slice(0, 4));
  const month = Number(day.slice(5, 7));
  const date = Number(day.slice(8, 10));
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const ofEra = y - era * 400;
  const ofYear = Math.floor((153 * ((month + 9) % 12) + 2) / 5) + date - 1;
  return era * 146_097 + ofEra * 365 + Math.floor(ofEra / 4) - Math.floor(ofEra / 100) + ofYear - 719_468;
}

/** Days from one to the other, both counted: 1 for the same day. */
export const daysSpanned = (from: Day, to: Day): number => dayNumber(to) - dayNumber(from) + 1;
