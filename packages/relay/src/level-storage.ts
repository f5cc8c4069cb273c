/**
 * LevelDB in a folder: one process, no server, pre-built for the machines we name, and `sync` writes that a killed process and a
 * lost supply of power leave whole. Rejected: SQLite (compiles for a minute on install) and one file per room (a write is not
 * atomic, and ten thousand rooms are ten thousand open files).
 *
 *     !id                                   the store's id
 *     <kind>/<room>/<number, 14 hex>        one update, numbered from 0 in each room
 *
 * After a write that failed LevelDB goes on behind the torn record as if it were whole, and may not find what it wrote there when it
 * is opened again (its log's block offset has moved, the file has not). So nothing is written after a failure until the store was
 * closed and opened: that is the moment at which LevelDB itself tells what is there.
 */
import type { RoomName } from "@sward/core";
import { ClassicLevel } from "classic-level";
import type { History } from "./followers.ts";
import { createFollowers, ofUpdates } from "./followers.ts";
import { createGroupCommit } from "./group-commit.ts";
import type { RoomKey, Storage } from "./storage.ts";
import { roomKeyText } from "./storage.ts";

type Db = ClassicLevel<string, Uint8Array>;
type Operation = { readonly type: "put"; readonly key: string; readonly value: Uint8Array } | Removal;
type Removal = { readonly type: "del"; readonly key: string };

/** Where a room stands. Numbers are never given twice, so a write that failed leaves a hole between `stored` and `next`. */
interface Counter {
  next: number;
  stored: number;
  readonly writing: Set<Promise<void>>;
}

/** A counter is in memory while somebody follows the room or uses it: a room that nobody is in costs nothing. */
interface Held {
  readonly counting: Promise<Counter>;
  counter: Counter | null;
  users: number;
}

const durable = { sync: true } as const;

/** Opens or makes the store. `random` gives bytes for a new store's id. Rejects if another process has the folder open. */
export async function openLevelStorage(folder: string, random: (bytes: number) => Uint8Array): Promise<Storage> {
  const db: Db = new ClassicLevel(folder, { keyEncoding: "utf8", valueEncoding: "view" });
  await db.open();
  let id = await storeId(db, random);
  const followers = createFollowers<readonly Uint8Array[]>();
  const counters = new Map<string, Held>();
  let sound = true;
  let closed = false;

  /** Asked of the disk once; `last` is the number of the last update that is there. */
  const hold = (key: RoomKey, last: Promise<number>): Held => {
    const counting = last.then((last) => ({
      next: last + 1,
      stored: last + 1,
      writing: new Set<Promise<void>>(),
    }));
    const held: Held = { counting, counter: null, users: 0 };
    counting.then(
      (counter) => {
        held.counter = counter;
      },
      () => counters.delete(roomKeyText(key)),
    );
    return held;
  };
  /** One that a failed write has left a hole in stays: what the disk says of its last number may be no more than half the truth. */
  const letGo = (key: RoomKey): void => {
    const text = roomKeyText(key);
    const held = counters.get(text);
    if (!held?.counter || held.users > 0 || followers.has(key)) return;
    if (held.counter.next === held.counter.stored) counters.delete(text);
  };
  const use = async <T>(key: RoomKey, act: (counter: Counter) => Promise<T>, last?: Promise<number>): Promise<T> => {
    const text = roomKeyText(key);
    const held = counters.get(text) ?? hold(key, last ?? lastNumber(db, key));
    counters.set(text, held);
    held.users += 1;
    try {
      return await act(await held.counting);
    } finally {
      held.users -= 1;
      letGo(key);
    }
  };
  /** What LevelDB kept of the writes that failed, if anything, is told as if it had just been written. */
  const reopen = async (): Promise<void> => {
    await db.close();
    await db.open();
    for (const [text, { counting }] of [...counters]) {
      const key = keyOfText(text);
      const counter = await counting;
      const rest = await db.values({ ...rangeOf(key), gte: keyOf(key, counter.stored) }).all();
      counter.stored = Math.max(counter.stored, (await lastNumber(db, key)) + 1);
      counter.next = Math.max(counter.next, counter.stored);
      if (rest.length > 0) followers.tell(key, rest.map(viewed), counter.stored);
    }
    sound = true;
  };
  const commit = createGroupCommit<Operation>(async (operations) => {
    if (!sound && !closed) await reopen();
    try {
      await db.batch([...operations], durable);
    } catch (cause) {
      sound = false;
      throw cause;
    }
  });
  const put = async (key: RoomKey, counter: Counter, removals: readonly Removal[], updates: readonly Uint8Array[]) => {
    const first = counter.next;
    const at = first + updates.length;
    counter.next = at;
    const copies = updates.map(plain);
    const puts = copies.map((value, index) => ({ type: "put", key: keyOf(key, first + index), value }) as const);
    const bytes = copies.reduce((sum, { length }) => sum + length, 0);
    await commit([...removals, ...puts], bytes);
    counter.stored = Math.max(counter.stored, at);
    followers.tell(key, copies, at);
  };
  const write = async (...given: Parameters<typeof put>): Promise<void> => {
    const { writing } = given[1];
    const one = put(...given);
    writing.add(one);
    await one.finally(() => writing.delete(one));
  };
  /** Whether the room still stands where the caller thinks, once nothing is being written. */
  const standsAt = async (counter: Counter, over: number): Promise<boolean> => {
    while (counter.writing.size > 0) await Promise.allSettled(counter.writing);
    return counter.stored === over;
  };
  const read = (key: RoomKey): Promise<History<readonly Uint8Array[]>> => {
    if (counters.has(roomKeyText(key))) return use(key, ({ stored }) => entriesOf(db, key).then(historyOver(stored)));
    // Nothing of it is written before it is counted, and what is read says how much there is.
    const reading = entriesOf(db, key);
    return use(key, ({ stored }) => reading.then(historyOver(stored)), reading.then(lastOf));
  };
  const replaceOver = async (key: RoomKey, counter: Counter, updates: readonly Uint8Array[], over: number) => {
    if (!(await standsAt(counter, over))) return false;
    const { gte, lte } = rangeOf(key);
    // LevelDB keeps what was removed until it tidies up; what was erased must not wait for that. It only tidies what lies in
    // files one above the other, so the old goes to a file before the removal and the two are merged after it.
    if (key.kind === "roster") await db.compactRange(gte, lte);
    const old = await db.keys(rangeOf(key)).all();
    if (!(await standsAt(counter, over))) return false;
    const removals = old.map((name) => ({ type: "del", key: name }) as const);
    await write(key, counter, removals, updates);
    if (key.kind === "roster") await db.compactRange(gte, lte);
    return true;
  };
  return {
    get id() {
      return id;
    },
    renew: async () => {
      const made = madeId(random);
      await commit([{ type: "put", key: "!id", value: Buffer.from(made, "utf8") }], made.length);
      id = made;
    },
    tidies: true,
    load: async (key) => (await read(key)).writes.flat(),
    follow: async (key, listener) => {
      const stop = await followers.follow(key, ofUpdates(listener), () => read(key));
      return () => {
        stop();
        letGo(key);
      };
    },
    append: (key, updates) => use(key, (counter) => write(key, counter, [], updates)),
    replace: (key, updates, over) => use(key, (counter) => replaceOver(key, counter, updates, over)),
    say: followers.say,
    rooms: () => roomsOf(db),
    probe: async () => {
      const written = random(16);
      await commit([{ type: "put", key: "!probe", value: written }], written.length);
      const got = await db.get("!probe");
      if (got === undefined || !Buffer.from(written).equals(got))
        throw new Error("the store does not give back what it was given");
    },
    close: async () => {
      closed = true;
      await db.close();
    },
  };
}

/** An array of its own, of the plain type: Yjs takes a Buffer for something else than bytes. */
const plain = (value: Uint8Array): Uint8Array => new Uint8Array(value);

/** What was read has memory of its own already. */
const viewed = ({ buffer, byteOffset, length }: Uint8Array): Uint8Array => new Uint8Array(buffer, byteOffset, length);

const keyOf = (key: RoomKey, number: number): string => `${roomKeyText(key)}/${number.toString(16).padStart(14, "0")}`;

const numberOf = (name: string): number => Number.parseInt(name.slice(-14), 16);

const keyOfText = (text: string): RoomKey => {
  const [kind, room] = text.split("/");
  return { kind: kind === "roster" ? "roster" : "ledger", room: room as RoomName };
};

const rangeOf = (key: RoomKey) => ({ gte: `${roomKeyText(key)}/`, lte: `${roomKeyText(key)}/~` });

type Entry = readonly [name: string, value: Uint8Array];

/** Each step of an iterator is a trip to another thread and back: few and long ones. */
const readAtOnce = { highWaterMarkBytes: 1024 * 1024 } as const;
const entriesAtOnce = 1000;

/** Nobody waits for the iterator to be closed, which is another such trip. */
async function entriesOf(db: Db, key: RoomKey): Promise<readonly Entry[]> {
  const iterator = db.iterator({ ...rangeOf(key), ...readAtOnce });
  try {
    const entries: Entry[] = [];
    for (;;) {
      const more = await iterator.nextv(entriesAtOnce);
      if (more.length === 0) return entries;
      for (const entry of more) entries.push(entry);
    }
  } finally {
    iterator.close().catch(() => undefined);
  }
}

const lastOf = (entries: readonly Entry[]): number => {
  const last = entries.at(-1);
  return last === undefined ? -1 : numberOf(last[0]);
};

/** `stored`: where the room stood when it was begun to be read. */
const historyOver =
  (stored: number) =>
  (entries: readonly Entry[]): History<readonly Uint8Array[]> => ({
    writes: [entries.map(([, value]) => viewed(value))],
    at: entries.length === 0 ? stored : lastOf(entries) + 1,
  });

async function lastNumber(db: Db, key: RoomKey): Promise<number> {
  const [last] = await db.keys({ ...rangeOf(key), reverse: true, limit: 1 }).all();
  return last === undefined ? -1 : numberOf(last);
}

/** One room at a time, all as they were when the first was asked for: LevelDB's iterators look at one moment. */
async function* roomsOf(db: Db): AsyncGenerator<{ key: RoomKey; updates: Uint8Array[] }> {
  let text = "";
  let updates: Uint8Array[] = [];
  for await (const [name, value] of db.iterator({ gte: "a" })) {
    const room = name.slice(0, name.lastIndexOf("/"));
    if (room !== text && updates.length > 0) yield { key: keyOfText(text), updates };
    if (room !== text) updates = [];
    text = room;
    updates.push(viewed(value));
  }
  if (updates.length > 0) yield { key: keyOfText(text), updates };
}

const madeId = (random: (bytes: number) => Uint8Array): string => Buffer.from(random(16)).toString("base64url");

async function storeId(db: Db, random: (bytes: number) => Uint8Array): Promise<string> {
  const known = await db.get("!id");
  if (known !== undefined) return Buffer.from(known).toString("utf8");
  const made = madeId(random);
  await db.put("!id", Buffer.from(made, "utf8"), durable);
  return made;
}
