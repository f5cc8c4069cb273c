/** For one drawing, in which the same few are asked about again and again: what was found is found again. */
export function remembering<K, V>(find: (key: K) => V): (key: K) => V {
  const found = new Map<K, V>();
  return (key) => {
    const known = found.get(key);
    if (known !== undefined) return known;
    const value = find(key);
    found.set(key, value);
    return value;
  };
}
