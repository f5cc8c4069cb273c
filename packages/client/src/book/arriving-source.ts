/**
 * Envelopes on their way in, as texts that come a slice at a time: read beside where there is much of it and help is to be had, else here.
 * What an envelope says of the volume it lies in is no entry and is told apart, as soon as it is met: where the book goes on can then be
 * dialled while the rest is still being read. Rejected: to read it in its turn, as the last of all (a newcomer to a book of ten volumes
 * sat through ten connections, one after another, with nothing to read meanwhile).
 */
import type { BookId, EntryId, PublicKey } from "@sward/core";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Closing } from "./closing.ts";
import { readClosing } from "./closing.ts";
import type { Incoming, Source } from "./intake.ts";
import { SLICE } from "./intake.ts";
import type { PlacedEnvelope } from "./ledger-doc.ts";
import type { GrowingSource, ReadsBeside } from "./reads-beside.ts";
import { openEnvelope } from "./seal.ts";

export interface Arriving {
  readonly book: BookId;
  readonly epochs: ReadonlyMap<number, EpochKeys>;
  readonly readsBeside: (() => Promise<ReadsBeside>) | undefined;
  readonly held: Iterable<EntryId>;
  readonly keys: () => readonly PublicKey[];
  readonly closing: (closing: Closing) => void;
}

/** Of envelopes that come together, after which another thread has begun before this one would have read them. */
const MANY_BYTES = 96 * 1024;

/** Of an envelope, in bytes: a signature alone is longer. What is shorter says something of its volume, and that is read on this thread. */
const SHORTEST_ENTRY = 64;

/** One that is read beside can be added to until its last slice has been asked for. */
export async function arrivingSource(
  placed: readonly PlacedEnvelope[],
  arriving: Arriving,
): Promise<Source & Partial<GrowingSource>> {
  const here = (some: readonly PlacedEnvelope[]): Promise<Incoming[]> => openAll(some, arriving);
  const beside = await helpWith(placed, arriving);
  if (beside === null) {
    const slices = Math.ceil(placed.length / SLICE);
    return { slices, slice: (at) => here(placed.slice(at * SLICE, (at + 1) * SLICE)) };
  }
  const source = beside.source([], { ...arriving, here });
  const short: Promise<Incoming[]>[] = [];
  const add = (some: readonly PlacedEnvelope[]): void => {
    source.add(some.filter(({ envelope }) => envelope.length >= SHORTEST_ENTRY));
    const opening = here(some.filter(({ envelope }) => envelope.length < SHORTEST_ENTRY));
    // Told of where it is awaited, which is after all else was read.
    opening.catch(() => undefined);
    short.push(opening);
  };
  add(placed);
  return {
    get slices() {
      return source.slices + 1;
    },
    slice: async (at) => (at < source.slices ? source.slice(at) : (await Promise.all(short)).flat()),
    add,
  };
}

const helpWith = async (placed: readonly PlacedEnvelope[], { readsBeside }: Arriving): Promise<ReadsBeside | null> =>
  readsBeside !== undefined && placed.reduce((sum, { envelope }) => sum + envelope.length, 0) > MANY_BYTES
    ? readsBeside().catch(() => null)
    : null;

async function openAll(
  placed: readonly PlacedEnvelope[],
  { book, epochs, closing }: Pick<Arriving, "book" | "epochs" | "closing">,
): Promise<Incoming[]> {
  const contents = await Promise.all(
    placed.map(({ envelope }) => openEnvelope(book, (epoch) => epochs.get(epoch), envelope)),
  );
  return placed.flatMap(({ place }, n) => {
    const texts = contents[n];
    if (!Array.isArray(texts)) return [];
    return (texts as readonly string[]).flatMap((jws) => {
      const next = readClosing(jws);
      if (next !== null) closing({ place, next });
      return next === null ? [{ jws, place }] : [];
    });
  });
}
