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
import type { KeyId } from "../ids.ts";
import { byCodeUnits } from "../order.ts";
import type { Entry, EntryHead } from "./entry.ts";

/** `whole`: a gap ends what counts. `excerpt`: gaps are to be expected. */
export type Completeness = "whole" | "excerpt";

export interface Chain {
  readonly author: KeyId;
  readonly kept: Completeness;
  /** Whole: entries from 0 up to before the first gap, fork or broken link. Excerpt: all before the first fork, in order of seq. */
  readonly sound: Entry[];
  /** The others, by place; more than one in a place is a fork. In nearly every chain there are none. */
  readonly apart: Map<number, Entry[]>;
  /** First place with two entries, else null. */
  forkedAt: number | null;
  /** Last place with an entry; -1 when there is none. */
  top: number;
}

export const createChain = (author: KeyId, kept: Completeness = "whole"): Chain => ({
  author,
  kept,
  sound: [],
  apart: new Map(),
  forkedAt: null,
  top: -1,
});

/** The sound entry with that seq. */
export function soundAt(chain: Chain, seq: number): Entry | undefined {
  const found = chain.sound[placeInSound(chain, seq)];
  return found?.seq === seq ? found : undefined;
}

/** The entry with that seq, sound or not; of several, the one with the lowest id. */
export const entryAt = (chain: Chain, seq: number): Entry | undefined =>
  soundAt(chain, seq) ?? chain.apart.get(seq)?.[0];

/** Adds an entry not yet in the chain. True when all that was sound before still is, and what is new comes after it. */
export function extendChain(chain: Chain, entry: Entry): boolean {
  const { sound, apart } = chain;
  chain.top = Math.max(chain.top, entry.seq);
  const place = placeInSound(chain, entry.seq);
  const isTaken = sound[place]?.seq === entry.seq || apart.has(entry.seq);
  if (isTaken) return fork(chain, entry, place);
  if (chain.kept === "excerpt") {
    if (chain.forkedAt !== null && entry.seq > chain.forkedAt) apart.set(entry.seq, [entry]);
    else sound.splice(place, 0, entry);
    return place >= sound.length - 1;
  }
  if (isNext(chain, entry)) sound.push(entry);
  else apart.set(entry.seq, [entry]);
  advance(chain);
  return true;
}

/** How many sound entries have a lower seq. */
function placeInSound({ kept, sound }: Chain, seq: number): number {
  if (kept === "whole") return Math.min(seq, sound.length);
  let [low, high] = [0, sound.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((sound[middle]?.seq ?? seq) < seq) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Its place is taken: from there on nothing is sound. */
function fork(chain: Chain, entry: Entry, place: number): boolean {
  const { sound, apart } = chain;
  const cut = sound.splice(place);
  for (const one of cut) apart.set(one.seq, [one]);
  const doubled = [...(apart.get(entry.seq) ?? []), entry].sort(byId);
  apart.set(entry.seq, doubled);
  if (chain.forkedAt === null || entry.seq < chain.forkedAt) chain.forkedAt = entry.seq;
  return cut.length === 0;
}

const isNext = ({ sound }: Chain, { seq, prev }: Entry): boolean =>
  seq === sound.length && prev === (sound.at(-1)?.id ?? null);

function advance(chain: Chain): void {
  while (chain.apart.size > 0) {
    const seq = chain.sound.length;
    const place = chain.apart.get(seq);
    const next = place?.length === 1 ? place[0] : undefined;
    if (next === undefined || !isNext(chain, next)) return;
    chain.apart.delete(seq);
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
