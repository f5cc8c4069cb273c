/**
 * Reads many rows of a database a portion at a time: what a browser hands over it unpacks in the page's own thread, and all at once. How
 * many make a portion is as it turned out the last time, since there may be many rows of one entry each or few of five hundred. The next
 * portion is on its way while one is read, or each way there and back would be waited for.
 *
 * Rejected: a cursor (a way there and back for each row) and all at once (a third of a second of a phone's thread for ten years).
 */

const MOST_ROWS = 64;

/**
 * @param get the rows of this range of keys
 * @param read how much these were, in whatever is counted
 * @param enough of that in one portion
 */
export async function readInPortions<T>(
  keys: readonly number[],
  get: (range: IDBKeyRange) => Promise<readonly T[]>,
  read: (rows: readonly T[]) => number,
  enough: number,
): Promise<void> {
  let [from, many] = [0, 1];
  const ask = (): Promise<readonly T[]> | null => {
    const asked = keys.slice(from, from + many);
    from += asked.length;
    return asked.length === 0 ? null : get(IDBKeyRange.bound(asked[0], asked.at(-1)));
  };
  for (let [coming, next] = [ask(), ask()]; coming !== null; [coming, next] = [next, ask()]) {
    const was = read(await coming);
    many = was >= enough ? Math.max(1, many >> 2) : Math.min(many * 4, MOST_ROWS);
  }
}
