/** Turns of a page's thread (`book/breathing.ts`): one taker of breath for all books of a page, since they share it. */
import { createBreathe } from "../book/breathing.ts";
import { nextTask } from "./next-task.ts";

/**
 * A task of the page's thread, on a phone as on a laptop, is kept well below the 50 ms after which a tap is felt to hang; at least
 * so much is done in one, since each turn has a cost of its own.
 */
const BREATHE_AFTER_MS = 6;

export const breathe = createBreathe({
  now: () => performance.now(),
  turn: () => new Promise(nextTask),
  after: BREATHE_AFTER_MS,
});
