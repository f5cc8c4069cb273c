/**
 * A document's store under Node: its updates in LevelDB, in order. Not synced to the disk, since the vault is: an update lost in a
 * crash is fetched again, or pushed again.
 */
import type { RoomKind } from "@sward/core";
import { atOnce } from "@sward/core";
import { ClassicLevel } from "classic-level";
import * as Y from "yjs";
import type { DocStore } from "./doc-store.ts";
import { fillingStored } from "./judging.ts";

/** More rows than this and attaching rewrites them as one. */
const ROWS_BEFORE_REWRITE = 500;

const FIRST = "0";
const LAST = ":";
const rowKey = (row: number): string => String(row).padStart(12, "0");

export function createLevelDocStore(folder: string, kind: RoomKind): DocStore {
  const db = new ClassicLevel<string, Uint8Array>(folder, { keyEncoding: "utf8", valueEncoding: "view" });
  let release = (): void => undefined;
  let writing: Promise<void> = Promise.resolve();
  return {
    // It opens by itself.
    prepare: () => undefined,
    async attach(doc) {
      if (db.status !== "open") await db.open();
      const rows = await db.iterator().all();
      const updates = rows.map(([, update]) => update);
      const sound = atOnce(fillingStored(doc, updates, kind, db));
      let next = Number(rows.at(-1)?.[0] ?? -1) + 1;
      const isUnwritten = rows.length === 0 && Y.encodeStateVector(doc).length > 1;
      const isLong = sound && rows.length > ROWS_BEFORE_REWRITE;
      const whole = isUnwritten || isLong ? Y.encodeStateAsUpdate(doc) : null;
      const rewriting = (async () => {
        if (!sound || isLong) await db.clear();
        if (whole !== null) await db.put(rowKey(next++), whole);
      })();
      writing = rewriting.catch(() => undefined);
      // Listening before anything is waited for: what arrives meanwhile would be in no row.
      const keep = (update: Uint8Array): void => {
        // A row that could not be written leaves a gap, which the screen finds at the next start.
        writing = writing.then(() => db.put(rowKey(next++), update)).catch(() => undefined);
      };
      doc.on("update", keep);
      release = () => doc.off("update", keep);
      await rewriting;
      return { sound, rows: rows.length };
    },
    async wipe() {
      release();
      await writing;
      if (db.status !== "open") await db.open();
      // What was cleared stays in LevelDB's files until they are merged, and only files one above the other are.
      await db.compactRange(FIRST, LAST);
      await db.clear();
      await db.compactRange(FIRST, LAST);
    },
    async close() {
      release();
      await writing;
      await db.close();
    },
  };
}
