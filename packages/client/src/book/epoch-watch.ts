/** Notices among what arrives the few entries that bear on a book's epochs, so that the rest costs nothing. */
import type { Counted, KeyId, Kind } from "@sward/core";
import { recallEntries } from "./recall.ts";
import type { HeldEntry } from "./vault.ts";

const bearing: ReadonlySet<string> = new Set<Kind>([
  "book-opened",
  "club-admitted",
  "device-admitted",
  "device-barred",
  "epoch-opened",
]);

export interface EpochWatch {
  /** These are known: what they say was read in another way. `openers`: who has opened an epoch. */
  know(entries: Iterable<HeldEntry>, openers: Iterable<KeyId>): void;
  /** Whether any of those not looked at before does, or is by somebody who has opened an epoch: his chain may have forked. */
  bears(entries: Iterable<HeldEntry>): boolean;
  barredByUs(devices: readonly KeyId[], counted: Iterable<Counted>): boolean;
}

export function createEpochWatch(device: KeyId): EpochWatch {
  let looked = 0;
  const openers = new Set<KeyId>();
  return {
    know(entries, authors) {
      looked = [...entries].length;
      for (const author of authors) openers.add(author);
    },
    bears(entries) {
      const fresh: HeldEntry[] = [];
      let at = 0;
      for (const entry of entries) if (at++ >= looked) fresh.push(entry);
      looked = at;
      let found = false;
      for (const entry of recallEntries(fresh).values()) {
        if (entry.kind === "epoch-opened") openers.add(entry.author);
        found ||= bearing.has(entry.kind) || (openers.has(entry.author) && entry.author !== device);
      }
      return found;
    },
    barredByUs(devices, counted) {
      for (const { entry } of counted) {
        if (entry.kind === "device-barred" && entry.author === device && devices.includes(entry.body.device))
          return true;
      }
      return false;
    },
  };
}
