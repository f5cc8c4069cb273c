/**
 * Parts of a list that say what they said last time, which Preact passes over when it is given the very same element. With each change
 * of the record all of a list is compared, and only what came out otherwise is drawn. Rejected: parts that each watch the record (a
 * receipt of the relay drew a hundred and fifty lines anew, and not one of them said anything else).
 */

export interface Kept<T, E> {
  readonly of: T;
  readonly element: E;
}

/**
 * @param before what this made last time; empty at first
 * @param now each with its key, which no other has
 * @param isSame whether the two are drawn alike
 */
export function passOver<T, E>(
  before: ReadonlyMap<string, Kept<T, E>>,
  now: Iterable<readonly [string, T]>,
  isSame: (a: T, b: T) => boolean,
  draw: (key: string, of: T) => E,
): ReadonlyMap<string, Kept<T, E>> {
  const kept = new Map<string, Kept<T, E>>();
  for (const [key, of] of now) {
    const held = before.get(key);
    kept.set(key, held !== undefined && isSame(held.of, of) ? held : { of, element: draw(key, of) });
  }
  return kept;
}
