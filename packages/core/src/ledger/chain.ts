/**
 * One author's entries in a book form a chain: `seq` counts from 0 and `prev` names the entry before. So a gap, a fork and a
 * barred device's cut are visible with no clock. A chain counts up to the first place that is missing, doubled, or does not
 * name the entry before it; what lies beyond is kept and waits.
 *
 * Rejected: accepting entries beyond a gap (a withheld entry could then be slipped in later, in the past) and letting the first
 * entry seen win a fork (two devices would differ for ever).
 *
 * SPEC: LE.
 */
import type { EntryId, KeyId } from "../ids.ts";
import { byCodeUnits } from "../order.ts";
import type { Entry, EntryHead } from "./entry.ts";

export interface Chain {
  readonly author: KeyId;
  /** Every entry of the author, by place; more than one in a place is a fork. */
  readonly places: Map<number, Entry[]>;
  /** Entries from 0 up to before the first gap, fork or broken link. */
  readonly sound: Entry[];
  /** First place with two entries, else null. */
  forkedAt: number | null;
  /** Last place with an entry; -1 when there is none. */
  top: number;
}

export const createChain = (author: KeyId): Chain => ({
  author,
  places: new Map(),
  sound: [],
  forkedAt: null,
  top: -1,
});

/** Adds an entry not yet in the chain. True when all that was sound before is still sound. */
export function extendChain(chain: Chain, entry: Entry): boolean {
  const place = chain.places.get(entry.seq);
  chain.top = Math.max(chain.top, entry.seq);
  if (place === undefined) chain.places.set(entry.seq, [entry]);
  else {
    place.push(entry);
    place.sort(byId);
    if (chain.forkedAt === null || entry.seq < chain.forkedAt) chain.forkedAt = entry.seq;
    if (entry.seq < chain.sound.length) {
      chain.sound.length = entry.seq;
      return false;
    }
  }
  advance(chain);
  return true;
}

function advance(chain: Chain): void {
  for (;;) {
    const seq = chain.sound.length;
    const place = chain.places.get(seq);
    const next = place?.length === 1 ? place[0] : undefined;
    const before: EntryId | null = seq === 0 ? null : (chain.sound[seq - 1]?.id ?? null);
    if (next === undefined || next.prev !== before) return;
    chain.sound.push(next);
  }
}

/**
 * For settings that have no `replaces`: of one author's the last comes first, since the chain says which that is; among authors,
 * whose entries no clock can order, the lowest key.
 */
export const byAuthorLastFirst = (a: EntryHead, b: EntryHead): number =>
  byCodeUnits(a.author, b.author) || b.seq - a.seq || byCodeUnits(a.id, b.id);

/** Each author's entries in the order written, the lowest key's first. */
export const byAuthorInOrder = (a: EntryHead, b: EntryHead): number =>
  byCodeUnits(a.author, b.author) || a.seq - b.seq || byCodeUnits(a.id, b.id);

const byId = (a: Entry, b: Entry): number => byCodeUnits(a.id, b.id);
