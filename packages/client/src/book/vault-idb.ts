/**
 * The vault in a browser: IndexedDB through `idb`. A write counts as done when its transaction has completed with strict
 * durability, not when the request succeeded: a full disk aborts the transaction afterwards.
 *
 * A browser may throw away what a site keeps, even while it is open. What this vault has read and written is still in memory then, so
 * when the database comes back with less in it than there was, all of it is written again, before anything else is, and the device is
 * told. Rejected: going on with an empty one (what no relay had yet would be gone at the next start).
 */
import type { DBSchema, IDBPDatabase } from "idb";
import { unwrap } from "idb";
import { inSteps, neverBreathe } from "./breathing.ts";
import { openKept } from "./idb-open.ts";
import { readInPortions, rowsIn } from "./idb-portions.ts";
import type { NamesPointer } from "./names-idb.ts";
import { openNames } from "./names-idb.ts";
import type { Vault, VaultRecord } from "./vault.ts";
import { createRecordReader, encodeRecord } from "./vault-record.ts";

interface Schema extends DBSchema {
  /** A text, or a record as it was first written: as objects. */
  readonly records: { readonly key: number; readonly value: string | VaultRecord };
  /** Where the roster's copy is: one value. */
  readonly roster: { readonly key: "at"; readonly value: NamesPointer };
}

const strict = { durability: "strict" } as const;

export interface IdbVaultEvents {
  /** Another tab needs the database in another form: this vault takes nothing more. */
  readonly givenUp: () => void;
  /** The browser had thrown the record away, and it was written again from memory. */
  readonly putBack: () => void;
  /** Milliseconds between looks whether it is still there, for a browser need not say; 20 seconds if not given. */
  readonly lookEvery?: number;
}

const LOOK_MS = 20_000;

/** Read in one go. */
const ENTRIES_AT_ONCE = 500;

/** @throws StorageError when the browser gives no storage */
export async function openIdbVault(
  name: string,
  { givenUp, putBack, lookEvery = LOOK_MS }: IdbVaultEvents,
  breathe = neverBreathe,
): Promise<Vault> {
  /** What is in the database, as far as it was read or written here: the very objects that the book holds, so nothing twice. */
  let held: readonly VaultRecord[] = [];
  let pointer: NamesPointer = { at: 0, tidy: true };
  const kept = await openKept<Schema>(name, {
    // 2: records are texts, which code that knows only objects must not meet. 3: in them are columns, which code before them cannot read.
    version: 3,
    upgrade(fresh) {
      if (fresh.objectStoreNames.contains("records")) return;
      fresh.createObjectStore("records", { autoIncrement: true });
      fresh.createObjectStore("roster");
    },
    givenUp,
    async reopened(db) {
      if ((await db.count("records")) >= held.length) return;
      const tx = db.transaction(["records", "roster"], "readwrite", strict);
      tx.done.catch(() => undefined);
      void tx
        .objectStore("records")
        .clear()
        .catch(() => undefined);
      for (const record of held)
        void tx
          .objectStore("records")
          .add(encodeRecord(record))
          .catch(() => undefined);
      void tx
        .objectStore("roster")
        .put(pointer, "at")
        .catch(() => undefined);
      await tx.done;
      putBack();
      void names.look().catch(() => undefined);
    },
  });

  const point = (next: NamesPointer): Promise<void> =>
    kept.run(async (db) => {
      const tx = db.transaction("roster", "readwrite", strict);
      void tx.store.put(next, "at").catch(() => undefined);
      await tx.done;
      pointer = next;
    });

  pointer = (await kept.run((db) => db.get("roster", "at"))) ?? pointer;
  const names = await openNames({ name, pointer, point, givenUp });

  async function look(): Promise<void> {
    await kept.run((db) => db.count("records"));
    await names.look();
  }
  const looking = setInterval(() => void look().catch(() => undefined), lookEvery);

  /** As the browser has it: what `idb` puts round a transaction takes a phone as long as signing what is written. */
  const append = (db: IDBPDatabase<Schema>, record: VaultRecord): Promise<void> =>
    new Promise((done, failed) => {
      const tx = unwrap(db).transaction("records", "readwrite", strict);
      tx.oncomplete = () => done();
      tx.onerror = tx.onabort = () => failed(tx.error ?? new DOMException("given up", "AbortError"));
      tx.objectStore("records").add(encodeRecord(record));
      try {
        // Nothing more comes: else it would be asked for when the page hears that it was added, a way there and back later.
        tx.commit();
      } catch {
        // It was given up in the meantime, and we are told why.
      }
    });

  async function readAll(db: IDBPDatabase<Schema>): Promise<VaultRecord[]> {
    const all: VaultRecord[] = [];
    const read = createRecordReader();
    await readInPortions(
      rowsIn(db, "records"),
      async (rows) => {
        let many = 0;
        for (const row of rows) {
          const record = await inSteps(read(row), breathe);
          all.push(record);
          many += record.entries.length;
        }
        return many;
      },
      ENTRIES_AT_ONCE,
    );
    return all;
  }

  return {
    async load() {
      held = await kept.run(readAll);
      return held;
    },
    async append(record) {
      await kept.run((db) => append(db, record));
      held = [...held, record];
    },
    async replace(records) {
      // Before the transaction, which is over when nothing is asked of it for a moment.
      const texts: string[] = [];
      for (const record of records) {
        texts.push(encodeRecord(record));
        const breath = breathe();
        if (breath !== null) await breath;
      }
      await kept.run(async (db) => {
        const tx = db.transaction("records", "readwrite", strict);
        // Should it be given up between two records, the next one throws before anybody has waited for the whole.
        tx.done.catch(() => undefined);
        void tx.store.clear().catch(() => undefined);
        for (const text of texts) void tx.store.add(text).catch(() => undefined);
        await tx.done;
      });
      held = records;
    },
    loadRoster: () => names.load(),
    saveRoster: (changes, gone = []) => names.save(changes, gone),
    async close() {
      clearInterval(looking);
      kept.close();
      names.close();
    },
  };
}
