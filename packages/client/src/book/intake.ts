/**
 * From the texts of opened envelopes to entries the ledger may have: form decided by core, signature checked here, once. A key is
 * learnt from any entry that states one, checked or not: a key id is the key's own thumbprint, so nobody can state a false one.
 * An entry whose key has not come yet is kept and tried again when it has.
 */
import type { Arrival, BookId, Entry, EntryId, KnownEntry, PublicKey } from "@sward/core";
import { decodeEntry } from "@sward/core";
import type { Verifier } from "../keys/verifier.ts";
import type { HeldEntry, Place, UncheckedEntry } from "./vault.ts";

export interface Incoming {
  readonly jws: string;
  /** Null when it did not come through the document. */
  readonly place: Place | null;
}

export interface Taken {
  /** Entries held before, now also met in the document. */
  readonly again: readonly { readonly id: EntryId; readonly place: Place }[];
  readonly arrivals: readonly Arrival[];
  readonly held: readonly HeldEntry[];
  /** Of the document: kept until their key comes. */
  readonly unchecked: readonly UncheckedEntry[];
  /** Not of the document, and their key is not known. */
  readonly keyless: number;
  /** Texts that are no entries of this book, or whose signature is not their author's. */
  readonly refused: number;
}

/** Signatures checked side by side; also how often progress is told. */
const SLICE = 64;

/** The keys an entry states. */
export function keysIn(entry: KnownEntry): readonly PublicKey[] {
  switch (entry.kind) {
    case "book-opened":
      return [entry.body.root];
    case "club-admitted":
      return [entry.body.club];
    case "device-admitted":
      return [entry.body.device];
    case "entry-carried":
      return [entry.body.key];
    default:
      return [];
  }
}

export async function takeIn(
  book: BookId,
  incoming: readonly Incoming[],
  verifier: Verifier,
  has: (id: EntryId) => boolean,
  progress: (checked: number, total: number) => void,
): Promise<Taken> {
  const again: { id: EntryId; place: Place }[] = [];
  let known = 0;
  const decoded: { readonly entry: Entry; readonly from: Incoming }[] = [];
  for (const from of incoming) {
    const result = decodeEntry(from.jws);
    if (!result.ok || result.value.book !== book) continue;
    if (has(result.value.id)) {
      known += 1;
      if (from.place !== null) again.push({ id: result.value.id, place: from.place });
      continue;
    }
    decoded.push({ entry: result.value, from });
    if (result.value.understood) for (const key of keysIn(result.value)) verifier.learn(key);
  }
  const arrivals: Arrival[] = [];
  const held: HeldEntry[] = [];
  const unchecked: UncheckedEntry[] = [];
  let keyless = 0;
  let refused = incoming.length - decoded.length - known;
  for (let at = 0; at < decoded.length; at += SLICE) {
    const slice = decoded.slice(at, at + SLICE);
    const checked = await Promise.all(slice.map(({ entry, from }) => checkOne(entry, from.jws, verifier)));
    for (const [n, { entry, from }] of slice.entries()) {
      const arrival = checked[n];
      if (arrival === "no-key" && from.place !== null) unchecked.push({ jws: from.jws, place: from.place });
      else if (arrival === "no-key") keyless += 1;
      else if (arrival === undefined || arrival === "forged") refused += 1;
      else {
        arrivals.push(arrival);
        held.push({ id: entry.id, jws: from.jws, understood: entry.understood, place: from.place });
      }
    }
    progress(Math.min(at + SLICE, decoded.length), decoded.length);
  }
  return { again, arrivals, held, unchecked, keyless, refused };
}

async function checkOne(entry: Entry, jws: string, verifier: Verifier): Promise<Arrival | "no-key" | "forged"> {
  if (!verifier.knows(entry.author)) return "no-key";
  if (!(await verifier.verify(jws, entry.author))) return "forged";
  return openCarried(entry, verifier);
}

/** What a carried entry carries, when its own signature holds too. */
export async function openCarried(entry: Entry, verifier: Verifier): Promise<Arrival> {
  if (!entry.understood || entry.kind !== "entry-carried") return { entry };
  const inner = decodeEntry(entry.body.entry);
  if (!inner.ok) return { entry, carried: null };
  verifier.learn(entry.body.key);
  const good = await verifier.verify(entry.body.entry, inner.value.author);
  return { entry, carried: good ? inner.value : null };
}
