/**
 * A store that forgets when the process ends: for tests, and for a relay that is only a meeting place. Copies what it is given,
 * as a disk would.
 */
import type { Storage } from "./storage.ts";
import { roomKeyText } from "./storage.ts";

export function createMemoryStorage(id: string): Storage {
  const rooms = new Map<string, Uint8Array[]>();
  return {
    id,
    load: async (key) => (rooms.get(roomKeyText(key)) ?? []).map((update) => update.slice()),
    append: async (key, updates) => {
      const copies = updates.map((update) => update.slice());
      rooms.set(roomKeyText(key), [...(rooms.get(roomKeyText(key)) ?? []), ...copies]);
    },
    replace: async (key, update) => {
      rooms.set(roomKeyText(key), [update.slice()]);
    },
    probe: async () => undefined,
    close: async () => undefined,
  };
}
