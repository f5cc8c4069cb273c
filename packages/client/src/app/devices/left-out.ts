/** Entries set aside that somebody at this device has decided to leave out: no longer listed, here alone. They count for nothing anyway. */
import { signal } from "@preact/signals";
import type { BookId, EntryId } from "@sward/core";

const keyOf = (book: BookId): string => `sward/left-out/${book}`;

const changes = signal(0);

export function leftOut(book: BookId, store: Storage = localStorage): ReadonlySet<string> {
  changes.value;
  try {
    const kept: unknown = JSON.parse(store.getItem(keyOf(book)) ?? "[]");
    return new Set(Array.isArray(kept) ? kept.filter((one) => typeof one === "string") : []);
  } catch {
    return new Set();
  }
}

/** @param entries all that are left out from here on */
export function leaveOut(book: BookId, entries: Iterable<EntryId | string>, store: Storage = localStorage): void {
  store.setItem(keyOf(book), JSON.stringify([...entries]));
  changes.value += 1;
}
