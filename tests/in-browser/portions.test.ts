/** Rows of a real IndexedDB, read a portion at a time. */
import { afterEach, expect, test, vi } from "vitest";
import * as Y from "yjs";
import { createIdbDocStore } from "../../packages/client/src/book/doc-store-idb.ts";
import { openKept } from "../../packages/client/src/book/idb-open.ts";
import { readInPortions, rowsIn } from "../../packages/client/src/book/idb-portions.ts";

afterEach(() => void vi.restoreAllMocks());

/** Reads rows of these sizes, and says which were asked for together. */
async function portionsOf(sizes: readonly number[], enough: number) {
  const rows = new Map(sizes.map((size, n) => [n * 3 + 1, size]));
  const asked: number[] = [];
  const read: number[] = [];
  let [open, most] = [0, 0];
  const get = async (range: IDBKeyRange | null): Promise<readonly number[]> => {
    open += 1;
    most = Math.max(most, open);
    const some = [...rows].filter(([key], n) => range?.includes(key) ?? n === 0).map(([, size]) => size);
    asked.push(some.length);
    await new Promise((soon) => setTimeout(soon, 0));
    return some;
  };
  await readInPortions(
    { keys: async () => [...rows.keys()], get },
    (some) => {
      open -= 1;
      read.push(...some);
      return some.reduce((sum, size) => sum + size, 0);
    },
    enough,
  );
  return { asked, read, most };
}

const times = (many: number, size: number): number[] => new Array<number>(many).fill(size);

test("small rows are read many at a time and large ones alone, all of them once and in order, a few asked for before one is read", async () => {
  const small = await portionsOf(times(300, 1), 500);
  expect(small.read).toEqual(times(300, 1));
  expect(Math.max(...small.asked)).toBe(64);
  expect(small.most).toBe(2);
  const large = await portionsOf(times(40, 500), 500);
  expect(large.read).toEqual(times(40, 500));
  expect(Math.max(...large.asked)).toBe(1);
  expect(large.most).toBe(2);
  const sizes = [...times(100, 1), ...times(300, 700), ...times(100, 2)].map((size, n) => size + n / 1_000);
  const mixed = await portionsOf(sizes, 500);
  expect(mixed.read).toEqual(sizes);
  // Where rows become large they are soon read one by one.
  expect(mixed.asked.filter((many) => many === 1).length).toBeGreaterThan(100);
  expect(await portionsOf([], 500)).toEqual({ asked: [0], read: [], most: 1 });
});

type Schema = { readonly rows: { readonly key: number; readonly value: number } };

/** A database of so many rows, each its own number, and the way to let go of it. */
async function numbered(count: number) {
  const kept = await openKept<Schema>(`numbered-${crypto.randomUUID()}`, {
    version: 1,
    upgrade: (fresh) => void fresh.createObjectStore("rows", { autoIncrement: true }),
    givenUp: () => undefined,
  });
  const db = await kept.run(async (open) => {
    const tx = open.transaction("rows", "readwrite");
    for (let n = 0; n < count; n += 1) void tx.store.add(n);
    await tx.done;
    return open;
  });
  return { rows: rowsIn(db, "rows"), close: kept.close };
}

test("a portion that is asked for when the transaction is over comes all the same", async () => {
  const { rows, close } = await numbered(3);
  const { keys, get } = rows;
  expect(await get(null)).toEqual([0]);
  // Nothing was asked of it in that time.
  await new Promise((soon) => setTimeout(soon, 50));
  expect(await get(IDBKeyRange.bound(2, 3))).toEqual([1, 2]);
  expect(await keys()).toEqual([1, 2, 3]);
  close();
});

test("where nothing can be read any more, whoever reads is told, and nobody else", async () => {
  const strays: unknown[] = [];
  const stray = (event: PromiseRejectionEvent): void => {
    event.preventDefault();
    strays.push(event.reason);
  };
  addEventListener("unhandledrejection", stray);
  let begun: IDBTransaction | null = null;
  const begin = IDBDatabase.prototype.transaction;
  vi.spyOn(IDBDatabase.prototype, "transaction").mockImplementation(function (this: IDBDatabase, ...of) {
    begun = begin.apply(this, of);
    return begun;
  });
  const { rows, close } = await numbered(300);
  let read = 0;
  const reading = readInPortions(
    rows,
    (some) => {
      read += some.length;
      begun?.abort();
      return some.length;
    },
    1,
  );
  await expect(reading).rejects.toThrow();
  expect(read).toBe(1);
  await new Promise((soon) => setTimeout(soon, 50));
  removeEventListener("unhandledrejection", stray);
  expect(strays).toEqual([]);
  close();
});

test("a document of many rows, small and large, is what it was", async () => {
  const name = `portions-${crypto.randomUUID()}`;
  const [doc, store] = [new Y.Doc(), createIdbDocStore(name, "ledger")];
  await store.attach(doc);
  const entries = doc.getArray<Uint8Array>("entries");
  for (let n = 0; n < 220; n += 1) {
    const envelope = new Uint8Array(n % 50 === 7 ? 60_000 : 200).fill(n);
    envelope.set([1, 0, 0, 0, 0]);
    entries.push([envelope]);
  }
  await store.close();
  const [again, other] = [new Y.Doc(), createIdbDocStore(name, "ledger")];
  const begun = vi.spyOn(IDBDatabase.prototype, "transaction");
  expect(await other.attach(again)).toEqual({ sound: true, rows: 220 });
  expect(again.getArray<Uint8Array>("entries").toArray()).toEqual(entries.toArray());
  expect(begun).toHaveBeenCalledTimes(1);
  await other.close();
});
