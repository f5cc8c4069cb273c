/**
 * Reads many rows of a database a portion at a time: what a browser hands over it unpacks in the page's own thread, and all at once. How
 * many make a portion is as it turned out the last time, since there may be many rows of one entry each or few of five hundred. The
 * next portion is on its way while one is read, or each way there and back would be waited for; and all of them out of one transaction,
 * for to begin one takes a browser a good part of the time that a portion takes it.
 *
 * Rejected: a cursor (a way there and back for each row) and all at once (a third of a second of a phone's thread for ten years).
 */
import type { DBSchema, IDBPDatabase, StoreNames, StoreValue } from "idb";

const MOST_ROWS = 64;

/** Portions that are on their way at a time. More of them, and what a phone shows first waits while it unpacks what it has not asked to see. */
const AHEAD = 2;

export interface Rows<T> {
  keys(): Promise<readonly number[]>;
  /** All in this range, or the first one. */
  get(range: IDBKeyRange | null): Promise<readonly T[]>;
}

/** Of a store whose keys are numbers. */
export function rowsIn<S extends DBSchema, N extends StoreNames<S>>(
  db: IDBPDatabase<S>,
  name: N,
): Rows<StoreValue<S, N>> {
  const begun = () => {
    const { store, done } = db.transaction(name);
    done.catch(() => undefined);
    return store;
  };
  let store = begun();
  const ask = (range: IDBKeyRange | null) => (range === null ? store.getAll(null, 1) : store.getAll(range));
  return {
    keys: () => store.getAllKeys() as Promise<readonly number[]>,
    get(range) {
      try {
        return ask(range);
      } catch {
        // It is over: for a while nothing was asked of it.
        store = begun();
        return ask(range);
      }
    },
  };
}

/**
 * @param read takes as long as it likes over them; how much they were, in whatever is counted
 * @param enough of that in one portion
 */
export async function readInPortions<T>(
  { keys, get }: Rows<T>,
  read: (rows: readonly T[]) => number | Promise<number>,
  enough: number,
): Promise<void> {
  const coming: Promise<readonly T[]>[] = [];
  const ask = (range: IDBKeyRange | null): void => {
    const rows = get(range);
    // Those that nobody waits for yet fail with the one that is waited for.
    rows.catch(() => undefined);
    coming.push(rows);
  };
  const asked = keys();
  // Before it is known that there is one.
  ask(null);
  const all = await asked;
  let [from, many] = [1, 1];
  for (;;) {
    for (; coming.length < AHEAD && from < all.length; from += many)
      ask(IDBKeyRange.bound(all[from], all[Math.min(from + many, all.length) - 1]));
    const next = coming.shift();
    if (next === undefined) return;
    const was = await read(await next);
    many = was >= enough ? Math.max(1, many >> 2) : Math.min(many * 4, MOST_ROWS);
  }
}
