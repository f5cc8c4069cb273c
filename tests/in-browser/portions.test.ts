/** Rows of a real IndexedDB, read a portion at a time. */

import { expect, test } from "vitest";
import * as Y from "yjs";
import { createIdbDocStore } from "../../packages/client/src/book/doc-store-idb.ts";
import { readInPortions } from "../../packages/client/src/book/idb-portions.ts";

/** Reads rows of these sizes, and says which were asked for together. */
async function portionsOf(sizes: readonly number[], enough: number) {
  const rows = new Map(sizes.map((size, n) => [n * 3 + 1, size]));
  const asked: number[] = [];
  const read: number[] = [];
  let [open, most] = [0, 0];
  await readInPortions(
    [...rows.keys()],
    async (range) => {
      open += 1;
      most = Math.max(most, open);
      const some = [...rows].filter(([key]) => range.includes(key)).map(([, size]) => size);
      asked.push(some.length);
      await new Promise((soon) => setTimeout(soon, 0));
      return some;
    },
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

test("small rows are read many at a time and large ones alone, all of them once and in order, the next asked for before one is read", async () => {
  const small = await portionsOf(times(300, 1), 500);
  expect(small.read).toEqual(times(300, 1));
  expect(Math.max(...small.asked)).toBe(64);
  expect(small.most).toBe(2);
  const large = await portionsOf(times(40, 500), 500);
  expect(large.read).toEqual(times(40, 500));
  expect(Math.max(...large.asked)).toBe(1);
  const sizes = [...times(100, 1), ...times(300, 700), ...times(100, 2)].map((size, n) => size + n / 1_000);
  const mixed = await portionsOf(sizes, 500);
  expect(mixed.read).toEqual(sizes);
  // Where rows become large they are soon read one by one.
  expect(mixed.asked.filter((many) => many === 1).length).toBeGreaterThan(100);
  expect(await portionsOf([], 500)).toEqual({ asked: [], read: [], most: 0 });
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
  expect(await other.attach(again)).toEqual({ sound: true, rows: 220 });
  expect(again.getArray<Uint8Array>("entries").toArray()).toEqual(entries.toArray());
  await other.close();
});
