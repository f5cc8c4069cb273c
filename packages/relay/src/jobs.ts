/** What callers ask a room to write, while it waits for its turn, and how much of it is written together. */
import type { ScreenPolicy } from "@sward/core";
import type { News } from "./news.ts";

/** Somebody in a room. No call may throw. */
export interface Caller {
  send(frame: Uint8Array): void;
  /** Of what was stored; one that does not have it is sent the frames one by one. */
  tell?(news: News): void;
  close(code: number, reason: string): void;
}

export interface Job {
  readonly caller: Caller;
  readonly update: Uint8Array;
  readonly policy: ScreenPolicy;
  readonly done: () => void;
}

/** The screening of one batch must not hold up other rooms. */
const batchUpdates = 64;
const batchBytes = 2 * 1024 * 1024;

/** How many of those that wait go together: one at least. */
export function batchLength(waiting: readonly Job[]): number {
  let bytes = 0;
  const end = waiting.findIndex(({ update }, index) => {
    bytes += update.length;
    return index >= batchUpdates || bytes > batchBytes;
  });
  return end === -1 ? waiting.length : Math.max(end, 1);
}
