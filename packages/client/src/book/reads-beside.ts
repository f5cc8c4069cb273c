/**
 * A large arrival is read beside the page: its envelopes go to another thread some forty kilobytes at a time, a few such slices ahead of
 * what the page files, and come back as texts with entries and verdicts. What the page did itself took it longer than the signatures do.
 *
 * A helper that does not start, dies or falls silent is given up for good. What it owed, and all that comes after, is read here as if
 * there had never been one, with signatures checked as ever (`checks-beside.ts`, which tells people when that is slow). Rejected: one
 * message for everything (no progress to show, and all of it twice in memory), and moving the envelopes over instead of copying them
 * (they are the document's).
 */
import type { BookId, EntryId, PublicKey } from "@sward/core";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Incoming, Source } from "./intake.ts";
import type { PlacedEnvelope } from "./ledger-doc.ts";
import type { ReadAnswer, ReadAsk, ReadBegin, ReadText } from "./read-service.ts";
import { heldIds } from "./read-service.ts";

/** Someone in another thread who answers as `read-service.ts` does. */
export interface ReadHelper {
  begin(begin: ReadBegin): void;
  /** May take the bytes over. */
  ask(asked: ReadAsk): void;
  stop(): void;
}

export interface ReadsBesideDeps {
  /** Throws, or calls `failed` later, when there is no other thread to be had. */
  readonly start: (heard: (answer: ReadAnswer) => void, failed: () => void) => ReadHelper;
  readonly setTimeout: (run: () => void, after: number) => unknown;
  readonly clearTimeout: (timer: unknown) => void;
}

/** What an arrival is read with. */
export interface Reading {
  readonly book: BookId;
  readonly epochs: ReadonlyMap<number, EpochKeys>;
  readonly held: Iterable<EntryId>;
  /** All that signatures can be tried with by now. */
  readonly keys: () => readonly PublicKey[];
  /** How a slice is read without help. */
  readonly here: (placed: readonly PlacedEnvelope[]) => Promise<readonly Incoming[]>;
}

export interface ReadsBeside {
  source(placed: readonly PlacedEnvelope[], reading: Reading): Source;
}

/** How long the helper may be silent while it owes an answer, in milliseconds; the slowest phone takes one for a slice. */
const PATIENCE_MS = 30_000;

/** Without anything to read the helper is let go after so long: it holds memory, and takes a third of a second to begin anew. */
const IDLE_MS = 20_000;

/** Of envelopes in a slice: as many as are an entry each, and not too long together. */
const SLICE_ENVELOPES = 64;
const SLICE_BYTES = 48 * 1024;

/** Slices asked for beyond the one that is waited for: the helper must have enough to do while the page files a portion. */
const AHEAD = 32;

export function readsBeside(deps: ReadsBesideDeps): ReadsBeside {
  const owed = new Map<number, (texts: readonly ReadText[] | null) => void>();
  let helper: ReadHelper | null = null;
  let isLost = false;
  let count = 0;
  let timer: unknown = null;

  function giveUp(): void {
    isLost = true;
    letGo();
    for (const settle of owed.values()) settle(null);
    owed.clear();
  }

  function letGo(): void {
    deps.clearTimeout(timer);
    helper?.stop();
    helper = null;
  }

  function wait(): void {
    deps.clearTimeout(timer);
    if (!isLost) timer = deps.setTimeout(owed.size > 0 ? giveUp : letGo, owed.size > 0 ? PATIENCE_MS : IDLE_MS);
  }

  function heard({ read, texts }: ReadAnswer): void {
    owed.get(read)?.(texts);
    owed.delete(read);
    wait();
  }

  function ask(begin: ReadBegin, more: Omit<ReadAsk, "read">, begun: ReadHelper | null): ReadHelper | null {
    helper ??= deps.start(heard, giveUp);
    if (helper !== begun) helper.begin(begin);
    helper.ask({ read: count, ...more });
    wait();
    return helper;
  }

  function source(placed: readonly PlacedEnvelope[], { book, epochs, held, keys, here }: Reading): Source {
    const slices = slicesOf(placed);
    const seals = new Map(
      [...epochs].map(([epoch, { seal, alsoOpens = [] }]) => [epoch, [seal, ...alsoOpens]] as const),
    );
    const begin: ReadBegin = { book, seals, held: heldIds(held) };
    let begunWith: ReadHelper | null = null;
    const asked = new Map<number, Promise<readonly Incoming[]>>();

    async function read(slice: readonly PlacedEnvelope[]): Promise<readonly Incoming[]> {
      if (isLost) return here(slice);
      count += 1;
      const texts = await new Promise<readonly ReadText[] | null>((settle) => {
        owed.set(count, settle);
        try {
          begunWith = ask(begin, { keys: keys(), ...together(slice) }, begunWith);
        } catch {
          giveUp();
        }
      });
      if (texts === null) return here(slice);
      return texts.flatMap(({ at, jws, entry, signature }) => {
        const place = slice[at]?.place;
        return place === undefined ? [] : { jws, place, read: { entry, signature } };
      });
    }

    return {
      slices: slices.length,
      slice(at) {
        for (let next = at; next <= at + AHEAD && next < slices.length; next += 1) {
          if (!asked.has(next)) asked.set(next, read(slices[next] ?? []));
        }
        const found = asked.get(at) ?? Promise.resolve([]);
        // Kept until then: what was read must not be held twice.
        asked.set(at, Promise.resolve([]));
        return found;
      },
    };
  }

  return { source };
}

function slicesOf(placed: readonly PlacedEnvelope[]): PlacedEnvelope[][] {
  const slices: PlacedEnvelope[][] = [];
  let slice: PlacedEnvelope[] = [];
  let bytes = 0;
  for (const one of placed) {
    if (slice.length === SLICE_ENVELOPES || (slice.length > 0 && bytes + one.envelope.length > SLICE_BYTES)) {
      slices.push(slice);
      [slice, bytes] = [[], 0];
    }
    slice.push(one);
    bytes += one.envelope.length;
  }
  if (slice.length > 0) slices.push(slice);
  return slices;
}

function together(slice: readonly PlacedEnvelope[]): Pick<ReadAsk, "bytes" | "lengths"> {
  const lengths = slice.map(({ envelope }) => envelope.length);
  const bytes = new Uint8Array(lengths.reduce((sum, length) => sum + length, 0));
  let to = 0;
  for (const { envelope } of slice) {
    bytes.set(envelope, to);
    to += envelope.length;
  }
  return { bytes, lengths };
}
