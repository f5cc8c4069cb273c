/**
 * Rooms of epochs that were left. For a while every device keeps an ear at them: what an honest device wrote there before it heard of
 * the change is carried over, and the signposts (`signposts.ts`) are put up again where a relay has lost them. Nothing else is ever
 * written there. Each room has a document of its own in memory, for what it holds is held already.
 *
 * Of a ledger that went through several volumes the first and the last are listened to: there somebody looks who comes from the words on
 * paper, and somebody who was away. The way from one to the other is gone anew each time, since nothing of it is kept.
 */
import * as Y from "yjs";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Signer } from "../keys/signer.ts";
import type { Wire } from "../wire/connection.ts";
import { readClosing } from "./closing.ts";
import type { SeenUpTo } from "./ledger-doc.ts";
import { markSeen, pushEnvelopes, unseenEnvelopes } from "./ledger-doc.ts";
import type { BookOptions } from "./options.ts";
import { openRoomWire } from "./room-wire.ts";
import { blocksOf, openEnvelope, seal } from "./seal.ts";

export interface OldRooms {
  /** Listens at these, and at no others. */
  hear(rooms: readonly EpochKeys[]): void;
  /** Puts up what is missing: there may be more signposts than before. */
  tend(): void;
  pause(): void;
  resume(): void;
  close(): Promise<void>;
}

export interface OldRoomsDeps {
  readonly options: Pick<BookOptions, "book" | "relay" | "randomBytes" | "entriesPerBlock">;
  readonly keysOf: (epoch: number) => EpochKeys | undefined;
  /** Texts of entries that lie there; false when they cannot be kept at present. */
  readonly take: (texts: readonly string[]) => Promise<boolean>;
  /** Texts that belong in the room of an epoch. */
  readonly signposts: (epoch: number) => readonly string[];
}

interface OldRoom {
  readonly keys: EpochKeys;
  readonly volume: number;
  readonly doc: Y.Doc;
  readonly wire: Wire;
  readonly seen: SeenUpTo;
  readonly texts: Set<string>;
  synced: boolean;
  /** In the next volume. */
  goesOn: boolean;
}

const nameOf = (keys: EpochKeys, volume: number): string => `${keys.room} ${volume}`;

export function createOldRooms({ options, keysOf, take, signposts }: OldRoomsDeps): OldRooms {
  const rooms = new Map<string, OldRoom>();
  let paused = false;
  let queue: Promise<unknown> = Promise.resolve();
  const inTurn = (run: () => Promise<void>): void => {
    queue = queue.then(run).catch(() => undefined);
  };

  function open(keys: EpochKeys, volume: number, signer: Signer): void {
    const doc = new Y.Doc();
    const wire = openRoomWire(options, { kind: "ledger", signer, doc, dial: !paused });
    if (wire === null) return;
    const room: OldRoom = { keys, volume, doc, wire, seen: new Map(), texts: new Set(), synced: false, goesOn: false };
    rooms.set(nameOf(keys, volume), room);
    doc.on("update", (_update: Uint8Array, _origin: unknown, _doc: Y.Doc, transaction: Y.Transaction) => {
      if (!transaction.local) inTurn(() => listen(room));
    });
    wire.subscribe(() => {
      const state = wire.state();
      const synced = state.type === "live" && state.synced;
      const isNew = synced && !room.synced;
      room.synced = synced;
      if (isNew) inTurn(() => putUp(room));
    });
  }

  /** To the next volume; and away from the one before, unless that is the first. */
  async function goOn({ keys, volume }: OldRoom): Promise<void> {
    const next = await keys.ledgerVolume(volume + 1);
    if (!rooms.has(nameOf(keys, volume + 1))) open(keys, volume + 1, next);
    const before = rooms.get(nameOf(keys, volume - 1));
    if (before !== undefined && volume > 1) await shut(before);
  }

  async function listen(room: OldRoom): Promise<void> {
    const unseen = unseenEnvelopes(room.doc, room.seen);
    const opened: string[] = [];
    for (const { envelope } of unseen) {
      const texts = await openEnvelope(options.book, keysOf, envelope);
      if (Array.isArray(texts)) opened.push(...(texts as readonly string[]));
    }
    const entries = opened.filter((text) => readClosing(text) === null);
    if (!(await take(entries))) return;
    for (const text of entries) room.texts.add(text);
    for (const { place } of unseen) markSeen(room.seen, place);
    if (entries.length === opened.length || !rooms.has(nameOf(room.keys, room.volume))) return;
    room.goesOn = true;
    await goOn(room);
  }

  async function putUp(room: OldRoom): Promise<void> {
    if (!room.synced || !rooms.has(nameOf(room.keys, room.volume))) return;
    await listen(room);
    if (room.goesOn && room.volume > 0) return;
    const missing = signposts(room.keys.epoch).filter((text) => !room.texts.has(text));
    if (missing.length === 0) return;
    const blocks = blocksOf(missing, (text) => text.length, options.entriesPerBlock);
    const envelopes = await Promise.all(
      blocks.map((block) => seal(options.book, room.keys, block, options.randomBytes)),
    );
    // At once: whoever finds half of them might take it for all there is.
    for (const place of pushEnvelopes(room.doc, envelopes)) markSeen(room.seen, place);
    for (const text of missing) room.texts.add(text);
  }

  async function shut(room: OldRoom): Promise<void> {
    rooms.delete(nameOf(room.keys, room.volume));
    await room.wire.close();
    room.doc.destroy();
  }

  return {
    hear(wanted) {
      for (const keys of wanted) if (!rooms.has(nameOf(keys, 0))) open(keys, 0, keys.ledgerRoom);
      for (const room of [...rooms.values()]) {
        if (!wanted.some((keys) => keys.room === room.keys.room)) inTurn(() => shut(room));
      }
    },
    tend() {
      for (const room of rooms.values()) inTurn(() => putUp(room));
    },
    pause() {
      paused = true;
      for (const { wire } of rooms.values()) wire.pause();
    },
    resume() {
      paused = false;
      for (const { wire } of rooms.values()) wire.resume();
    },
    async close() {
      inTurn(async () => {
        for (const room of [...rooms.values()]) await shut(room);
      });
      await queue;
    },
  };
}
