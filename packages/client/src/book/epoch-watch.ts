/** Notices among what arrives the few entries that bear on a book's epochs, so that the rest costs nothing. */
import type { Counted, KeyId, Kind } from "@sward/core";
import type { Book } from "./book.ts";
import { recallEntries } from "./recall.ts";
import type { HeldEntry } from "./vault.ts";

const bearing: ReadonlySet<string> = new Set<Kind>([
  "book-opened",
  "club-admitted",
  "device-admitted",
  "device-barred",
  "epoch-opened",
]);

/** A book's entries, of which there are ever more, in the order in which they came. */
export type Held = Pick<Book, "entries" | "held">;

export interface EpochWatch {
  /** What is held by now is known: what it says was read in another way. `openers`: who has opened an epoch. */
  know(held: Held, openers: Iterable<KeyId>): void;
  /** Whether any of those not looked at before does, or is by somebody who has opened an epoch: his chain may have forked. */
  bears(held: Held): boolean;
  barredByUs(devices: readonly KeyId[], counted: Iterable<Counted>): boolean;
}

export function createEpochWatch(device: KeyId): EpochWatch {
  let looked = 0;
  /** Where the last look ended: asked with every change, in a record that may be long. */
  let end: { readonly of: Held; readonly values: Iterator<HeldEntry>; at: number } | null = null;
  const openers = new Set<KeyId>();

  /** Those that came after the first so many. A book that was opened anew is gone through from its beginning, once. */
  function after(held: Held, many: number): readonly HeldEntry[] {
    if (end?.of !== held || many < end.at) end = { of: held, values: held.entries()[Symbol.iterator](), at: 0 };
    const fresh: HeldEntry[] = [];
    // Never past the last: who has been told that there are no more is told so for ever.
    for (const size = held.held(); end.at < size; end.at += 1) {
      const next = end.values.next();
      if (next.done !== true && end.at >= many) fresh.push(next.value);
    }
    return fresh;
  }

  return {
    know(held, authors) {
      looked = held.held();
      for (const author of authors) openers.add(author);
    },
    bears(held) {
      const fresh = after(held, looked);
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
