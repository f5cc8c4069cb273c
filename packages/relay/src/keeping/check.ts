/**
 * Reads a store from end to end, as a relay reads it when somebody enters, and says what a relay could not serve, and of what it could
 * the digest: what two stores say of one room can be laid side by side (`compare.ts`).
 */
import { createHash } from "node:crypto";
import { roomRoots } from "@sward/core";
import * as Y from "yjs";
import { createDigester, linksOfDocument } from "../digest.ts";
import { fillDocument } from "../fill.ts";
import type { Storage } from "../storage.ts";
import { roomKeyText } from "../storage.ts";

/** What a room holds. Equal `state`: what should be the same. Equal `digest`: what is. Both base64url of 32 bytes. */
export interface RoomContents {
  /** The SHA-256 of its state vector. */
  readonly state: string;
  readonly digest: string;
}

export interface StoreReport {
  readonly store: string;
  readonly rooms: number;
  readonly updates: number;
  readonly bytes: number;
  /** In ledgers. */
  readonly envelopes: number;
  /** Rooms that a caller would find closed, and why. */
  readonly damaged: readonly { readonly room: string; readonly cause: string }[];
  /** Why not everything could be read, null when it was. */
  readonly unread: string | null;
  /** By room, of those that could be read. */
  readonly contents: Readonly<Record<string, RoomContents>>;
}

/** Never rejects; changes nothing. */
export async function checkStore(storage: Storage): Promise<StoreReport> {
  const damaged: { room: string; cause: string }[] = [];
  let [rooms, updates, bytes, envelopes] = [0, 0, 0, 0];
  const contents: Record<string, RoomContents> = {};
  let unread: string | null = null;
  try {
    for await (const { key, updates: all } of storage.rooms()) {
      rooms += 1;
      updates += all.length;
      const doc = new Y.Doc();
      try {
        bytes += fillDocument(doc, key.kind, all);
        if (key.kind === "ledger") envelopes += doc.getArray(roomRoots.ledger).length;
        const { vector, digest } = await createDigester(
          () => Y.encodeStateVector(doc),
          (from) => linksOfDocument(doc, from),
          key.kind,
        )();
        const state = createHash("sha256").update(vector).digest("base64url");
        contents[roomKeyText(key)] = { state, digest: Buffer.from(digest).toString("base64url") };
      } catch (cause) {
        damaged.push({ room: roomKeyText(key), cause: String(cause) });
      }
      doc.destroy();
    }
  } catch (cause) {
    unread = String(cause);
  }
  return { store: storage.id, rooms, updates, bytes, envelopes, damaged, unread, contents };
}
