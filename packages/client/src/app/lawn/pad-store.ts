/**
 * Where pads are kept: in localStorage, one record a pad, under the device that keeps it. A write there is done when the call
 * returns, so a tap is kept before the screen shows it. Rejected: IndexedDB (answers later, and a page that is closed in between
 * has lost the tap) and one record for all pads (a fault in one would cost all).
 *
 * A pad is not part of the club's record until its result is saved as a match.
 */
import type { KeyId } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import { replay } from "./game.ts";
import { Pad } from "./pad.ts";

/** What is used of the browser's Storage. */
export type PadStorage = Pick<Storage, "getItem" | "setItem" | "removeItem" | "key" | "length">;

export interface PadStore {
  /** Every pad this version can read, the one begun last first. */
  list(): readonly Pad[];
  read(id: string): Pad | null;
  /** False when the browser would not keep it: a reload would lose the tap. */
  write(pad: Pad): boolean;
  drop(id: string): void;
}

/** Pads whose result is saved are kept for looking back on, but not for ever: the match is in the record. */
const MOST_SAVED = 10;

export function padStoreOf(device: KeyId, storage: PadStorage): PadStore {
  const prefix = `sward/lawn/${device}/`;
  const read = (id: string): Pad | null => parsePad(storage.getItem(prefix + id));
  const list = (): readonly Pad[] => {
    const pads: Pad[] = [];
    for (let at = 0; at < storage.length; at++) {
      const key = storage.key(at);
      const pad = key?.startsWith(prefix) ? read(key.slice(prefix.length)) : null;
      if (pad !== null) pads.push(pad);
    }
    return pads.sort((a, b) => b.begun - a.begun || byCodeUnits(a.id, b.id));
  };
  const drop = (id: string): void => storage.removeItem(prefix + id);
  return {
    list,
    read,
    drop,
    write(pad) {
      try {
        storage.setItem(prefix + pad.id, JSON.stringify(pad));
      } catch {
        return false;
      }
      const saved = list().filter((one) => one.saved && one.id !== pad.id);
      for (const old of saved.slice(MOST_SAVED)) drop(old.id);
      return true;
    },
  };
}

/** Null for what no version of ours wrote. Taps that cannot follow each other are left off from the first of them on. */
function parsePad(text: string | null): Pad | null {
  if (text === null) return null;
  try {
    const read = Pad.safeParse(JSON.parse(text));
    if (!read.success) return null;
    const { setup, events } = read.data;
    return { ...read.data, events: events.slice(0, replay(setup, events).kept) };
  } catch {
    return null;
  }
}
