/**
 * A ledger: the updates themselves, in the order in which they were stored, each of which the screen let through. A ledger only grows, so
 * its updates one after another are its history: who asks for all of it is sent them as they are, and who asks for a part is sent those
 * that have something he lacks.
 *
 * Rejected: a Yjs document. It makes three objects of every envelope, has to be filled before the first page can be sent, and then writes
 * each page out of them again: half of what a caller waited for when he was the first to enter a room.
 */
import {
  contentOf,
  joinUpdates,
  pagesOf,
  readStateVector,
  readUpdate,
  stateVectorBytes,
  updateAfter,
} from "@sward/core";
import type { Contents } from "./contents.ts";
import type { Link } from "./digest.ts";
import { createDigester } from "./digest.ts";

/** One update and what it holds of each client: clocks from `from` up to, not including, `to`. */
interface Piece {
  readonly update: Uint8Array;
  readonly spans: readonly Span[];
}

interface Span {
  readonly client: number;
  readonly from: number;
  readonly to: number;
}

const none = new Uint8Array([0, 0]);

/** `pageBytes`: of one page of history. */
export function createLedgerContents(pageBytes: number): Contents {
  const clocks = new Map<number, number>();
  const pieces: Piece[] = [];
  /** Shorter ones are put together before they are sent, and, when there is a page of them, in memory too. */
  const long = pageBytes / 8;
  /** The short ones at the end. */
  const loose = { many: 0, bytes: 0 };

  const apply = (update: Uint8Array, next: ReadonlyMap<number, number>): void => {
    const spans = [...next].map(([client, to]) => ({ client, from: clocks.get(client) ?? 0, to }));
    for (const { client, to } of spans) clocks.set(client, to);
    pieces.push({ update, spans });
    if (update.length >= long) {
      loose.many = 0;
      loose.bytes = 0;
      return;
    }
    loose.many += 1;
    loose.bytes += update.length;
    if (loose.bytes < pageBytes) return;
    pieces.push(joined(pieces.splice(-loose.many)));
    loose.many = 0;
    loose.bytes = 0;
  };

  const since = (vector: Uint8Array): readonly Uint8Array[] => {
    const has = readStateVector(vector) ?? new Map<number, number>();
    const next = (client: number): number => has.get(client) ?? 0;
    const pages: Uint8Array[] = [];
    let short: Uint8Array[] = [];
    let bytes = 0;
    const flush = (): void => {
      if (short.length > 0) pages.push(short.length === 1 ? (short[0] as Uint8Array) : joinUpdates(short));
      short = [];
      bytes = 0;
    };
    for (const { update, spans } of pieces) {
      if (spans.every(({ client, to }) => to <= next(client))) continue;
      const lacking = spans.every(({ client, from }) => from >= next(client)) ? update : updateAfter(update, next);
      if (lacking.length >= long || bytes + lacking.length > pageBytes) flush();
      if (lacking.length >= long) pages.push(...pagesOf(lacking, pageBytes));
      else {
        short.push(lacking);
        bytes += lacking.length;
      }
    }
    flush();
    return pages.length === 0 ? [none] : pages;
  };

  const vector = (): Uint8Array => stateVectorBytes(clocks);
  return {
    known: {
      next: (client) => clocks.get(client) ?? 0,
      get clients() {
        return clocks.size;
      },
    },
    apply,
    vector,
    since,
    digest: createDigester(vector, (from) => linksOf(pieces, from), "ledger"),
    close: () => pieces.splice(0),
  };
}

function joined(pieces: readonly Piece[]): Piece {
  const spans = new Map<number, Span>();
  for (const { client, from, to } of pieces.flatMap((piece) => piece.spans))
    spans.set(client, { client, from: spans.get(client)?.from ?? from, to });
  return { update: joinUpdates(pieces.map(({ update }) => update)), spans: [...spans.values()] };
}

/** The envelopes of each client from this clock of his on. */
function linksOf(pieces: readonly Piece[], from: (client: number) => number): ReadonlyMap<number, Link[]> {
  const links = new Map<number, Link[]>();
  for (const { update, spans } of pieces) {
    if (spans.every(({ client, to }) => to <= from(client))) continue;
    const read = readUpdate(update);
    if ("type" in read) throw new Error(`an update that was screened cannot be read: ${read.type}`);
    for (const { client, structs } of read.blocks) {
      const all = links.get(client) ?? [];
      links.set(client, all);
      for (const one of structs)
        if (one.clock >= from(client)) all.push({ clock: one.clock, key: "", envelope: contentOf(update, one) });
    }
  }
  return links;
}
