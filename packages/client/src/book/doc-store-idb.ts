/**
 * A document's store in a browser: its updates in IndexedDB, in order. Rows are read and screened before any is applied. What cannot
 * be written is written with the whole document when something can be written again; nothing here throws into the document, whose
 * later listeners (the wire to the relay) would then not hear of an edit. Written with relaxed durability, since the vault is strict:
 * an update lost in a crash is fetched again, or pushed again.
 *
 * A start tells beforehand that it will attach: then the database is opened while the vault is read. Its rows are read when it is
 * attached: read sooner, they hold up what a page shows first.
 *
 * Rejected: y-indexeddb, used here before: it applies what it finds unasked, throws into the document when the browser has closed its
 * database, and leaves what was erased in the database's files (`idb-sweep.ts`).
 */
import type { RoomKind } from "@sward/core";
import type { DBSchema, IDBPDatabase } from "idb";
import type * as Y from "yjs";
import { neverBreathe } from "./breathing.ts";
import type { DocStore } from "./doc-store.ts";
import type { KeptDb } from "./idb-open.ts";
import { openKept } from "./idb-open.ts";
import { readInPortions, rowsIn } from "./idb-portions.ts";

export interface Schema extends DBSchema {
  readonly updates: { readonly key: number; readonly value: Uint8Array };
}

/** Of a roster: more rows than this and attaching rewrites them as one, which leaves out what it has lost. */
const ROWS_BEFORE_REWRITE = 500;

/** Read in one go. */
const BYTES_AT_ONCE = 512 * 1024;

const relaxed = { durability: "relaxed" } as const;

/** How long the script that reads rows is waited for, in milliseconds: what is saved waits behind it. */
const LATER_WITHIN = 5_000;

/** Needed after the first view. Null where it does not come: then what is stored is left unread, for vault and relay have it too. */
function fetchLater(): Promise<typeof import("./stored-idb.ts") | null> {
  const late = new Promise<null>((give) => setTimeout(give, LATER_WITHIN, null));
  return Promise.race([import("./stored-idb.ts").catch(() => null), late]);
}

/** Not fetched with the first view; whoever has a document to attach has fetched it. */
const withYjs = (): Promise<typeof Y> => import("yjs");

/** Seldom needed, so not among what a start has to fetch. */
const deleteForGood = async (name: string): Promise<void> => (await import("./idb-sweep.ts")).deleteForGood(name);

/** `givenUp`: another tab needs the database in another form. */
export function createIdbDocStore(
  name: string,
  kind: RoomKind,
  givenUp: () => void = () => undefined,
  breathe = neverBreathe,
): DocStore {
  let opening: Promise<KeptDb<Schema>> | null = null;
  let db: KeptDb<Schema> | null = null;
  let release = (): void => undefined;
  let writing: Promise<void> = Promise.resolve();
  let waiting: Uint8Array[] = [];
  /** Rows are missing: the next write is of the whole document. */
  let gap = false;
  let again = (): void => undefined;

  const open = (): Promise<KeptDb<Schema>> =>
    openKept<Schema>(name, {
      version: 1,
      upgrade: (fresh) => void fresh.createObjectStore("updates", { autoIncrement: true }),
      givenUp,
      // It may have come back empty.
      reopened: () => {
        gap = true;
        again();
        return Promise.resolve();
      },
    });

  async function opened(): Promise<KeptDb<Schema>> {
    opening ??= open();
    try {
      db = await opening;
      return db;
    } catch (cause) {
      opening = null;
      throw cause;
    }
  }

  async function shut(): Promise<void> {
    const was = opening;
    opening = db = null;
    (await was?.catch(() => null))?.close();
  }

  async function readAll(open: IDBPDatabase<Schema>): Promise<Uint8Array[]> {
    const all: Uint8Array[] = [];
    await readInPortions(
      rowsIn(open, "updates"),
      (rows) => {
        all.push(...rows);
        return rows.reduce((sum, row) => sum + row.length, 0);
      },
      BYTES_AT_ONCE,
    );
    return all;
  }

  async function write(doc: Y.Doc): Promise<void> {
    const rows = waiting;
    waiting = [];
    if (db === null || (rows.length === 0 && !gap)) return;
    try {
      await db.run(async (open) => {
        // Before the transaction, which is over when nothing is asked of it for a moment.
        const whole = gap ? (await withYjs()).encodeStateAsUpdate(doc) : null;
        const tx = open.transaction("updates", "readwrite", relaxed);
        // Should it be given up between two rows, the next one throws before anybody has waited for the whole.
        tx.done.catch(() => undefined);
        if (whole !== null) void tx.store.clear().catch(() => undefined);
        for (const row of whole === null ? rows : [whole]) void tx.store.add(row).catch(() => undefined);
        await tx.done;
        if (whole !== null) gap = false;
      });
    } catch {
      gap = true;
    }
  }

  function detach(): Promise<void> {
    release();
    release = () => undefined;
    again = () => undefined;
    return writing;
  }

  return {
    prepare() {
      void opened().catch(() => undefined);
    },
    async attach(doc) {
      gap = false;
      const updates = await (await opened()).run(readAll);
      const later = updates.length === 0 ? null : await fetchLater();
      const sound = later === null || (await later.fill(doc, updates, kind, name, breathe));
      if (!sound) {
        await shut();
        await deleteForGood(name);
        await opened();
      }
      const isFilled = (await withYjs()).encodeStateVector(doc).length > 1;
      const isWorn = kind === "roster" && updates.length > ROWS_BEFORE_REWRITE;
      gap ||= isFilled && (!sound || updates.length === 0 || isWorn);
      again = () => {
        writing = writing.then(() => write(doc));
      };
      const keep = (update: Uint8Array): void => {
        waiting.push(update);
        again();
      };
      doc.on("update", keep);
      release = () => doc.off("update", keep);
      if (gap) await write(doc);
      else if (later !== null && kind === "ledger")
        writing = writing
          .then(async () => {
            if (db !== null && !(await later.tidy(db, relaxed, updates, breathe))) gap = true;
            await write(doc);
          })
          .catch(() => undefined);
      return { sound, rows: updates.length };
    },
    async wipe() {
      await detach();
      await shut();
      await deleteForGood(name);
    },
    async close() {
      await detach();
      await shut();
    },
  };
}
