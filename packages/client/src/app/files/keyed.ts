/** Maps and sets that are never changed in place: what a screen watches is a new one each time. */

/** With the value under the key; null takes the key out. */
export function withEntry<K, V>(map: ReadonlyMap<K, V>, key: K, value: V | null): ReadonlyMap<K, V> {
  const next = new Map(map);
  if (value === null) next.delete(key);
  else next.set(key, value);
  return next;
}

export const withAll = <T>(set: ReadonlySet<T>, more: Iterable<T>): ReadonlySet<T> => new Set([...set, ...more]);

export function without<T>(set: ReadonlySet<T>, one: T): ReadonlySet<T> {
  const next = new Set(set);
  next.delete(one);
  return next;
}
