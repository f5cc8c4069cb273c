/**
 * Yjs updates (format 1) written byte by byte, for those that Yjs itself would never make.
 */

/** Unsigned integers as lib0 writes them. */
export function bytes(...values: readonly number[]): number[] {
  const made: number[] = [];
  for (const value of values) {
    let rest = value;
    for (; rest > 127; rest = Math.floor(rest / 128)) made.push((rest % 128) + 128);
    made.push(rest);
  }
  return made;
}

/** A string with its length before it. */
export const text = (value: string): Uint8Array => {
  const encoded = new TextEncoder().encode(value);
  return Uint8Array.from([...bytes(encoded.length), ...encoded]);
};

type Place = readonly [client: number, clock: number];

/** A binary item at a root, or behind an origin. */
export function binaryItem(body: Uint8Array, where: { root?: string; origin?: Place } = {}): Uint8Array {
  const content = [...bytes(body.length), ...body];
  if (where.origin !== undefined) return Uint8Array.from([0x83, ...bytes(...where.origin), ...content]);
  return Uint8Array.from([3, 1, ...text(where.root ?? "entries"), ...content]);
}

export const block = (
  client: number,
  clock: number,
  structs: readonly (Uint8Array | readonly number[])[],
): number[] => [...bytes(structs.length, client, clock), ...structs.flatMap((struct) => [...struct])];

/** Deletions are given as `[client, [[clock, length], …]]`. */
export function update(
  blocks: readonly (readonly number[])[],
  deletions: readonly (readonly [number, readonly (readonly [number, number])[]])[] = [],
): Uint8Array {
  const deleted = deletions.flatMap(([client, ranges]) => bytes(client, ranges.length, ...ranges.flat()));
  return Uint8Array.from([...bytes(blocks.length), ...blocks.flat(), ...bytes(deletions.length), ...deleted]);
}
