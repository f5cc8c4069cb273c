/**
 * Who follows which room, for any store: each listener gets history first and then what comes, without a gap and without hearing
 * twice. What is stored while history is being read waits, and what history already had is dropped by its number. Rejected: reading
 * first and listening after, which loses whatever is stored in between.
 */
import type { RoomKey, RoomListener } from "./storage.ts";
import { roomKeyText } from "./storage.ts";

/** Who is told of writes as a store has them. */
export interface Follower<T> {
  history(writes: readonly T[], at: number): void;
  stored(write: T, at: number): void;
  said(state: Uint8Array): void;
}

export interface History<T> {
  readonly writes: readonly T[];
  /** The number of the last write in it, 0 for none. */
  readonly at: number;
}

export interface Followers<T> {
  /** `read` is called when the follower is on the list already. Returns the way to stop. */
  follow(key: RoomKey, follower: Follower<T>, read: () => Promise<History<T>>): Promise<() => void>;
  /** Writes of one room come in the order of `at`. */
  tell(key: RoomKey, write: T, at: number): void;
  say(key: RoomKey, state: Uint8Array): void;
  /** Whether anybody follows the room. */
  has(key: RoomKey): boolean;
}

interface Place<T> {
  readonly follower: Follower<T>;
  /** What came while history is being read; null after it was. */
  waiting: { readonly write: T; readonly at: number }[] | null;
}

/** Where a write is a list of updates and all of them count. */
export const ofUpdates = (listener: RoomListener): Follower<readonly Uint8Array[]> => ({
  history: (writes, at) => listener.history(writes.flat(), at),
  stored: (updates, at) => listener.stored(updates, at),
  said: (state) => listener.said(state),
});

export function createFollowers<T>(): Followers<T> {
  const rooms = new Map<string, Set<Place<T>>>();
  const of = (key: RoomKey): Iterable<Place<T>> => rooms.get(roomKeyText(key)) ?? [];
  const remove = (name: string, one: Place<T>): void => {
    const all = rooms.get(name);
    all?.delete(one);
    if (all?.size === 0) rooms.delete(name);
  };
  return {
    follow: async (key, follower, read) => {
      const name = roomKeyText(key);
      const one: Place<T> = { follower, waiting: [] };
      rooms.set(name, (rooms.get(name) ?? new Set()).add(one));
      try {
        const { writes, at } = await read();
        follower.history(writes, at);
        const waited = one.waiting ?? [];
        one.waiting = null;
        for (const later of waited) if (later.at > at) follower.stored(later.write, later.at);
      } catch (cause) {
        remove(name, one);
        throw cause;
      }
      return () => remove(name, one);
    },
    tell: (key, write, at) => {
      for (const { waiting, follower } of of(key)) {
        if (waiting === null) follower.stored(write, at);
        else waiting.push({ write, at });
      }
    },
    say: (key, state) => {
      for (const { waiting, follower } of of(key)) if (waiting === null) follower.said(state);
    },
    has: (key) => rooms.has(roomKeyText(key)),
  };
}
