/**
 * Which records of a room count, from the order of the log alone: every relay, and every one that starts later, comes to the same. A
 * record that takes the place of what the room has says over what it was made; of two made over the same, the first in the log counts
 * and the other never was. Its writer hears that, takes in what it missed, and writes again.
 *
 * Rejected: leaving the question to the server (`Nats-Expected-Last-Subject-Sequence`). One server answers it rightly; three that
 * replicate (2.9.10) were seen to take four writes over the same state that came at the same moment, and three of the four were lost.
 *
 * What came before a record that counts is erased, so it may be that only a loser and what was made over the winner are left. What
 * is made later is made over something later, so the higher `over` tells them apart without what is gone.
 */
import type { LogRecord } from "./log-record.ts";

export interface Standing {
  /** Whether the record that ends at this number of the log counts. Records come in the log's order. */
  take(record: LogRecord, seq: number): boolean;
  /** The number of the last one that counts, 0 for none. */
  at(): number;
}

export function createStanding(): Standing {
  /** `over` of the last that took the place of all; the last that was added since. */
  let [at, over, added] = [0, -1, 0];
  return {
    at: () => at,
    take: (record, seq) => {
      if (record.form === "adds") added = seq;
      else if (record.over <= over || record.over < added) return false;
      else [over, added] = [record.over, 0];
      at = seq;
      return true;
    },
  };
}
