/** A ledger's store with many small rows or a very long one, on real IndexedDB: in what rows it goes on. */
import { afterEach, beforeEach, expect, test } from "vitest";
import * as Y from "yjs";
import { createIdbDocStore } from "../../packages/client/src/book/doc-store-idb.ts";
import { isUntidy } from "../../packages/client/src/book/stored-rows.ts";

let name = "";
beforeEach(() => {
  name = `tidy/${crypto.randomUUID()}/ledger`;
});

const envelopeOf = (n: number): Uint8Array =>
  Uint8Array.from({ length: 600 }, (_, at) => (at === 0 ? 1 : at < 5 ? 0 : n));
const entriesOf = (doc: Y.Doc): Y.Array<Uint8Array> => doc.getArray<Uint8Array>("entries");

let database: IDBDatabase | null = null;
afterEach(() => database?.close());

function rowsIn(mode: IDBTransactionMode): Promise<IDBObjectStore> {
  const opening = indexedDB.open(name);
  return new Promise((done, failed) => {
    opening.onsuccess = () => {
      database = opening.result;
      done(database.transaction("updates", mode).objectStore("updates"));
    };
    opening.onerror = () => failed(opening.error);
  });
}

async function rowsNow(): Promise<Uint8Array[]> {
  const asked = (await rowsIn("readonly")).getAll();
  const rows = await new Promise<Uint8Array[]>((done) => {
    asked.onsuccess = () => done(asked.result);
  });
  database?.close();
  return rows;
}

/** Fills the store with what is done to a document that it keeps. */
async function fill(write: (doc: Y.Doc) => void): Promise<Y.Doc> {
  const [doc, store] = [new Y.Doc(), createIdbDocStore(name, "ledger")];
  await store.attach(doc);
  write(doc);
  await store.close();
  return doc;
}

/** A start, with one change in it. */
async function start(): Promise<{ readonly doc: Y.Doc; readonly rows: number }> {
  const [doc, store] = [new Y.Doc(), createIdbDocStore(name, "ledger")];
  const { sound, rows } = await store.attach(doc);
  expect(sound).toBe(true);
  entriesOf(doc).push([envelopeOf(255)]);
  await store.close();
  return { doc, rows };
}

async function expectTidied(doc: Y.Doc, rowsBefore: number): Promise<void> {
  const first = await start();
  expect(first.rows).toBe(rowsBefore);
  expect(entriesOf(first.doc).toArray()).toEqual([...entriesOf(doc).toArray(), envelopeOf(255)]);
  const rows = await rowsNow();
  expect(isUntidy(rows)).toBe(false);
  expect(rows.length).toBeLessThan(40);
  const second = await start();
  expect(second.rows).toBe(rows.length);
  expect(entriesOf(second.doc).toArray()).toEqual([...entriesOf(first.doc).toArray(), envelopeOf(255)]);
}

test("many small rows, with long ones among them, are put together at a start, and what is written meanwhile stays", async () => {
  const doc = await fill((to) => {
    for (let n = 0; n < 520; n += 1) {
      const many = n % 250 === 249 ? 60 : 1;
      entriesOf(to).push(Array.from({ length: many }, () => envelopeOf(n % 200)));
    }
  });
  expect((await rowsNow()).length).toBe(520);
  await expectTidied(doc, 520);
});

test("a document that was written as one row is taken apart", async () => {
  const doc = await fill((to) => entriesOf(to).push(Array.from({ length: 1_900 }, (_, n) => envelopeOf(n % 200))));
  expect((await rowsNow()).length).toBe(1);
  await expectTidied(doc, 1);
});

test("small rows that say something twice are written anew from the document", async () => {
  const doc = await fill((to) => {
    for (let n = 0; n < 520; n += 1) entriesOf(to).push([envelopeOf(n % 200)]);
  });
  const again = (await rowsNow())[519] as Uint8Array;
  const store = await rowsIn("readwrite");
  store.add(again);
  await new Promise((done) => {
    store.transaction.oncomplete = done;
  });
  database?.close();
  const looked = createIdbDocStore(name, "ledger");
  expect(await looked.attach(new Y.Doc())).toEqual({ sound: true, rows: 521 });
  await looked.close();
  const rows = await rowsNow();
  expect(isUntidy(rows)).toBe(false);
  await expectTidied(doc, rows.length);
});
