/**
 * What is done with the rows that a document's store in a browser has read: they are judged and applied, and, where they have become many
 * short ones, put together (`stored-rows.ts`). Apart from the store, since a page fetches it after the first view.
 */
import type { RoomKind } from "@sward/core";
import type * as Y from "yjs";
import type { Breathe } from "./breathing.ts";
import { inSteps } from "./breathing.ts";
import type { Schema } from "./doc-store-idb.ts";
import type { KeptDb } from "./idb-open.ts";
import { fillingStored } from "./judging.ts";
import type { Rewritten } from "./stored-rows.ts";
import { isUntidy, rewritingRows } from "./stored-rows.ts";

/** @returns false, and nothing applied, where they do not pass the screen */
export const fill = (
  doc: Y.Doc,
  rows: readonly Uint8Array[],
  kind: RoomKind,
  origin: unknown,
  breathe: Breathe,
): Promise<boolean> => inSteps(fillingStored(doc, rows, kind, origin), breathe);

/**
 * Puts short rows of a ledger together and takes long ones apart, where there are many or any.
 * @returns false where they cannot be put together: then the whole document is to be written, which the next start takes apart
 */
export async function tidy(
  db: KeptDb<Schema>,
  durability: IDBTransactionOptions,
  rows: readonly Uint8Array[],
  breathe: Breathe,
): Promise<boolean> {
  if (!isUntidy(rows)) return true;
  let anew: readonly Rewritten[] = [];
  try {
    anew = await inSteps(rewritingRows(rows), breathe);
  } catch {
    return false;
  }
  await db.run(async (open) => {
    const tx = open.transaction("updates", "readwrite", durability);
    tx.done.catch(() => undefined);
    const keys = await tx.store.getAllKeys();
    for (const { from, to, rows: some } of anew) {
      const [first, last] = [keys[from], keys[to - 1]];
      // The browser has thrown rows away in the meantime.
      if (first === undefined || last === undefined) break;
      void tx.store.delete(IDBKeyRange.bound(first, last)).catch(() => undefined);
      // In the place of the first, for each goes on where the one before it ended; a key may lie between two whole numbers.
      for (const [at, row] of some.entries()) void tx.store.put(row, first + at / some.length).catch(() => undefined);
    }
    await tx.done;
  });
  return true;
}
