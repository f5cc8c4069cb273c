/**
 * Entries that lie in no document, though their volume was read to its end: a relay that was wiped, a document rebuilt, an edit that a crash
 * took from the browser's store. Looked for after each meeting with the relay, when nearly always nothing is missing, and that is seen by the
 * client ids alone. Rejected: going through all entries each time (a phone took a twentieth of a second for it at every start).
 */
import { volumeOf } from "./closing.ts";
import type { Holdings } from "./holdings.ts";
import type { Transport } from "./transport.ts";
import type { HeldEntry } from "./vault.ts";

interface Volume {
  readonly volume: number;
  readonly transport: Pick<Transport, "isSynced" | "holds" | "inside">;
}

/**
 * By the volume into which they belong.
 * @param last the volume that is written in
 */
export function lostEntries(
  volumes: readonly Volume[],
  last: number,
  { entries, unplaced }: Pick<Holdings, "entries" | "unplaced">,
): ReadonlyMap<number, readonly HeldEntry[]> {
  const read = new Map(
    volumes.filter(({ transport }) => transport.isSynced()).map(({ volume, transport }) => [volume, transport]),
  );
  const lost = new Map<number, HeldEntry[]>();
  if (unplaced.size === 0 && [...read.values()].every((one) => one.inside().isWhole())) return lost;
  for (const entry of entries.values()) {
    const { place } = entry;
    const volume = place === null ? last : volumeOf(place);
    const transport = read.get(volume);
    if (transport === undefined || (place !== null && transport.holds(place))) continue;
    // An empty room is filled as it was; to one that others have read to its end they need not come back.
    const into = transport.inside().greeting?.size === 0 ? volume : last;
    const there = lost.get(into);
    if (there === undefined) lost.set(into, [entry]);
    else there.push(entry);
  }
  return lost;
}
