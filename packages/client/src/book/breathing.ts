/**
 * Long work that a screen must not wait for: between two of its steps it asks whether others want their turn. Opening a book reads
 * and folds thousands of entries, and a finger on a screen is answered only between two tasks of the page's thread. Whoever has no
 * screen (a command, a test) never breathes, and does the same work in the same order.
 *
 * Rejected: a pause after a fixed number of entries (a phone takes ten times as long for one as a laptop), and all of this in a worker
 * from the start: what a small club has is read before a worker has begun, and the fold's result cannot be handed over without
 * being copied whole.
 */
import type { Steps } from "@sward/core";

/** Null: go on. Else to be awaited first. */
export type Breathe = () => Promise<void> | null;

export const neverBreathe: Breathe = () => null;

export interface BreatheDeps {
  /** Milliseconds, of any origin. */
  readonly now: () => number;
  /** Resolves in a task of its own, after those that wait. */
  readonly turn: () => Promise<void>;
  /** Milliseconds of work after which others have their turn. */
  readonly after: number;
}

/** Milliseconds in which nobody asked: then there was no work, and others had their turns. A step that takes longer has no excuse twice. */
const PAUSE = 50;

export function createBreathe({ now, turn, after }: BreatheDeps): Breathe {
  let since = now();
  let [asked, wasPause] = [since, false];
  return () => {
    const at = now();
    wasPause = !wasPause && at - asked > PAUSE;
    asked = at;
    if (wasPause) since = at;
    if (at - since < after) return null;
    return turn().then(() => {
      since = asked = now();
    });
  };
}

const encoder = new TextEncoder();

/** The platform makes the digests that steps ask for. */
export async function inSteps<T>(steps: Steps<T>, breathe: Breathe): Promise<T> {
  let digest: Uint8Array | undefined;
  for (;;) {
    const step = steps.next(digest);
    if (step.done === true) return step.value;
    digest = step.value
      ? new Uint8Array(await crypto.subtle.digest("SHA-256", encoder.encode(step.value())))
      : undefined;
    const breath = breathe();
    if (breath !== null) await breath;
  }
}
