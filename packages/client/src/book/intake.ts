/**
 * From the texts of opened envelopes to entries the ledger may have: form decided by core, signature checked here, once. An entry is
 * taken when a taken entry states its author's key, or it does so itself; until then it is kept and tried again. So what is held follows
 * from what was met, whatever the order and however often the device was started. Rejected: a key learnt from anything that states one
 * (it would be known to those who met a forgery this very hour, and to nobody after a restart).
 */
import type { Arrival, BookId, Entry, EntryId, KeyId, PublicKey } from "@sward/core";
import { decodeEntry, keyIdOf } from "@sward/core";
import type { Verifier } from "../keys/verifier.ts";
import type { Breathe } from "./breathing.ts";
import { neverBreathe } from "./breathing.ts";
import { KeptEntry } from "./kept-entry.ts";
import type { ReadText } from "./read-service.ts";
import { keysIn, openCarried } from "./stated.ts";
import type { HeldEntry, Place, UncheckedEntry } from "./vault.ts";

export interface Incoming {
  readonly jws: string;
  /** Null when it did not come through the document. */
  readonly place: Place | null;
  /** What somebody in another thread made of it (`read-service.ts`). */
  readonly read?: Pick<ReadText, "entry" | "signature"> & { readonly kept?: KeptEntry };
}

/** Entries that are good, as the ledger and as the vault take them. */
export interface Filing {
  readonly arrivals: readonly Arrival[];
  readonly held: readonly HeldEntry[];
}

/** Takes a portion of what is good while the rest is still being read; false when it could not, and then no more is read. */
export type File = (portion: Filing) => Promise<boolean>;

/** What is good and was not filed before, and what became of the rest. */
export interface Taken extends Filing {
  /** Entries held before, now also met in the document. */
  readonly again: readonly { readonly id: EntryId; readonly place: Place }[];
  /** Of the document: kept until their key comes. */
  readonly unchecked: readonly UncheckedEntry[];
  /** Not of the document, and their key is not known. */
  readonly keyless: number;
  /** Texts that are no entries of this book, or whose signature is not their author's. */
  readonly refused: number;
}

/** Signatures checked side by side; also how often progress is told. */
export const SLICE = 64;

/**
 * Entries filed together, and read together at each start: few enough that a phone's screen gets its turn, enough that durable writes are
 * not what takes the time.
 */
const A_PORTION = 1_024;

/** Texts that come a slice at a time, since opening their envelopes is also the platform's work. */
export interface Source {
  /** Slices of about `SLICE` texts; there may be more of them after any was asked for. */
  readonly slices: number;
  slice(at: number): Promise<readonly Incoming[]>;
}

export const fromList = (incoming: readonly Incoming[]): Source => ({
  slices: Math.ceil(incoming.length / SLICE),
  slice: (at) => Promise.resolve(incoming.slice(at * SLICE, (at + 1) * SLICE)),
});

/**
 * Reading and hashing are this thread's work, opening an envelope and checking a signature are the platform's: while it checks one
 * slice, the next is opened and read.
 * A key may be stated after entries it signed; those are tried again when all has been read.
 */
export async function takeIn(
  book: BookId,
  source: Source,
  verifier: Verifier,
  /** The text of an entry that is held. */
  textOf: (id: EntryId) => string | undefined,
  /** An entry in the form in which the ledger will hold it: the vault writes it in that form too, and comes first. */
  small: (entry: Entry) => Entry,
  progress: (checked: number, total: number) => void,
  breathe: Breathe = neverBreathe,
  file?: File,
): Promise<Taken | "not-filed"> {
  const authors = new Map<string, KeyId>();
  const again: { id: EntryId; place: Place }[] = [];
  let good: Good[] = [];
  let filed = true;
  let early: Read[] = [];
  let refused = 0;

  function decoded(jws: string): Entry | null {
    const result = decodeEntry(jws, authors);
    return result.ok ? result.value : null;
  }

  function read(from: Incoming): Read | null {
    const entry = from.read === undefined ? decoded(from.jws) : from.read.entry;
    if (entry?.book !== book) {
      refused += 1;
      return null;
    }
    const text = textOf(entry.id);
    if (text !== undefined) {
      // An id leaves the signature out: where a copy with a spoilt one lies, nobody else finds the entry.
      if (text !== from.jws) refused += 1;
      else if (from.place !== null) again.push({ id: entry.id, place: from.place });
      return null;
    }
    for (const key of statedBy(entry)) verifier.offer(key);
    return { entry, from };
  }

  function sort(slice: readonly Read[], checked: readonly Checked[]): void {
    for (const [n, one] of slice.entries()) {
      const arrival = checked[n];
      if (arrival === "no-key") early.push(one);
      else if (arrival === undefined || arrival === "forged") refused += 1;
      else {
        const entry = small(arrival.entry);
        good.push({ entry, from: one.from, arrival: { ...arrival, entry } });
      }
    }
  }

  async function checkAll(of: Pick<Source, "slices">, sliceAt: (at: number) => Promise<Read[]>): Promise<void> {
    let sorted: Promise<void> = Promise.resolve();
    for (let at = 0; at < of.slices && filed; at += 1) {
      const slice = await sliceAt(at);
      // What the platform answers comes in long trains, each answer of which would go on from here in one and the same task.
      await breathe();
      const checking = Promise.all(slice.map((one) => checkOne(one, verifier)));
      // Told of where it is awaited, which may be after a portion was filed.
      checking.catch(() => undefined);
      await sorted;
      if (file !== undefined && good.length >= A_PORTION) await fileGood(file);
      await breathe();
      sorted = checking.then((checked) => {
        sort(slice, checked);
        progress(at + 1, of.slices);
      });
    }
    await sorted;
  }

  async function fileGood(handIn: File): Promise<void> {
    const { taken, waiting } = takeVouched(good, verifier);
    good = [...waiting];
    if (taken.length > 0) filed = await handIn(filing(taken));
  }

  await checkAll(source, async (at) => (await source.slice(at)).flatMap((from) => read(from) ?? []));
  const second = early.filter(({ entry }) => verifier.canTry(entry.author));
  early = early.filter(({ entry }) => !verifier.canTry(entry.author));
  await checkAll({ slices: Math.ceil(second.length / SLICE) }, (at) =>
    Promise.resolve(second.slice(at * SLICE, (at + 1) * SLICE)),
  );

  if (!filed) return "not-filed";
  const { taken, waiting } = takeVouched(good, verifier);
  const without = [...early, ...waiting];
  const unchecked = without.flatMap(({ from: { jws, place } }) => (place === null ? [] : { jws, place }));
  return { again, ...filing(taken), unchecked, keyless: without.length - unchecked.length, refused };
}

const filing = (taken: readonly Good[]): Filing => ({
  arrivals: taken.map(({ arrival }) => arrival),
  held: taken.map(({ entry, from }) => {
    const kept = from.read?.kept;
    kept?.share(entry);
    return kept ?? KeptEntry.ofRead(entry, from.jws, from.place);
  }),
});

/** Those whose author's key is known or stated by themselves, then those whose key these state, until nothing more follows. */
function takeVouched(good: readonly Good[], verifier: Verifier): { taken: Good[]; waiting: readonly Good[] } {
  const taken: Good[] = [];
  let waiting = good;
  for (;;) {
    const later: Good[] = [];
    for (const one of waiting) {
      const { entry } = one;
      const stated = statedBy(entry);
      if (verifier.knows(entry.author) || stated.some((key) => keyIdOf(key) === entry.author)) {
        taken.push(one);
        for (const key of stated) verifier.learn(key);
      } else later.push(one);
    }
    if (later.length === waiting.length || later.length === 0) return { taken, waiting: later };
    waiting = later;
  }
}

const statedBy = (entry: Entry): readonly PublicKey[] => (entry.understood ? keysIn(entry) : []);

interface Read {
  readonly entry: Entry;
  readonly from: Incoming;
}

/** Its signature is its author's. */
interface Good extends Read {
  readonly arrival: Arrival;
}

type Checked = Arrival | "no-key" | "forged";

async function checkOne({ entry, from }: Read, verifier: Verifier): Promise<Checked> {
  const { signature } = from.read ?? { signature: "untried" };
  if (!verifier.canTry(entry.author)) return "no-key";
  if (signature === "forged" || (signature === "untried" && !(await verifier.verify(from.jws, entry.author))))
    return "forged";
  return openCarried(entry, verifier);
}
