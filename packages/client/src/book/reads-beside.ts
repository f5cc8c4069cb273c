/**
 * A large arrival is read beside the page: its envelopes go to other threads some forty kilobytes at a time, a few such slices ahead of
 * what the page files, and come back as texts with entries and verdicts. What the page did itself took it longer than the signatures do.
 * A signature stated in one slice may sign what another thread reads: then that is "untried" there, and the page tries it.
 *
 * Helpers of which one does not start, dies or falls silent are given up for good. What they owed, and all that comes after, is read here
 * as if there had never been any, with signatures checked as ever (`checks-beside.ts`, which tells people when that is slow). Rejected:
 * one message for everything (no progress to show, and all of it twice in memory), moving the envelopes over instead of copying them
 * (they are the document's), and every second slice for each of two threads (one of them may be held up by whatever else a phone does).
 */
import type { BookId, EntryId, PublicKey } from "@sward/core";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Incoming, Source } from "./intake.ts";
import { KeptEntry } from "./kept-entry.ts";
import type { PlacedEnvelope } from "./ledger-doc.ts";
import type { ReadAnswer, ReadAsk, ReadBegin, ReadText } from "./read-service.ts";
import { heldIds } from "./read-service.ts";
import type { Place } from "./vault.ts";

/** Someone in another thread who answers as `read-service.ts` does. */
export interface ReadHelper {
  begin(begin: ReadBegin): void;
  /** May take the bytes over. */
  ask(asked: ReadAsk): void;
  stop(): void;
}

export interface ReadsBesideDeps {
  /** Threads that read side by side; a signature keeps a thread busy all the time it is checked. */
  readonly threads: number;
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

/** A source to which more can be added until its last slice has been asked for. */
export interface GrowingSource extends Source {
  add(placed: readonly PlacedEnvelope[]): void;
}

export interface ReadsBeside {
  source(placed: readonly PlacedEnvelope[], reading: Reading): GrowingSource;
}

/** How long the helper may be silent while it owes an answer, in milliseconds; the slowest phone takes one for a slice. */
const PATIENCE_MS = 30_000;

/** Without anything to read the helper is let go after so long: it holds memory, and takes a third of a second to begin anew. */
const IDLE_MS = 20_000;

/** Of envelopes in a slice: as many as are an entry each, and not too long together. */
const SLICE_ENVELOPES = 64;
const SLICE_BYTES = 48 * 1024;

/** Slices asked for beyond the one that is waited for: the helpers must have enough to do while the page files a portion. */
const AHEAD = 48;

/** Of them a thread has so many at a time, some fifty milliseconds of work: the page may be busy for as long. */
const IN_HAND = 8;

/** A thread, and what it has been given. */
interface Lane {
  helper: ReadHelper | null;
  begun: ReadBegin | null;
  owes: number;
}

interface Asked {
  readonly slice: readonly PlacedEnvelope[];
  readonly begin: ReadBegin;
  readonly keys: Reading["keys"];
  readonly settle: (texts: readonly ReadText[] | null) => void;
}

export function readsBeside(deps: ReadsBesideDeps): ReadsBeside {
  const lanes: readonly Lane[] = Array.from({ length: deps.threads }, () => ({ helper: null, begun: null, owes: 0 }));
  const owed = new Map<number, { readonly lane: Lane; readonly settle: Asked["settle"] }>();
  let queue: Asked[] = [];
  let isLost = false;
  let count = 0;
  let timer: unknown = null;

  function giveUp(): void {
    isLost = true;
    letGo();
    const left = [...owed.values(), ...queue];
    owed.clear();
    queue = [];
    for (const { settle } of left) settle(null);
  }

  function letGo(): void {
    deps.clearTimeout(timer);
    for (const lane of lanes) {
      lane.helper?.stop();
      Object.assign(lane, { helper: null, begun: null, owes: 0 });
    }
  }

  function wait(): void {
    deps.clearTimeout(timer);
    if (!isLost) timer = deps.setTimeout(owed.size > 0 ? giveUp : letGo, owed.size > 0 ? PATIENCE_MS : IDLE_MS);
  }

  function heard({ read, texts }: ReadAnswer): void {
    const one = owed.get(read);
    if (one === undefined) return;
    owed.delete(read);
    one.lane.owes -= 1;
    handOut();
    wait();
    one.settle(texts);
  }

  /** Whoever has least is next; another thread is begun when those there are have their hands full. */
  function nextLane(): Lane | undefined {
    const begun = lanes.filter(({ helper }) => helper !== null);
    const least = begun.sort((a, b) => a.owes - b.owes)[0];
    return least === undefined || least.owes >= IN_HAND ? lanes.find(({ helper }) => helper === null) : least;
  }

  function handOut(): void {
    try {
      while (!isLost) {
        const lane = nextLane();
        if (lane === undefined) return;
        const next = queue.shift();
        if (next === undefined) return;
        const { slice, begin, keys, settle } = next;
        count += 1;
        owed.set(count, { lane, settle });
        lane.owes += 1;
        lane.helper ??= deps.start(heard, giveUp);
        if (lane.begun !== begin) lane.helper.begin(begin);
        lane.begun = begin;
        lane.helper.ask({ read: count, keys: keys(), ...together(slice) });
      }
    } catch {
      giveUp();
    }
  }

  function source(placed: readonly PlacedEnvelope[], { book, epochs, held, keys, here }: Reading): GrowingSource {
    const slices = slicesOf(placed);
    const seals = new Map(
      [...epochs].map(([epoch, { seal, alsoOpens = [] }]) => [epoch, [seal, ...alsoOpens]] as const),
    );
    const begin: ReadBegin = { book, seals, held: heldIds(held) };
    const asked = new Map<number, Promise<readonly Incoming[]>>();

    async function read(slice: readonly PlacedEnvelope[]): Promise<readonly Incoming[]> {
      const texts = isLost
        ? null
        : await new Promise<readonly ReadText[] | null>((settle) => {
            queue.push({ slice, begin, keys, settle });
            handOut();
            wait();
          });
      if (texts === null) return here(slice);
      return texts.flatMap((text) => {
        const place = slice[text.at]?.place;
        return place === undefined ? [] : incoming(text, place);
      });
    }

    return {
      get slices() {
        return slices.length;
      },
      add: (more) => void slices.push(...slicesOf(more)),
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

function incoming({ text, entry, signature }: ReadText, place: Place): Incoming {
  if (signature !== "good" || entry?.understood !== true) return { jws: text, place, read: { entry, signature } };
  const kept = KeptEntry.ofEntry(entry, text, place);
  return {
    // Only for an entry that is held already; to make each text again would take longer than to have it sent.
    get jws() {
      return kept.jws;
    },
    place,
    read: { entry, signature, kept },
  };
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
