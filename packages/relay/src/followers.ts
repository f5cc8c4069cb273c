/**
 * Who follows which room, for any store: each listener gets history first and then what comes, without a gap and without hearing
 * twice. What is stored while history is being read waits, and what history already had is dropped by its number. Rejected: reading
 * first and listening after, which loses whatever is stored in between.
 */
import type { RoomKey, RoomListener } from "./storage.ts";
import { roomKeyText } from "./storage.ts";

export interface History {
  readonly updates: readonly Uint8Array[];
  /** The number of the last write in it, 0 for none. */
  readonly at: number;
}

export interface Followers {
  /** `read` is called when the listener is on the list already. Returns the way to stop. */
  follow(key: RoomKey, listener: RoomListener, read: () => Promise<History>): Promise<() => void>;
  /** Writes of one room come in the order of `at`. */
  tell(key: RoomKey, updates: readonly Uint8Array[], at: number): void;
  say(key: RoomKey, state: Uint8Array): void;
  /** Whether anybody follows the room. */
  has(key: RoomKey): boolean;
}

interface Follower {
  readonly listener: RoomListener;
  /** What came while history is being read; null after it was. */
  waiting: { readonly updates: readonly Uint8Array[]; readonly at: number }[] | null;
}

export function createFollowers(): Followers {
  const rooms = new Map<string, Set<Follower>>();
  const of = (key: RoomKey): Iterable<Follower> => rooms.get(roomKeyText(key)) ?? [];
  const remove = (name: string, one: Follower): void => {
    const all = rooms.get(name);
    all?.delete(one);
    if (all?.size === 0) rooms.delete(name);
  };
  return {
    follow: async (key, listener, read) => {
      const name = roomKeyText(key);
      const one: Follower = { listener, waiting: [] };
      rooms.set(name, (rooms.get(name) ?? new Set()).add(one));
      try {
        const { updates, at } = await read();
        listener.history(updates, at);
        const waited = one.waiting ?? [];
        one.waiting = null;
        for (const write of waited) if (write.at > at) listener.stored(write.updates, write.at);
      } catch (cause) {
        remove(name, one);
        throw cause;
      }
      return () => remove(name, one);
    },
    tell: (key, updates, at) => {
      for (const { waiting, listener } of of(key)) {
        if (waiting === null) listener.stored(updates, at);
        else waiting.push({ updates, at });
      }
    },
    say: (key, state) => {
      for (const { waiting, listener } of of(key)) if (waiting === null) listener.said(state);
    },
    has: (key) => rooms.has(roomKeyText(key)),
  };
}
