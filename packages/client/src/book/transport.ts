/**
 * The ledger document of an open book with its store and its wire: what is pushed, what has arrived and was not seen yet, what the
 * relay has stored. The relay refusing something we sent means this document holds what no relay will take, and something thrown while
 * an update was taken in, that it is spoilt: then a fresh one under a new client id takes its place and is filled from the vault, which
 * loses nothing.
 */
import * as Y from "yjs";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Connection, Wire, WireRefusal } from "../wire/connection.ts";
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
  push(envelope: Uint8Array): Place;
  /** From here on we write under a client id nobody has met. */
  renew(): void;
  holds(place: Place): boolean;
  isStored(place: Place | null): boolean;
  /** How many of these are not stored: asked of all entries with each change, so it makes nothing of them. */
  unstored(held: Iterable<{ readonly place: Place | null }>): number;
  connection(): Connection;
  isSynced(): boolean;
  /** To whoever is in the room at this moment. */
  say(bytes: Uint8Array): void;
  pause(): void;
  resume(): void;
  close(): Promise<void>;
}

export interface TransportDeps {
  readonly options: BookOptions;
  readonly epoch: EpochKeys;
  /** Places of the entries already in the vault. */
  readonly seen: () => readonly Place[];
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

/** A document is rebuilt at most this often while it is open: a relay that refuses whatever we send must not keep us busy. */
const MOST_REBUILDS = 3;

export function createTransport(deps: TransportDeps): Transport {
  const { options, epoch } = deps;
  let doc = new Y.Doc();
  let wire: Wire | null = null;
  let attached = false;
  let paused = false;
  let wasSynced = false;
  let rebuilds = 0;
  let rebuilding: Promise<void> = Promise.resolve();
  let closed = false;
  const seen: SeenUpTo = new Map();
  const givenUp = new Set<number>();
  for (const place of deps.seen()) markSeen(seen, place);

  async function attach(): Promise<void> {
    const { sound } = await options.ledgerStore.attach(doc);
    if (!sound) seen.clear();
    doc.on("update", (_update: Uint8Array, _origin: unknown, _doc: Y.Doc, transaction: Y.Transaction) => {
      if (!transaction.local) deps.arrived();
    });
    wire = openRoomWire(options, { kind: "ledger", signer: epoch.ledgerRoom, doc, dial: !paused });
    wire?.subscribe(onWire);
    wire?.onStored(deps.changed);
    wire?.onSaid(deps.heard);
    attached = true;
  }

  function isSynced(): boolean {
    const state = wire?.state();
    return state?.type === "live" && state.synced;
  }

  function onWire(): void {
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

  async function rebuild(): Promise<void> {
    rebuilds += 1;
    attached = false;
    const old = wire;
    wire = null;
    await old?.close();
    await options.ledgerStore.wipe();
    doc.destroy();
    doc = new Y.Doc();
    seen.clear();
    wasSynced = false;
    await attach();
  }

  return {
    attach,
    attached: () => attached,
    unseen: () => unseenEnvelopes(doc, seen),
    at: (place) => envelopeAt(doc, place),
    saw: (place) => markSeen(seen, place),
    push(envelope) {
      const [place] = pushEnvelopes(doc, [envelope]);
      if (place === undefined) throw new Error("one envelope has one place");
      markSeen(seen, place);
      return place;
    },
    renew,
    holds: (place) => holdsPlace(doc, place),
    isStored: (place) => place !== null && (wire?.stored().get(place.client) ?? 0) > place.clock,
    unstored(held) {
      const stored = wire?.stored();
      let [count, client, upTo] = [0, -1, 0];
      for (const { place } of held) {
        // Neighbours were most often written under one client id.
        if (place !== null && place.client !== client) {
          client = place.client;
          upTo = stored?.get(client) ?? 0;
        }
        if (place === null || place.clock >= upTo) count += 1;
      }
      return count;
    },
    connection: () => wire?.state() ?? { type: "offline" },
    isSynced,
    say: (bytes) => wire?.say(bytes),
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
      await options.ledgerStore.close();
      doc.destroy();
    },
  };
}

/** Something threw while an update was taken in: whatever the document is now, it is no longer to be relied on. */
const hasBroken = (state: Connection | undefined): boolean =>
  state?.type === "connecting" && state.fault?.type === "defect";

/** A full room stays full, however often it is filled. */
const isCuredByRebuilding = ({ by, refusal }: WireRefusal): boolean => by === "relay" && refusal.type !== "room-full";
