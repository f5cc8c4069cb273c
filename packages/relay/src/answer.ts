/**
 * The answer to "send me what this state lacks": page by page as the caller takes them, so that a whole book never waits in a socket's
 * buffer, and within what all answers together may hold in memory. What is written meanwhile is not sent beside the pages, where it would
 * lean on what has not come yet, but follows them: the last page is sent only when the caller then has all there is.
 */
import { historyFrame, updateFrame } from "@sward/core";
import type { Budget } from "./limits/budget.ts";
import type { Room } from "./room.ts";

export interface AnswerDeps {
  readonly budget: Budget;
  /** Bytes that wait in the caller's socket. */
  readonly unsent: () => number;
  readonly over: () => boolean;
  /** Milliseconds. */
  readonly wait: (milliseconds: number) => Promise<void>;
  readonly post: (frame: Uint8Array) => void;
  /** Called with the last frame, in the same turn in which nothing newer was found. */
  readonly last: (frame: Uint8Array) => void;
}

/** So much may wait in the socket while pages follow. */
const aheadBytes = 2 * 1024 * 1024;
/** How long a caller may take nothing at all. */
const stalledMilliseconds = 20_000;
const lookMilliseconds = 20;

/** False when the caller stopped taking pages. */
export async function answerAsk(room: Room, vector: Uint8Array, deps: AnswerDeps): Promise<boolean> {
  const giveBack = await deps.budget.take(room.bytes);
  try {
    let from = vector;
    for (;;) {
      const upto = room.vector();
      const pages = room.since(from);
      for (const [place, page] of pages.entries()) {
        if (!(await hasRoom(deps))) return false;
        if (deps.over()) return true;
        if (place === pages.length - 1 && same(room.vector(), upto)) {
          deps.last(historyFrame(page));
          return true;
        }
        deps.post(updateFrame(page));
      }
      from = upto;
    }
  } finally {
    giveBack();
  }
}

/** Resolves when the socket's buffer has room; false when nothing moved in it for too long. */
async function hasRoom({ unsent, over, wait }: AnswerDeps): Promise<boolean> {
  let least = unsent();
  let moved = 0;
  while (!over() && unsent() > aheadBytes) {
    if (moved > stalledMilliseconds) return false;
    await wait(lookMilliseconds);
    moved = unsent() < least ? 0 : moved + lookMilliseconds;
    least = Math.min(least, unsent());
  }
  return true;
}

const same = (one: Uint8Array, other: Uint8Array): boolean => Buffer.from(one).equals(other);
