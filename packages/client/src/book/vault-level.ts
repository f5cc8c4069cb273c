/**
 * The vault under Node: LevelDB, each write synced to the disk before it counts. Records have ascending keys, so that reading in
 * key order is reading in the order of writing.
 */
import { atOnce } from "@sward/core";
import { ClassicLevel } from "classic-level";
import type { Vault, VaultRecord } from "./vault.ts";
import { createRecordReader, encodeRecord } from "./vault-record.ts";

const RECORD = "record/";
const ROSTER = "roster/";
const PAST = "~";
const synced = { sync: true } as const;

/** What is read together: of a large book what its texts take would else be there three times before a word of it is read. */
const RECORDS_AT_ONCE = 1_000;
const BYTES_AT_ONCE = 16 * 1024 * 1024;

const recordKey = (place: number): string => `${RECORD}${String(place).padStart(12, "0")}`;

/** `folder` is made when it is not there. */
export async function openLevelVault(folder: string): Promise<Vault> {
  const db = new ClassicLevel<string, Uint8Array>(folder, { keyEncoding: "utf8", valueEncoding: "view" });
  await db.open();
  const [last] = await db.keys({ gte: RECORD, lt: RECORD + PAST, reverse: true, limit: 1 }).all();
  let next = last === undefined ? 0 : Number(last.slice(RECORD.length)) + 1;

  const encode = (record: VaultRecord): Uint8Array => new TextEncoder().encode(encodeRecord(record));

  return {
    async load() {
      const [read, decoder] = [createRecordReader(), new TextDecoder()];
      const all: VaultRecord[] = [];
      const values = db.values({ gte: RECORD, lt: RECORD + PAST, highWaterMarkBytes: BYTES_AT_ONCE });
      try {
        for (;;) {
          const some = await values.nextv(RECORDS_AT_ONCE);
          if (some.length === 0) return all;
          for (const bytes of some) all.push(atOnce(read(decoder.decode(bytes))));
        }
      } finally {
        await values.close();
      }
    },
    async append(record) {
      const key = recordKey(next);
      next += 1;
      await db.put(key, encode(record), synced);
    },
    async replace(records) {
      const old = await db.keys({ gte: RECORD, lt: RECORD + PAST }).all();
      const puts = records.map((record) => ({ type: "put" as const, key: recordKey(next++), value: encode(record) }));
      await db.batch([...old.map((key) => ({ type: "del" as const, key })), ...puts], synced);
    },
    async loadRoster() {
      const rows = await db.iterator({ gte: ROSTER, lt: ROSTER + PAST }).all();
      return new Map(rows.map(([key, value]) => [key.slice(ROSTER.length), value]));
    },
    async saveRoster(changes, gone = []) {
      // LevelDB keeps what was removed until it merges files that lie one above the other: so the old goes to a file before the
      // removal, and the two are merged after it.
      if (gone.length > 0) await db.compactRange(ROSTER, ROSTER + PAST);
      const removals = gone.map((about) => ({ type: "del" as const, key: ROSTER + about }));
      const puts = [...changes].map(([about, value]) => ({ type: "put" as const, key: ROSTER + about, value }));
      await db.batch([...removals, ...puts], synced);
      if (gone.length > 0) await db.compactRange(ROSTER, ROSTER + PAST);
    },
    close: () => db.close(),
  };
}
