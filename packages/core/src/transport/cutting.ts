/**
 * Writes parts of an update as updates of their own, by copying the bytes of whole structs: nothing is encoded anew, so nothing
 * can come out different from what was judged. Used to keep the good part of a partly bad update, and to send a long history
 * in pages that a receiver's limits let through. Rejected: one frame as long as the history (a receiver must take it whole,
 * which means no limit) and `Y.diffUpdate` per page (it reads the whole update again for each).
 */
import { joinBytes, uintBytes } from "./bytes.ts";
import type { Lane } from "./placing.ts";
import { laneOf, placeAll } from "./placing.ts";
import type { Deletion, ReadUpdate, Struct } from "./update.ts";
import { readUpdate } from "./update.ts";

/** One client's structs `from` up to, not including, `to`. */
export interface Span {
  readonly structs: readonly Struct[];
  readonly from: number;
  readonly to: number;
}

/** Highest client id first, as Yjs writes them. */
const byClientDown = (a: { client: number }, b: { client: number }): number => b.client - a.client;

/** An update of these spans, which must not be empty, and these deletions. */
export function cutUpdate(source: Uint8Array, spans: readonly Span[], deletions: readonly Deletion[]): Uint8Array {
  const blocks = spans.map((span) => ({ span, client: (span.structs[span.from] as Struct).client })).sort(byClientDown);
  const parts = [uintBytes([blocks.length])];
  for (const { span, client } of blocks) {
    const first = span.structs[span.from] as Struct;
    const last = span.structs[span.to - 1] as Struct;
    parts.push(uintBytes([span.to - span.from, client, first.clock]), source.subarray(first.start, last.end));
  }
  parts.push(deletionBytes(deletions));
  return joinBytes(parts);
}

/**
 * Updates as one, in their order: each goes on, for each of its clients, where those before it ended, and erases nothing. Throws at one
 * that does not, or cannot be read: they were screened.
 */
export function joinUpdates(updates: readonly Uint8Array[]): Uint8Array {
  const clients = new Map<
    number,
    { readonly clock: number; next: number; count: number; readonly bytes: Uint8Array[] }
  >();
  for (const update of updates) {
    for (const { client, structs } of readScreened(update).blocks) {
      const [first, last] = [structs[0] as Struct, structs.at(-1) as Struct];
      const one = clients.get(client) ?? { clock: first.clock, next: first.clock, count: 0, bytes: [] };
      if (one.next !== first.clock) throw new Error(`an update does not go on where those before it ended: ${client}`);
      clients.set(client, one);
      one.next = last.clock + last.length;
      one.count += structs.length;
      one.bytes.push(update.subarray(first.start, last.end));
    }
  }
  const blocks = [...clients].sort(([a], [b]) => b - a);
  const parts = [uintBytes([blocks.length])];
  for (const [client, { clock, count, bytes }] of blocks) parts.push(uintBytes([count, client, clock]), ...bytes);
  parts.push(deletionBytes([]));
  return joinBytes(parts);
}

/** What an update has from `next(client)` on, of each of its clients. Throws at one that cannot be read. */
export function updateAfter(update: Uint8Array, next: (client: number) => number): Uint8Array {
  const read = readScreened(update);
  const spans = read.blocks.map(({ client, structs }) => {
    const from = structs.findIndex(({ clock, length }) => clock + length > next(client));
    return { structs, from, to: structs.length };
  });
  const left = spans.filter(({ from }) => from >= 0);
  return cutUpdate(update, left, read.deletions);
}

function readScreened(update: Uint8Array): ReadUpdate {
  const read = readUpdate(update);
  if ("type" in read) throw new Error(`an update that was screened cannot be read: ${read.type}`);
  return read;
}

function deletionBytes(deletions: readonly Deletion[]): Uint8Array {
  const byClient = new Map<number, Deletion[]>();
  for (const deletion of deletions) {
    const ranges = byClient.get(deletion.client);
    if (ranges === undefined) byClient.set(deletion.client, [deletion]);
    else ranges.push(deletion);
  }
  const parts = [uintBytes([byClient.size])];
  for (const [client, ranges] of byClient) {
    parts.push(uintBytes([client, ranges.length]), uintBytes(ranges.flatMap(({ clock, length }) => [clock, length])));
  }
  return joinBytes(parts);
}

/**
 * The update as one or more updates of about `bytes` bytes each (a longer struct has a page to itself), such that each can be
 * applied once those before it are. An update that is short enough, or that cannot be read, comes back alone and unchanged.
 */
export function pagesOf(update: Uint8Array, bytes: number): readonly Uint8Array[] {
  if (update.length <= bytes) return [update];
  const read = readUpdate(update);
  if ("type" in read) return [update];
  const lanes = new Map<number, Lane>();
  for (const block of read.blocks) lanes.set(block.client, laneOf(block, 0, block.structs.length));
  const pages: Uint8Array[] = [];
  let page = new Map<number, { from: number; to: number }>();
  let size = 0;
  const place = (struct: Struct): void => {
    const length = struct.end - struct.start;
    if (page.size > 0 && size + length > bytes) {
      pages.push(cutUpdate(update, spansOf(page, lanes), []));
      page = new Map();
      size = 0;
    }
    const index = (lanes.get(struct.client) as Lane).placed;
    const range = page.get(struct.client);
    if (range === undefined) page.set(struct.client, { from: index, to: index + 1 });
    else range.to = index + 1;
    size += length;
  };
  // What comes before the update is the receiver's affair: only the order within it matters here.
  const next = (client: number): number => lanes.get(client)?.block.structs[0]?.clock ?? Number.POSITIVE_INFINITY;
  placeAll(lanes, next, place);
  return withRest(read, pages, spansOf(page, lanes));
}

function spansOf(page: ReadonlyMap<number, { from: number; to: number }>, lanes: ReadonlyMap<number, Lane>): Span[] {
  const spans: Span[] = [];
  for (const [client, { from, to }] of page) {
    spans.push({ structs: (lanes.get(client) as Lane).block.structs, from, to });
  }
  return spans;
}

/** Deletions go last: they name structs of any page. */
function withRest(read: ReadUpdate, pages: Uint8Array[], spans: readonly Span[]): readonly Uint8Array[] {
  pages.push(cutUpdate(read.bytes, spans, read.deletions));
  return pages;
}
