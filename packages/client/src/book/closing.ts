/**
 * A ledger is written in volumes, each a Yjs document in a room of its own: a session that writes adds a client id to its document, each
 * transaction copies the map of them, and all of a document is read at every start. So in a new season, or before a document has too many
 * client ids, a book goes on in a fresh one. That a volume is closed is said in the volume, by a sealed envelope with one text:
 *
 *     sward closed 1 <calendar year in which the next volume begins>
 *
 * Whoever holds the book's secret may say so, and several may at the same time: it means the same. It tells writers where to go on, and
 * nothing of what counts depends on it; whatever is written into a closed volume is read there as before. Versions that know of no
 * volumes take it for an entry that is none. What follows from it is `volumes.ts`.
 *
 * Rejected: an entry of the ledger (it would need an author who may say so, and core would have to know of documents) and a volume for
 * each year by its name alone (a device with a wrong clock would write where nobody looks, and no number of client ids would be bounded).
 */
import type { ClosedVolume, Place } from "./vault.ts";

/** What an opened envelope says of the volume it lies in. */
export interface Closing {
  readonly place: Place;
  readonly next: number;
}

export const volumeOf = ({ volume = 0 }: Place): number => volume;

export const closingText = (next: number): string => `sward closed 1 ${next}`;

/** The season a text names as the next volume's; null for any other text. */
export function readClosing(text: string): number | null {
  const [, year] = /^sward closed 1 (\d{4})$/.exec(text) ?? [];
  return year === undefined ? null : Number(year);
}

/**
 * What is known with these; null when they say nothing new. Of two seasons the later one counts, so that it is the same for everybody.
 * A volume is closed only when all before it are.
 */
export function withClosings(
  closed: readonly ClosedVolume[],
  closings: readonly Closing[],
  /** Our own chain is here. */
  whole: boolean,
): readonly ClosedVolume[] | null {
  const all = [...closed];
  for (const { place, next } of closings) {
    const volume = volumeOf(place);
    const known = all[volume];
    if (known === undefined ? volume === all.length : known.next < next) {
      all[volume] = known === undefined ? { volume, next, place, whole, stores: [] } : { ...known, next };
    }
  }
  return all.some((one, volume) => one !== closed[volume]) ? all : null;
}
