/**
 * A store that forgets when the process ends: for tests, and for a relay that is only a meeting place. Copies what it is given,
 * as a disk would.
 */
import { createFollowers, ofUpdates } from "./followers.ts";
import type { RoomKey, Storage } from "./storage.ts";
import { roomKeyText } from "./storage.ts";

export function createMemoryStorage(id: string): Storage {
  const rooms = new Map<string, { readonly key: RoomKey; updates: Uint8Array[]; at: number }>();
  const followers = createFollowers<readonly Uint8Array[]>();
  const roomOf = (key: RoomKey) => rooms.get(roomKeyText(key)) ?? { key, updates: [], at: 0 };
  const copies = (updates: readonly Uint8Array[]): Uint8Array[] => updates.map((update) => update.slice());
  const put = (key: RoomKey, updates: readonly Uint8Array[], keep: readonly Uint8Array[]): void => {
    const at = roomOf(key).at + updates.length;
    rooms.set(roomKeyText(key), { key, updates: [...keep, ...copies(updates)], at });
    followers.tell(key, copies(updates), at);
  };
  let name = id;
  let renewals = 0;
  return {
    get id() {
      return name;
    },
    renew: async () => {
      renewals += 1;
      name = `${id}-${renewals}`;
    },
    tidies: true,
    load: async (key) => copies(roomOf(key).updates),
    follow: (key, listener) =>
      followers.follow(key, ofUpdates(listener), async () => {
        const { updates, at } = roomOf(key);
        return { writes: [copies(updates)], at };
      }),
    append: async (key, updates) => put(key, updates, roomOf(key).updates),
    replace: async (key, updates, over) => {
      if (roomOf(key).at !== over) return false;
      put(key, updates, []);
      return true;
    },
    say: followers.say,
    rooms: async function* () {
      for (const { key, updates } of [...rooms.values()]) yield { key, updates: copies(updates) };
    },
    probe: async () => undefined,
    close: async () => undefined,
  };
}
