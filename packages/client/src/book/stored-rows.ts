/**
 * Rows of a stored ledger made to last. Each change is a row of its own when it is stored, and thousands of small rows take long to
 * read; so they are put together, a page at a time, from the bytes that were read. A phone applies a page in a few milliseconds, and
 * whoever waits has his turn between two.
 *
 * Rejected: the whole document as one row (a phone is deaf for a third of a second when it makes it, and again at every start after).
 */
import type { Steps } from "@sward/core";
import { joinUpdates, pagesOf } from "@sward/core";

/** A phone reads and applies so much in a few milliseconds. */
export const PAGE_BYTES = 64 * 1024;

/** Shorter rows are put together. */
const SHORT_BYTES = PAGE_BYTES / 8;

/** Longer ones are taken apart: a document was written as one row once. What a relay sends at a time is half as long at the most. */
const LONG_BYTES = PAGE_BYTES * 16;

/** So many short ones at the most are left as they are. */
const MOST_SHORT = 500;

export const isShort = ({ length }: Uint8Array): boolean => length < SHORT_BYTES;

export const isLong = ({ length }: Uint8Array): boolean => length > LONG_BYTES;

export const isUntidy = (rows: readonly Uint8Array[]): boolean =>
  rows.filter(isShort).length > MOST_SHORT || rows.some(isLong);

/** In place of rows `from` up to, not including, `to`, counted from 0. */
export interface Rewritten {
  readonly from: number;
  readonly to: number;
  readonly rows: readonly Uint8Array[];
}

/**
 * Which rows are to be written anew, and as what; a step for each page. To take a long row apart is one step, once for each device.
 * @param rows of a ledger, all of them in their order, that passed the screen
 * @throws Error where some say what others have said: such rows cannot be put together
 */
export function* rewritingRows(rows: readonly Uint8Array[]): Steps<readonly Rewritten[]> {
  const found: Rewritten[] = [];
  let [from, bytes] = [0, 0];
  const joinUpTo = (to: number): void => {
    if (to - from > 1) found.push({ from, to, rows: [joinUpdates(rows.slice(from, to))] });
    [from, bytes] = [to, 0];
  };
  for (const [at, row] of rows.entries()) {
    if (!isShort(row) || bytes + row.length > PAGE_BYTES) {
      joinUpTo(at);
      yield;
    }
    if (isShort(row)) bytes += row.length;
    else from = at + 1;
    if (isLong(row)) found.push({ from: at, to: at + 1, rows: pagesOf(row, PAGE_BYTES) });
  }
  joinUpTo(rows.length);
  return found;
}
