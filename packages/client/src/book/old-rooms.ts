/**
 * Rooms of epochs that were left. For a while every device keeps an ear at them: what an honest device wrote there before it heard of
 * the change is carried over, and the signposts (`signposts.ts`) are put up again where a relay has lost them. Nothing else is ever
 * written there. Each room has a document of its own in memory, for what it holds is held already.
 */
import * as Y from "yjs";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Wire } from "../wire/connection.ts";
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
  readonly doc: Y.Doc;
  readonly wire: Wire;
  readonly seen: SeenUpTo;
  readonly texts: Set<string>;
  synced: boolean;
}

export function createOldRooms({ options, keysOf, take, signposts }: OldRoomsDeps): OldRooms {
  const rooms = new Map<string, OldRoom>();
  let paused = false;
  let queue: Promise<unknown> = Promise.resolve();
  const inTurn = (run: () => Promise<void>): void => {
    queue = queue.then(run).catch(() => undefined);
  };

  function open(keys: EpochKeys): void {
    const doc = new Y.Doc();
    const wire = openRoomWire(options, { kind: "ledger", signer: keys.ledgerRoom, doc, dial: !paused });
    if (wire === null) return;
    const room: OldRoom = { keys, doc, wire, seen: new Map(), texts: new Set(), synced: false };
    rooms.set(keys.room, room);
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

  async function listen(room: OldRoom): Promise<void> {
    const unseen = unseenEnvelopes(room.doc, room.seen);
    const opened: string[] = [];
    for (const { envelope } of unseen) {
      const texts = await openEnvelope(options.book, keysOf, envelope);
      if (Array.isArray(texts)) opened.push(...(texts as readonly string[]));
    }
    if (!(await take(opened))) return;
    for (const text of opened) room.texts.add(text);
    for (const { place } of unseen) markSeen(room.seen, place);
  }

  async function putUp(room: OldRoom): Promise<void> {
    if (!room.synced || !rooms.has(room.keys.room)) return;
    await listen(room);
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
    rooms.delete(room.keys.room);
    await room.wire.close();
    room.doc.destroy();
  }

  return {
    hear(wanted) {
      for (const keys of wanted) if (!rooms.has(keys.room)) open(keys);
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
