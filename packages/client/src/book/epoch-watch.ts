/** Notices among what arrives the few entries that bear on a book's epochs, so that the rest costs nothing. */
import type { Counted, KeyId, Kind } from "@sward/core";
import type { Book } from "./book.ts";
import { recallEntries } from "./recall.ts";

const bearing: ReadonlySet<string> = new Set<Kind>([
  "book-opened",
  "club-admitted",
  "device-admitted",
  "device-barred",
  "epoch-opened",
]);

export type Held = Pick<Book, "held" | "since">;

export interface EpochWatch {
  /** What is held by now is known: what it says was read in another way. `openers`: who has opened an epoch. */
  know(held: Held, openers: Iterable<KeyId>): void;
  /** Whether any of those not looked at before does, or is by somebody who has opened an epoch: his chain may have forked. */
  bears(held: Held): boolean;
  barredByUs(devices: readonly KeyId[], counted: Iterable<Counted>): boolean;
}

export function createEpochWatch(device: KeyId): EpochWatch {
  let looked = 0;
  const openers = new Set<KeyId>();

  return {
    know(held, authors) {
      looked = held.held();
      for (const author of authors) openers.add(author);
    },
    bears(held) {
      const fresh = held.since(looked);
      looked = held.held();
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
