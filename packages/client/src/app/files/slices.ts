/**
 * Long work in short pieces, so that the screen answers in between and can say how far it is. Rejected: a worker (the rules, the names
 * and the record would have to be copied to it for each change of a select box; the work itself takes a second for five thousand lines).
 */

/** Items between two pauses: a few milliseconds' work on an old phone. */
export const SLICE = 200;

export interface Slicing {
  /** Lets the browser draw and take keys; resolves when it is our turn again. */
  readonly pause: () => Promise<void>;
  /** Asked after each pause: newer work has begun, or somebody stopped it. */
  readonly stopped: () => boolean;
  readonly told: (done: number, total: number) => void;
}

/** False when it was stopped on the way. */
export async function inSlices<T>(items: readonly T[], each: (item: T) => void, slicing: Slicing): Promise<boolean> {
  for (let from = 0; from < items.length; from += SLICE) {
    for (const item of items.slice(from, from + SLICE)) each(item);
    slicing.told(Math.min(from + SLICE, items.length), items.length);
    await slicing.pause();
    if (slicing.stopped()) return false;
  }
  return !slicing.stopped();
}

/** The next turn of the browser. */
export const nextTurn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));
