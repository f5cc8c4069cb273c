/**
 * The vault in a browser: IndexedDB through `idb`. A write counts as done when its transaction has completed with strict
 * durability, not when the request succeeded: a full disk aborts the transaction afterwards.
 */
import type { DBSchema, IDBPDatabase } from "idb";
import { openDB } from "idb";
import type { Vault, VaultRecord } from "./vault.ts";

interface Schema extends DBSchema {
  readonly records: { readonly key: number; readonly value: VaultRecord };
  readonly roster: { readonly key: string; readonly value: Uint8Array };
}

const strict = { durability: "strict" } as const;

/** `closed` is called when the browser closes the database under us: the vault must be opened anew. */
export async function openIdbVault(name: string, closed: () => void): Promise<Vault> {
  const db: IDBPDatabase<Schema> = await openDB<Schema>(name, 1, {
    upgrade(fresh) {
      fresh.createObjectStore("records", { autoIncrement: true });
      fresh.createObjectStore("roster");
    },
    terminated: closed,
  });
  return {
    load: () => db.getAll("records"),
    async append(record) {
      const tx = db.transaction("records", "readwrite", strict);
      void tx.store.add(record).catch(() => undefined);
      await tx.done;
    },
    async replace(records) {
      const tx = db.transaction("records", "readwrite", strict);
      void tx.store.clear().catch(() => undefined);
      for (const record of records) void tx.store.add(record).catch(() => undefined);
      await tx.done;
    },
    async loadRoster() {
      const tx = db.transaction("roster");
      const [keys, values] = await Promise.all([tx.store.getAllKeys(), tx.store.getAll()]);
      return new Map(keys.map((key, place) => [key, values[place] as Uint8Array]));
    },
    async saveRoster(changes) {
      const tx = db.transaction("roster", "readwrite", strict);
      for (const [about, envelope] of changes) void tx.store.put(envelope, about).catch(() => undefined);
      await tx.done;
    },
    close: () => Promise.resolve(db.close()),
  };
}
