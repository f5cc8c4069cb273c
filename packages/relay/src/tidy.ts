/**
 * A ledger that came in thousands of small writes is written again as a few long pages, when it is opened: it then opens in a fraction
 * of the time, and takes a fraction of the disk. Nothing is dropped. The pages are made from the document that was just read,
 * a second document is filled from the pages through the same screen, and only if the two say the same is one put in the place of the
 * other, in a single write, over exactly what was read. Rejected: leaving it to a store that merges bytes it does not understand.
 */
import { pagesOf } from "@sward/core";
import * as Y from "yjs";
import { fillDocument } from "./fill.ts";
import type { RoomKey, Storage } from "./storage.ts";

/** Fewer writes than this are not worth the work. */
const fewest = 1000;

/** Whether so many writes of so many bytes in all are worth it: many, and short beside a page. */
export const isUntidy = (writes: number, bytes: number, pageBytes: number): boolean =>
  writes >= fewest && bytes / writes < pageBytes / 8;

/** Resolves with whether it was done. Rejects if the store could not, or if the pages would not say the same. */
export async function tidyLedger(
  key: RoomKey,
  doc: Y.Doc,
  at: number,
  storage: Storage,
  pageBytes: number,
): Promise<boolean> {
  const whole = Y.encodeStateAsUpdate(doc);
  const pages = pagesOf(whole, pageBytes);
  const copy = new Y.Doc();
  fillDocument(copy, key.kind, pages);
  const same = Buffer.from(Y.encodeStateAsUpdate(copy)).equals(whole);
  copy.destroy();
  if (!same) throw new Error("the pages do not say what the room says");
  return storage.replace(key, pages, at);
}
