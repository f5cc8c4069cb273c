/**
 * One volume of an open book's ledger, the document with its store and its wire: what is pushed, what has arrived and was not seen yet, what the
 * relay has stored. The relay refusing something we sent means this document holds what no relay will take, and something thrown while
 * an update was taken in, that it is spoilt: then a fresh one under a new client id takes its place and is filled from the vault, which
 * loses nothing.
 */
import type { StateVector, Steps } from "@sward/core";
import * as Y from "yjs";
import type { Signer } from "../keys/signer.ts";
import type { Connection, Wire, WireRefusal } from "../wire/connection.ts";
import { inSteps, neverBreathe } from "./breathing.ts";
import type { DocStore } from "./doc-store.ts";
import type { PlacedEnvelope, SeenUpTo } from "./ledger-doc.ts";
import { envelopeAt, holdsPlace, markSeen, pushEnvelopes, unseenEnvelopes } from "./ledger-doc.ts";
import type { BookOptions } from "./options.ts";
import { openRoomWire } from "./room-wire.ts";
import type { Place } from "./vault.ts";

export interface Transport {
  /** Loads the document and dials. */
  attach(): Promise<void>;
  attached(): boolean;
  unseen(): PlacedEnvelope[];
  /** The envelope in one place, if the document has it. */
  at(place: Place): Uint8Array | undefined;
  saw(place: Place): void;
  /** Into the volume that is written in, or, where one is named, into that. */
  push(envelope: Uint8Array, volume?: number): Place;
  /** From here on we write under a client id nobody has met. */
  renew(): void;
  holds(place: Place): boolean;
  /** Clocks below this are at the relay, of the client id under which this one lies. */
  storedUpTo(place: Place): number;
  connection(): Connection;
  isSynced(): boolean;
  /** To whoever is in the room at this moment. */
  say(bytes: Uint8Array): void;
  /** As it is now; another document and wire after a rebuilding. */
  inside(): Inside;
  pause(): void;
  resume(): void;
  close(): Promise<void>;
}

export interface Inside {
  readonly doc: Y.Doc;
  /** Null where no relay is met. */
  readonly wire: Wire | null;
  /** What the relay had stored when we came this time; null until it has said so. */
  readonly greeting: StateVector | null;
  /** Nothing that was ever seen here is missing; false where that cannot be said without a look at each place. */
  isWhole(): boolean;
}

export interface TransportDeps {
  readonly options: BookOptions;
  readonly volume: number;
  readonly room: Signer;
  readonly store: DocStore;
  /** Places of the entries already in the vault. */
  readonly seen: () => Iterable<Place>;
  /** Something lies in the document unseen. */
  readonly arrived: () => void;
  readonly changed: () => void;
  /** Everything the relay had has been read. */
  readonly synced: () => void;
  /** Somebody else writes under a client id of ours, which was given up: what lies under it must be handed over again. */
  readonly taken: (client: number) => void;
  /** Somebody in the room said something. */
  readonly heard: (bytes: Uint8Array) => void;
}

/** So often an id that somebody else took is given up for a new one at once; after that it is found out in time (`heads-exchange.ts`). */
const MOST_RENEWALS = 8;

/** So many entries are marked as seen before others may have their turn. */
const MARKED_A_STEP = 128;

/** A document is rebuilt at most this often while it is open: a relay that refuses whatever we send must not keep us busy. */
const MOST_REBUILDS = 3;

export function createTransport(deps: TransportDeps): Transport {
  const { options, volume, room, store } = deps;
  const here = (place: Place): Place => (volume === 0 ? place : { ...place, volume });
  let doc = new Y.Doc();
  let wire: Wire | null = null;
  let attached = false;
  let paused = false;
  let wasSynced = false;
  /** What was known to be stored when the connection came about, until the relay has said what it has. */
  let before: StateVector | null = null;
  let greeting: StateVector | null = null;
  let rebuilds = 0;
  let rebuilding: Promise<void> = Promise.resolve();
  let closed = false;
  const seen: SeenUpTo = new Map();
  /** What lay here before is not among what was seen. */
  let hasForgotten = false;
  const givenUp = new Set<number>();
  let isMarked = false;

  function* marking(): Steps<void> {
    let many = 0;
    for (const place of deps.seen()) {
      markSeen(seen, place);
      many += 1;
      if (many % MARKED_A_STEP === 0) yield;
    }
  }

  async function attach(): Promise<void> {
    if (!isMarked) await inSteps(marking(), options.breathe ?? neverBreathe);
    isMarked = true;
    // Meanwhile: and its store must not be opened once more.
    if (closed) return;
    const { sound } = await store.attach(doc);
    if (!sound) forget();
    doc.on("update", (_update: Uint8Array, _origin: unknown, _doc: Y.Doc, transaction: Y.Transaction) => {
      if (!transaction.local) deps.arrived();
    });
    wire = openRoomWire(options, { kind: "ledger", signer: room, doc, dial: !paused });
    wire?.subscribe(onWire);
    wire?.onStored(() => {
      greet();
      deps.changed();
    });
    wire?.onSaid(deps.heard);
    attached = true;
  }

  function isSynced(): boolean {
    const state = wire?.state();
    return state?.type === "live" && state.synced;
  }

  function greet(): void {
    const stored = wire?.stored() ?? null;
    if (wire?.state().type !== "live") before = stored;
    else if (before !== null && (before !== stored || isSynced())) [greeting, before] = [stored, null];
  }

  function onWire(): void {
    greet();
    const synced = isSynced();
    if (synced && !wasSynced) deps.synced();
    wasSynced = synced;
    for (const client of wire?.taken() ?? []) {
      if (givenUp.has(client) || givenUp.size >= MOST_RENEWALS) continue;
      givenUp.add(client);
      if (doc.clientID === client) renew();
      deps.taken(client);
    }
    const isSpoilt = wire?.refusals().some(isCuredByRebuilding) || hasBroken(wire?.state());
    if (isSpoilt && rebuilds < MOST_REBUILDS && !closed) rebuilding = rebuild();
    deps.changed();
  }

  function renew(): void {
    doc.clientID = new DataView(options.randomBytes(4).slice().buffer).getUint32(0);
  }

  function forget(): void {
    seen.clear();
    hasForgotten = true;
  }

  const isWhole = (): boolean =>
    !hasForgotten && [...seen].every(([client, upTo]) => holdsPlace(doc, { client, clock: upTo - 1 }));

  async function rebuild(): Promise<void> {
    rebuilds += 1;
    attached = false;
    const old = wire;
    wire = null;
    await old?.close();
    await store.wipe();
    doc.destroy();
    doc = new Y.Doc();
    forget();
    wasSynced = false;
    greeting = null;
    await attach();
  }

  return {
    attach,
    attached: () => attached,
    unseen: () => unseenEnvelopes(doc, seen).map(({ place, envelope }) => ({ place: here(place), envelope })),
    at: (place) => envelopeAt(doc, place),
    saw: (place) => markSeen(seen, place),
    push(envelope) {
      const [place] = pushEnvelopes(doc, [envelope]);
      if (place === undefined) throw new Error("one envelope has one place");
      markSeen(seen, place);
      return here(place);
    },
    renew,
    holds: (place) => holdsPlace(doc, place),
    storedUpTo: ({ client }) => wire?.stored().get(client) ?? 0,
    connection: () => wire?.state() ?? { type: "offline" },
    isSynced,
    say: (bytes) => wire?.say(bytes),
    inside: () => ({ doc, wire, greeting, isWhole }),
    pause() {
      paused = true;
      wire?.pause();
    },
    resume() {
      paused = false;
      wire?.resume();
    },
    async close() {
      closed = true;
      // One that is under way would open the store again behind us.
      await rebuilding.catch(() => undefined);
      attached = false;
      await wire?.close();
      await store.close();
      doc.destroy();
    },
  };
}

/** Something threw while an update was taken in: whatever the document is now, it is no longer to be relied on. */
const hasBroken = (state: Connection | undefined): boolean =>
  state?.type === "connecting" && state.fault?.type === "defect";

/** A full room stays full, however often it is filled. */
const isCuredByRebuilding = ({ by, refusal }: WireRefusal): boolean => by === "relay" && refusal.type !== "room-full";
