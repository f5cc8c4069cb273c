/**
 * Which rooms are in memory. A room is read once however many callers arrive at the same time, stays while anybody is in it and
 * a while longer, and goes only when nothing of it is being written and still nobody has come: the two races (a room read
 * while it is being put away, or put away while it is being read) that lose updates silently elsewhere.
 */
import type { RelayEvent } from "./events.ts";
import type { Allowance } from "./limits/allowance.ts";
import { createAllowance } from "./limits/allowance.ts";
import { createBudget } from "./limits/budget.ts";
import type { Room, RoomLimits } from "./room.ts";
import { openRoom } from "./room.ts";
import type { RoomKey, Storage } from "./storage.ts";
import { roomKeyText } from "./storage.ts";

/** A caller's hold on a room; the room stays in memory at least until it is released. */
export interface Lease {
  readonly room: Room;
  /** Bytes that may be written to the room, whoever sends them. */
  readonly allowance: Allowance;
  release(): void;
}

export interface Rooms {
  /** Rejects if the room cannot be read; the next caller tries again. */
  enter(key: RoomKey): Promise<Lease>;
  readonly inMemory: number;
  /** Resolves when no room has anything left to write. */
  settled(): Promise<void>;
}

interface Held {
  readonly opening: Promise<Room>;
  readonly allowance: Allowance;
  leases: number;
}

export interface RoomsLimits extends RoomLimits {
  /** Bytes a second that one room takes, after ten seconds' worth at once. */
  readonly roomBytesPerSecond: number;
  /** Rooms read from the store at the same time. */
  readonly readings: number;
}

export function createRooms(
  storage: Storage,
  limits: RoomsLimits,
  idleMilliseconds: number,
  log: (event: RelayEvent) => void,
): Rooms {
  const held = new Map<string, Held>();
  const readings = createBudget(limits.readings);

  const read = async (key: RoomKey): Promise<Room> => {
    const done = await readings.take(1);
    try {
      return await openRoom(key, storage, limits, log);
    } finally {
      done();
    }
  };
  const hold = (key: RoomKey): Held => {
    const perSecond = limits.roomBytesPerSecond;
    return { opening: read(key), allowance: createAllowance(10 * perSecond, perSecond), leases: 0 };
  };

  const putAway = async (name: string, one: Held): Promise<void> => {
    const room = await one.opening;
    await room.settled();
    if (one.leases > 0 || held.get(name) !== one) return;
    held.delete(name);
    room.close();
  };

  const release = (name: string, one: Held): void => {
    one.leases -= 1;
    if (one.leases > 0) return;
    setTimeout(() => {
      if (one.leases === 0) void putAway(name, one);
    }, idleMilliseconds).unref();
  };

  return {
    enter: async (key) => {
      const name = roomKeyText(key);
      const one = held.get(name) ?? hold(key);
      held.set(name, one);
      one.leases += 1;
      try {
        const room = await one.opening;
        let released = false;
        return {
          room,
          allowance: one.allowance,
          release: () => {
            if (!released) release(name, one);
            released = true;
          },
        };
      } catch (cause) {
        one.leases -= 1;
        if (held.get(name) === one) held.delete(name);
        throw cause;
      }
    },
    get inMemory() {
      return held.size;
    },
    settled: async () => {
      await Promise.all([...held.values()].map(async ({ opening }) => (await opening.catch(() => null))?.settled()));
    },
  };
}
