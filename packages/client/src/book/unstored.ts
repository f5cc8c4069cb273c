/**
 * Which entries are not stored at the relay yet. Asked with every change, by half a dozen places of a screen, and in a record of ten
 * years it is one of thirty thousand: so only those are looked at again that were not stored when last asked, and those that came or
 * were put elsewhere since. All are, when the relay is found to have less than it had under any client id: a relay that was wiped, or
 * another one.
 *
 * Rejected: going through all entries (a phone took twenty milliseconds after each game, before the game was on the screen), and a mark
 * in each entry (a receipt names client ids, and would have to find the entries that lie under them).
 */
import type { EntryId } from "@sward/core";
import type { Holdings } from "./holdings.ts";
import type { KeptEntry } from "./kept-entry.ts";
import type { Place } from "./vault.ts";

export interface UnstoredDeps {
  readonly holdings: Pick<Holdings, "entries" | "moved">;
  /** The next clock stored at the relay under the place's client id, in its volume. */
  readonly storedUpTo: (place: Place) => number;
}

/** What the relay had under a client id when it was last asked about; any of the places there. */
interface Reach {
  readonly place: Place;
  upTo: number;
}

/** @returns those that are not stored by now; the same set each time, until it is asked for again */
export function createUnstored({ holdings, storedUpTo }: UnstoredDeps): () => ReadonlySet<EntryId> {
  /** By volume and client id. */
  const reaches: Map<number, Reach>[] = [];
  const unstored = new Set<EntryId>();
  let isFirst = true;

  /** Asks the relay's word once for all that lies under a client id. */
  function reachOf({ volume, client, clock }: KeptEntry): Reach {
    reaches[volume] ??= new Map();
    const known = reaches[volume].get(client);
    if (known !== undefined) return known;
    const place = volume === 0 ? { client, clock } : { client, clock, volume };
    const reach = { place, upTo: storedUpTo(place) };
    reaches[volume].set(client, reach);
    return reach;
  }

  /** Places are compared by their parts: to put one together for each entry of ten years took a phone a twentieth of a second. */
  const isStored = (entry: KeptEntry): boolean => entry.isPlaced && entry.clock < reachOf(entry).upTo;

  function look(id: EntryId): void {
    const entry = holdings.entries.get(id);
    if (entry === undefined || isStored(entry)) unstored.delete(id);
    else unstored.add(id);
  }

  function lookAtAll(): void {
    unstored.clear();
    for (const entry of holdings.entries.values()) if (!isStored(entry)) unstored.add(entry.id);
  }

  function hasLess(): boolean {
    let found = false;
    for (const volume of reaches) {
      for (const reach of volume?.values() ?? []) {
        const upTo = storedUpTo(reach.place);
        found ||= upTo < reach.upTo;
        reach.upTo = upTo;
      }
    }
    return found;
  }

  return () => {
    const moved = holdings.moved();
    if (hasLess() || moved === null || isFirst) lookAtAll();
    else {
      for (const id of unstored) look(id);
      for (const id of moved) look(id);
    }
    isFirst = false;
    return unstored;
  };
}
