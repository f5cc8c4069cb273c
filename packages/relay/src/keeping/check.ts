/** Reads a store from end to end, as a relay reads it when somebody enters, and says what a relay could not serve. */
import { roomRoots } from "@sward/core";
import * as Y from "yjs";
import { fillDocument } from "../fill.ts";
import type { Storage } from "../storage.ts";
import { roomKeyText } from "../storage.ts";

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
}

/** Never rejects; changes nothing. */
export async function checkStore(storage: Storage): Promise<StoreReport> {
  const damaged: { room: string; cause: string }[] = [];
  let [rooms, updates, bytes, envelopes] = [0, 0, 0, 0];
  let unread: string | null = null;
  try {
    for await (const { key, updates: all } of storage.rooms()) {
      rooms += 1;
      updates += all.length;
      const doc = new Y.Doc();
      try {
        bytes += fillDocument(doc, key.kind, all);
        if (key.kind === "ledger") envelopes += doc.getArray(roomRoots.ledger).length;
      } catch (cause) {
        damaged.push({ room: roomKeyText(key), cause: String(cause) });
      }
      doc.destroy();
    }
  } catch (cause) {
    unread = String(cause);
  }
  return { store: storage.id, rooms, updates, bytes, envelopes, damaged, unread };
}
