/**
 * The screen: every Yjs update of a room passes it before it is applied, at the relay and on every device, whether it came from
 * a socket, another tab or storage (SPEC TR). Yjs accepts from anyone the deletion of anyone's items, claims to other clients'
 * clocks, items without the ones before them (kept in memory without limit) and half-applied updates. Past the screen an
 * update only ever adds whole envelopes, each in its turn, so a document is a set that grows and nothing is ever pending.
 *
 * Rejected: applying to a copy and comparing (a document of 30,000 entries takes 80 ms to copy) and trusting a member's device
 * (whoever has the room key could then erase the room for all).
 *
 * What the screen cannot see: two envelopes under one client id and clock (the first one wins at each receiver), and whose
 * entries an envelope holds. Devices compare the ids of their entries for the first; signatures answer the second.
 */
import type { Span } from "./cutting.ts";
import { cutUpdate } from "./cutting.ts";
import type { ScreenLimits } from "./form.ts";
import { screenLimits, structFault } from "./form.ts";
import type { Lane } from "./placing.ts";
import { laneOf, placeAll } from "./placing.ts";
import type { Gap, UpdateRefusal } from "./refusal.ts";
import type { RoomKind } from "./room.ts";
import type { Block, ReadUpdate, Struct } from "./update.ts";
import { readUpdate } from "./update.ts";

/** What a document already has. */
export interface Known {
  /** The first clock of this client that the document lacks; 0 for a client it does not know. */
  next(client: number): number;
  readonly clients: number;
}

/**
 * `whole`: take all of the update or nothing, for one that somebody just made. `salvage`: take each client's structs up to the
 * first bad one, for a page of history, where one bad struct must not keep everybody else's entries away.
 */
export type ScreenPolicy = "whole" | "salvage";

export interface ScreenOptions {
  readonly kind: RoomKind;
  readonly policy: ScreenPolicy;
  readonly limits?: ScreenLimits;
}

/** Empty `refusals` and null `gap`: everything the update says is in the document once `accepted` is applied. */
export interface Verdict {
  /** Exactly this may be applied, and can be without anything left pending. Null: nothing new, or nothing to be had. */
  readonly accepted: Uint8Array | null;
  /** How many structs `accepted` adds; in a ledger, how many envelopes. */
  readonly fresh: number;
  /** Whether `accepted` erases roster values. */
  readonly erases: boolean;
  /** Where each client stands after `accepted`, for the clients that move. */
  readonly next: ReadonlyMap<number, number>;
  /** Those found first, at most 16: enough to say what is wrong, and no way to make us say it a thousand times. */
  readonly refusals: readonly UpdateRefusal[];
  /** Something before the update is missing: ask for it with a state vector. */
  readonly gap: Gap | null;
}

/** The struct store of a `Y.Doc`, by its shape, as core may not name Yjs. */
export interface StructStore {
  readonly clients: ReadonlyMap<
    number,
    readonly { readonly id: { readonly clock: number }; readonly length: number }[]
  >;
}

/** What the document of this store (`doc.store`) has; looks each time it is asked. */
export const knownInStore = (store: StructStore): Known => ({
  next: (client) => {
    const last = store.clients.get(client)?.at(-1);
    return last === undefined ? 0 : last.id.clock + last.length;
  },
  get clients() {
    return store.clients.size;
  },
});

/** Never throws and changes nothing. Work is proportional to the bytes of the update. */
export function screenUpdate(update: Uint8Array, known: Known, options: ScreenOptions): Verdict {
  const limits = options.limits ?? screenLimits;
  if (update.length > limits.updateBytes) {
    return nothing([{ type: "too-long", bytes: update.length, limit: limits.updateBytes }]);
  }
  const read = readUpdate(update);
  if ("type" in read) return nothing([read]);
  const sorted = sortBlocks(read, known, options.kind, limits);
  placeAll(sorted.lanes, known.next, () => undefined);
  const verdict = conclude(read, known, sorted, options.kind);
  const bad = verdict.refusals.length > 0 || verdict.gap !== null;
  return options.policy === "whole" && bad ? { ...nothing(verdict.refusals), gap: verdict.gap } : verdict;
}

const mostRefusals = 16;

const nothing = (refusals: readonly UpdateRefusal[]): Verdict => ({
  accepted: null,
  fresh: 0,
  erases: false,
  next: new Map(),
  refusals,
  gap: null,
});

interface Sorted {
  readonly lanes: ReadonlyMap<number, Lane>;
  readonly refusals: UpdateRefusal[];
  gap: Gap | null;
}

/** Judges each block by itself: form of every struct, one block a client, no hole before it. */
function sortBlocks(read: ReadUpdate, known: Known, kind: RoomKind, limits: ScreenLimits): Sorted {
  const lanes = new Map<number, Lane>();
  const seen = new Set<number>();
  const sorted: Sorted = { lanes, refusals: [], gap: null };
  let clients = known.clients;
  for (const block of read.blocks) {
    const { client, structs } = block;
    const next = known.next(client);
    const fault = blockFault(block, seen, next === 0 ? clients + 1 : clients, limits);
    seen.add(client);
    if (fault !== null) {
      sorted.refusals.push(fault);
      continue;
    }
    const { first, upTo, bad } = judgeStructs(structs, next, kind, limits);
    if (bad !== null) sorted.refusals.push(bad);
    const start = (structs[0] as Struct).clock;
    if (start > next) sorted.gap ??= { client, clock: start, expected: next };
    else {
      if (next === 0) clients += 1;
      lanes.set(client, laneOf(block, first, upTo));
    }
  }
  return sorted;
}

function blockFault(
  block: Block,
  seen: ReadonlySet<number>,
  clients: number,
  limits: ScreenLimits,
): UpdateRefusal | null {
  if (seen.has(block.client)) return { type: "client-twice", client: block.client };
  if (block.structs.length === 0) return { type: "empty-block", client: block.client };
  return clients > limits.clients ? { type: "too-many-clients", limit: limits.clients } : null;
}

/** Known structs are judged too: a bad one says what its sender is, and costs nothing. */
function judgeStructs(structs: readonly Struct[], next: number, kind: RoomKind, limits: ScreenLimits) {
  let first = 0;
  for (const [index, struct] of structs.entries()) {
    const bad = structFault(struct, kind, limits);
    if (bad !== null) return { first: Math.min(first, index), upTo: index, bad };
    if (struct.clock + struct.length <= next) first = index + 1;
  }
  return { first, upTo: structs.length, bad: null };
}

/** Puts together what was placed, what stopped, and the deletions. */
function conclude(read: ReadUpdate, known: Known, sorted: Sorted, kind: RoomKind): Verdict {
  const { lanes, refusals } = sorted;
  let gap = sorted.gap;
  let fresh = 0;
  let whole = lanes.size === read.blocks.length;
  const spans: Span[] = [];
  const next = new Map<number, number>();
  for (const [client, lane] of lanes) {
    const { structs } = lane.block;
    const before = known.next(client);
    const from = structs.findIndex((struct) => struct.clock + struct.length > before);
    if (from >= 0 && from < lane.placed) {
      const last = structs[lane.placed - 1] as Struct;
      spans.push({ structs, from, to: lane.placed });
      next.set(client, last.clock + last.length);
      fresh += lane.placed - from;
    }
    if (from !== 0 || lane.placed < structs.length) whole = false;
    if (lane.stop?.type === "circle") {
      refusals.push({ type: "circle", client, clock: (structs[lane.placed] as Struct).clock });
    }
    if (lane.stop?.type === "missing") {
      const { origin } = lane.stop;
      gap ??= { ...origin, expected: next.get(origin.client) ?? known.next(origin.client) };
    }
  }
  const kept = judgeDeletions(read, kind, (client) => next.get(client) ?? known.next(client));
  if (kept.refusal !== null) refusals.push(kept.refusal);
  gap ??= kept.gap;
  whole &&= kept.deletions.length === read.deletions.length;
  const erases = kept.deletions.length > 0;
  const some = spans.length > 0 || erases;
  const accepted = !some ? null : whole ? read.bytes : cutUpdate(read.bytes, spans, kept.deletions);
  return { accepted, fresh, erases, next, refusals: refusals.slice(0, mostRefusals), gap };
}

/** A roster's values may be erased once they are there; a deletion ahead of its struct would erase what nobody has seen. */
function judgeDeletions(read: ReadUpdate, kind: RoomKind, next: (client: number) => number) {
  const first = read.deletions[0];
  const none = { deletions: [], refusal: null, gap: null };
  if (first === undefined) return none;
  if (kind === "ledger") return { ...none, refusal: { type: "deletion", ...first } as const };
  const ahead = read.deletions.find(({ client, clock, length }) => clock + length > next(client));
  if (ahead === undefined) return { ...none, deletions: read.deletions };
  const gap: Gap = { client: ahead.client, clock: ahead.clock + ahead.length, expected: next(ahead.client) };
  const deletions = read.deletions.filter(({ client, clock, length }) => clock + length <= next(client));
  return { deletions, refusal: null, gap };
}
