/**
 * LevelDB in a folder: one process, no server, pre-built for the machines we name, and `sync` writes that a killed process and a
 * lost supply of power leave whole. Rejected: SQLite (compiles for a minute on install) and one file per room (a write is not
 * atomic, and ten thousand rooms are ten thousand open files).
 *
 *     !id                                   the store's id
 *     <kind>/<room>/<number, 14 hex>        one update, numbered from 0 in each room
 */
import { ClassicLevel } from "classic-level";
import type { RoomKey, Storage } from "./storage.ts";
import { roomKeyText } from "./storage.ts";

type Db = ClassicLevel<string, Uint8Array>;

const durable = { sync: true } as const;

/** Opens or makes the store. `random` gives bytes for a new store's id. Rejects if another process has the folder open. */
export async function openLevelStorage(folder: string, random: (bytes: number) => Uint8Array): Promise<Storage> {
  const db: Db = new ClassicLevel(folder, { keyEncoding: "utf8", valueEncoding: "view" });
  await db.open();
  const id = await storeId(db, random);
  const numbers = new Map<string, Promise<{ next: number }>>();
  /** The room's next free number; asked of the disk once. */
  const numbersOf = (key: RoomKey): Promise<{ next: number }> => {
    const text = roomKeyText(key);
    const known = numbers.get(text) ?? lastNumber(db, key).then((last) => ({ next: last + 1 }));
    numbers.set(text, known);
    return known;
  };
  const probe = async (): Promise<void> => {
    const written = random(16);
    await db.put("!probe", written, durable);
    const read = await db.get("!probe");
    if (read === undefined || !Buffer.from(written).equals(read))
      throw new Error("the store does not give back what it was given");
  };
  return {
    id,
    load: async (key) => (await db.values(rangeOf(key)).all()).map((value) => new Uint8Array(value)),
    append: async (key, updates) => {
      const counter = await numbersOf(key);
      const first = counter.next;
      counter.next += updates.length;
      await db.batch(
        updates.map((value, index) => ({ type: "put", key: keyOf(key, first + index), value })),
        durable,
      );
    },
    replace: async (key, update) => {
      const counter = await numbersOf(key);
      const number = counter.next;
      counter.next += 1;
      const { gte, lte } = rangeOf(key);
      // LevelDB keeps what was removed until it tidies up; what was erased must not wait for that. It only tidies what lies in
      // files one above the other, so the old goes to a file before the removal and the two are merged after it.
      await db.compactRange(gte, lte);
      const old = await db.keys(rangeOf(key)).all();
      const removals = old.map((name) => ({ type: "del", key: name }) as const);
      await db.batch([...removals, { type: "put", key: keyOf(key, number), value: update }], durable);
      await db.compactRange(gte, lte);
    },
    probe,
    close: () => db.close(),
  };
}

const keyOf = (key: RoomKey, number: number): string => `${roomKeyText(key)}/${number.toString(16).padStart(14, "0")}`;

const rangeOf = (key: RoomKey) => ({ gte: `${roomKeyText(key)}/`, lte: `${roomKeyText(key)}/~` });

async function lastNumber(db: Db, key: RoomKey): Promise<number> {
  const [last] = await db.keys({ ...rangeOf(key), reverse: true, limit: 1 }).all();
  return last === undefined ? -1 : Number.parseInt(last.slice(-14), 16);
}

async function storeId(db: Db, random: (bytes: number) => Uint8Array): Promise<string> {
  const known = await db.get("!id");
  if (known !== undefined) return Buffer.from(known).toString("utf8");
  const made = Buffer.from(random(16)).toString("base64url");
  await db.put("!id", Buffer.from(made, "utf8"), durable);
  return made;
}
