/**
 * Removing a database so that nothing of it stays in the browser's files. Chromium keeps IndexedDB in LevelDB, where what was deleted
 * stays until files that lie one above the other are merged: a value and its deletion in one file stay there together for months.
 * Deleting a database asks for a merge, but of the files there are at that moment. So a small database is made and deleted before (what
 * is in memory goes to a file) and twice after (the deletion goes to a file of its own, and the two are merged). Measured with
 * Chromium 156: without it the bytes were found after closing and opening the browser; with it they were gone at once, and the tests
 * look at the files. Firefox and Safari keep each database in a file of its own, which goes with it.
 *
 * Rejected: deleting the values, clearing the store, writing over the values (all three leave the bytes, measured), and sealing names
 * under a key that is thrown away (the key would lie in the same files).
 */
import { deleteDB, openDB } from "idb";

const SWEEP = "sward/sweep";

async function sweep(): Promise<void> {
  (await openDB(SWEEP, 1)).close();
  await deleteDB(SWEEP);
}

export async function deleteForGood(name: string): Promise<void> {
  await sweep();
  await deleteDB(name);
  await sweep();
  await sweep();
}
