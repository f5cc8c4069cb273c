/**
 * A document's store in a browser: y-indexeddb. It applies what it finds without asking, so its rows are read and screened before
 * it may start; reading them twice costs some milliseconds and holds nothing twice in memory. Rejected: a second, unscreened
 * document beside the real one (every entry would be kept twice) and a store of our own (this one is well kept).
 */
import type { RoomKind } from "@sward/core";
import { deleteDB, openDB } from "idb";
import { IndexeddbPersistence } from "y-indexeddb";
import type { DocStore } from "./doc-store.ts";
import { storedUpdatesAreSound } from "./doc-store.ts";

export function createIdbDocStore(name: string, kind: RoomKind): DocStore {
  let persistence: IndexeddbPersistence | null = null;
  return {
    async attach(doc) {
      const sound = storedUpdatesAreSound(await storedRows(name), kind);
      if (!sound) await deleteDB(name);
      persistence = new IndexeddbPersistence(name, doc);
      await persistence.whenSynced;
      return { sound };
    },
    async wipe() {
      await persistence?.destroy();
      persistence = null;
      await deleteDB(name);
    },
    async close() {
      await persistence?.destroy();
      persistence = null;
    },
  };
}

/** The rows y-indexeddb keeps, oldest first; none when it has not been here. */
async function storedRows(name: string): Promise<Uint8Array[]> {
  let isNew = false;
  try {
    const db = await openDB(name, undefined, {
      upgrade(_db, _from, _to, tx) {
        // Making the database is y-indexeddb's business: it makes its stores only in a database it has made itself.
        isNew = true;
        tx.done.catch(() => undefined);
        tx.abort();
      },
    });
    const rows = (await db.getAll("updates")) as Uint8Array[];
    db.close();
    return rows;
  } catch (fault) {
    if (isNew) return [];
    throw fault;
  }
}
