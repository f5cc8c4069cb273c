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
import { volumeOf } from "./closing.ts";
import type { Holdings } from "./holdings.ts";
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
  function reachOf(place: Place): Reach {
    const volume = volumeOf(place);
    reaches[volume] ??= new Map();
    const known = reaches[volume].get(place.client);
    if (known !== undefined) return known;
    const reach = { place, upTo: storedUpTo(place) };
    reaches[volume].set(place.client, reach);
    return reach;
  }

  const isStored = (place: Place | null): boolean => place !== null && place.clock < reachOf(place).upTo;

  function look(id: EntryId): void {
    const place = holdings.entries.get(id)?.place;
    if (place === undefined || isStored(place)) unstored.delete(id);
    else unstored.add(id);
  }

  function lookAtAll(): void {
    unstored.clear();
    for (const { id, place } of holdings.entries.values()) if (!isStored(place)) unstored.add(id);
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
