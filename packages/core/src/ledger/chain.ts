/**
 * One author's entries in a book form a chain: `seq` counts from 0 and `prev` names the entry before. So a gap, a fork and a
 * barred device's cut are visible with no clock. A chain counts up to the first place that is missing, doubled, or does not
 * name the entry before it; what lies beyond is kept and waits.
 *
 * Rejected: accepting entries beyond a gap (a withheld entry could then be slipped in later, in the past) and letting the first
 * entry seen win a fork (two devices would differ for ever).
 *
 * One player's record is an excerpt: it has gaps by its nature, and who signed it vouches that nothing which belongs there is left
 * out. Its chains count over gaps, up to the first fork.
 *
 * SPEC: LE, RE.
 */
import type { EntryId, KeyId } from "../ids.ts";
import { byCodeUnits } from "../order.ts";
import type { Entry, EntryHead } from "./entry.ts";

/** `whole`: a gap ends what counts. `excerpt`: gaps are to be expected. */
export type Completeness = "whole" | "excerpt";

export interface Chain {
  readonly author: KeyId;
  readonly kept: Completeness;
  /** Every entry of the author, by place; more than one in a place is a fork. */
  readonly places: Map<number, Entry[]>;
  /** Whole: entries from 0 up to before the first gap, fork or broken link. Excerpt: all before the first fork, in order of seq. */
  readonly sound: Entry[];
  /** First place with two entries, else null. */
  forkedAt: number | null;
  /** Last place with an entry; -1 when there is none. */
  top: number;
}

export const createChain = (author: KeyId, kept: Completeness = "whole"): Chain => ({
  author,
  kept,
  places: new Map(),
  sound: [],
  forkedAt: null,
  top: -1,
});

/** The sound entry with that seq. */
export function soundAt({ kept, sound, places, forkedAt }: Chain, seq: number): Entry | undefined {
  if (kept === "whole") return sound[seq];
  return forkedAt !== null && seq >= forkedAt ? undefined : places.get(seq)?.[0];
}

/** Adds an entry not yet in the chain. True when all that was sound before still is, and what is new comes after it. */
export function extendChain(chain: Chain, entry: Entry): boolean {
  const place = chain.places.get(entry.seq);
  chain.top = Math.max(chain.top, entry.seq);
  if (place === undefined) chain.places.set(entry.seq, [entry]);
  else {
    place.push(entry);
    place.sort(byId);
    if (chain.forkedAt === null || entry.seq < chain.forkedAt) chain.forkedAt = entry.seq;
    const cut = placeInSound(chain, entry.seq);
    if (cut < chain.sound.length) {
      chain.sound.length = cut;
      return false;
    }
  }
  if (chain.kept === "excerpt") return insert(chain, entry);
  advance(chain);
  return true;
}

/** How many sound entries have a lower seq. */
function placeInSound({ kept, sound }: Chain, seq: number): number {
  if (kept === "whole") return Math.min(seq, sound.length);
  let place = sound.length;
  while (place > 0 && (sound[place - 1]?.seq ?? -1) >= seq) place -= 1;
  return place;
}

function insert(chain: Chain, entry: Entry): boolean {
  if (chain.forkedAt !== null && entry.seq >= chain.forkedAt) return true;
  const place = placeInSound(chain, entry.seq);
  chain.sound.splice(place, 0, entry);
  return place === chain.sound.length - 1;
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
