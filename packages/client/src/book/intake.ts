/**
 * From the texts of opened envelopes to entries the ledger may have: form decided by core, signature checked here, once. A key is
 * learnt from any entry that states one, checked or not: a key id is the key's own thumbprint, so nobody can state a false one.
 * An entry whose key has not come yet is kept and tried again when it has.
 */
import type { Arrival, BookId, Entry, EntryId, KeyId, KnownEntry, PublicKey } from "@sward/core";
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
export const SLICE = 64;

/** Texts that come a slice at a time, since opening their envelopes is also the platform's work. */
export interface Source {
  /** Slices of about `SLICE` texts. */
  readonly slices: number;
  slice(at: number): Promise<readonly Incoming[]>;
}

export const fromList = (incoming: readonly Incoming[]): Source => ({
  slices: Math.ceil(incoming.length / SLICE),
  slice: (at) => Promise.resolve(incoming.slice(at * SLICE, (at + 1) * SLICE)),
});

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

/**
 * Reading and hashing are this thread's work, opening an envelope and checking a signature are the platform's: while it checks one
 * slice, the next is opened and read.
 * A key may be stated after entries it signed; those are tried again when all has been read.
 */
export async function takeIn(
  book: BookId,
  source: Source,
  verifier: Verifier,
  has: (id: EntryId) => boolean,
  progress: (checked: number, total: number) => void,
): Promise<Taken> {
  const authors = new Map<string, KeyId>();
  const again: { id: EntryId; place: Place }[] = [];
  const arrivals: Arrival[] = [];
  const held: HeldEntry[] = [];
  let early: Read[] = [];
  let refused = 0;

  function read(from: Incoming): Read | null {
    const result = decodeEntry(from.jws, authors);
    if (!result.ok || result.value.book !== book) {
      refused += 1;
      return null;
    }
    const entry = result.value;
    if (has(entry.id)) {
      if (from.place !== null) again.push({ id: entry.id, place: from.place });
      return null;
    }
    if (entry.understood) for (const key of keysIn(entry)) verifier.learn(key);
    return { entry, from };
  }

  function sort(slice: readonly Read[], checked: readonly Checked[]): void {
    for (const [n, one] of slice.entries()) {
      const arrival = checked[n];
      if (arrival === "no-key") early.push(one);
      else if (arrival === undefined || arrival === "forged") refused += 1;
      else {
        const { entry, from } = one;
        arrivals.push(arrival);
        held.push({ id: entry.id, jws: from.jws, understood: entry.understood, place: from.place });
      }
    }
  }

  async function checkAll(slices: number, sliceAt: (at: number) => Promise<Read[]>): Promise<void> {
    let sorted: Promise<void> = Promise.resolve();
    for (let at = 0; at < slices; at += 1) {
      const slice = await sliceAt(at);
      const checking = Promise.all(slice.map(({ entry, from }) => checkOne(entry, from.jws, verifier)));
      await sorted;
      sorted = checking.then((checked) => {
        sort(slice, checked);
        progress(at + 1, slices);
      });
    }
    await sorted;
  }

  await checkAll(source.slices, async (at) => (await source.slice(at)).flatMap((from) => read(from) ?? []));
  const second = early.filter(({ entry }) => verifier.knows(entry.author));
  early = early.filter(({ entry }) => !verifier.knows(entry.author));
  await checkAll(Math.ceil(second.length / SLICE), (at) => Promise.resolve(second.slice(at * SLICE, (at + 1) * SLICE)));

  const unchecked = early.flatMap(({ from: { jws, place } }) => (place === null ? [] : { jws, place }));
  return { again, arrivals, held, unchecked, keyless: early.length - unchecked.length, refused };
}

interface Read {
  readonly entry: Entry;
  readonly from: Incoming;
}

type Checked = Arrival | "no-key" | "forged";

async function checkOne(entry: Entry, jws: string, verifier: Verifier): Promise<Checked> {
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
