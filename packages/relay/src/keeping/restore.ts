/**
 * Puts a backup into a store by the same door as callers: each update is screened, stored, and passed on to whoever is in the room. So
 * a relay may be running and in use, what is there already is not stored again, and what a roster has erased since stays erased.
 * Afterwards the store goes by a new id, by which every device knows that something may be missing and fills in what it has.
 */
import { frameTypes, pagesOf } from "@sward/core";
import type { Caller } from "../jobs.ts";
import type { RoomLimits } from "../room.ts";
import type { Lease, Rooms } from "../rooms.ts";
import type { Storage } from "../storage.ts";
import { roomKeyText } from "../storage.ts";
import type { SavedUpdate } from "./backup.ts";

export interface Restored {
  readonly rooms: number;
  readonly updates: number;
  /** How often a room refused something: what was damaged in the store that was backed up, or does not fit in any more. */
  readonly refused: number;
  /** The store's id from now on. */
  readonly store: string;
}

/** Rejects when the store does not take it, or with what `saved` throws; what came before that is in the store. */
export async function restoreInto(
  storage: Storage,
  rooms: Rooms,
  limits: RoomLimits,
  saved: AsyncIterable<SavedUpdate>,
): Promise<Restored> {
  const seen = new Set<string>();
  let [updates, refused] = [0, 0];
  const inside: { name: string; lease: Lease | null } = { name: "", lease: null };
  let out = false;
  const caller: Caller = {
    send: (frame) => {
      // What exactly was wrong is in the log.
      if (frame[0] === frameTypes.refusal) refused += 1;
    },
    close: () => {
      out = true;
    },
  };
  const underway = new Set<Promise<void>>();
  const settle = async (most: number): Promise<void> => {
    while (underway.size > most) await Promise.race(underway);
    if (out) throw new Error("the store did not take what was to be restored");
  };
  try {
    for await (const { key, update } of saved) {
      const name = roomKeyText(key);
      if (inside.name !== name) {
        await settle(0);
        inside.lease?.release();
        inside.lease = null;
        inside.lease = await rooms.enter(key);
        inside.name = name;
        seen.add(name);
      }
      const room = inside.lease?.room;
      if (room === undefined) throw new Error("no room");
      updates += 1;
      const pages = update.length > limits.pageBytes ? pagesOf(update, limits.pageBytes) : [update];
      for (const page of pages) {
        const writing = room.write(caller, page, "salvage").then(() => void underway.delete(writing));
        underway.add(writing);
      }
      await settle(mostUnderway);
    }
    await settle(0);
  } finally {
    inside.lease?.release();
  }
  await storage.renew();
  return { rooms: seen.size, updates, refused, store: storage.id };
}

/** Updates handed to a room and not stored yet: enough for its writes to be long ones. */
const mostUnderway = 256;
