/** The last entries of a book, for people who want to see that something has arrived; and why some do not count. */
import type { BookState, Counted, KnownEntry, Uncounted } from "@sward/core";
import { byCodeUnits, byNumber } from "@sward/core";

/** By the clocks of the devices that wrote them, which order nothing else; entries of other books that were carried in stand too. */
export function newestEntries(counted: Iterable<Counted>, most: number): readonly KnownEntry[] {
  const newest: KnownEntry[] = [];
  for (const { entry } of counted) {
    const last = newest[most - 1];
    if (last !== undefined && byNewest(entry, last) >= 0) continue;
    const place = newest.findIndex((other) => byNewest(entry, other) < 0);
    newest.splice(place === -1 ? newest.length : place, 0, entry);
    if (newest.length > most) newest.pop();
  }
  return newest;
}

const byNewest = (a: KnownEntry, b: KnownEntry): number =>
  byCodeUnits(b.at, a.at) || byNumber(b.seq, a.seq) || byCodeUnits(a.id, b.id);

/** How many entries do not count, by reason, most first. */
export function uncountedByReason({
  uncounted,
}: Pick<BookState, "uncounted">): readonly (readonly [Uncounted, number])[] {
  const many = new Map<Uncounted, number>();
  for (const reason of uncounted.values()) many.set(reason, (many.get(reason) ?? 0) + 1);
  return [...many].sort(([a, x], [b, y]) => y - x || byCodeUnits(a, b));
}
