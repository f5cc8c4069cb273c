/**
 * Days as numbers that read as they are written (20260501): they keep their order and turn back into text by themselves. Rejected: days
 * counted from an epoch (a calendar each way, for nothing).
 */
import type { Day } from "./kinds.ts";

/** 20260501 for "2026-05-01". */
export function dayDigits(day: Day): number {
  let number = 0;
  for (let at = 0; at < 10; at++) if (at !== 4 && at !== 7) number = number * 10 + day.charCodeAt(at) - 48;
  return number;
}

export function dayText(number: number): Day {
  const digits = String(number).padStart(8, "0");
  return `${digits.slice(0, 4)}-${digits.slice(4, 6)}-${digits.slice(6)}`;
}
