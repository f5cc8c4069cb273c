/** A document's store that is told beforehand that it will be attached, on real IndexedDB. */
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { cdp } from "vitest/browser";
import * as Y from "yjs";
import type { DocStore } from "../../packages/client/src/book/doc-store.ts";
import { createIdbDocStore } from "../../packages/client/src/book/doc-store-idb.ts";

const envelope = new Uint8Array(200).fill(7);
envelope.set([1, 0, 0, 0, 0]);
const entriesOf = (doc: Y.Doc): Uint8Array[] => doc.getArray<Uint8Array>("entries").toArray();

let name = "";
let store: DocStore;
const spied = () => ({
  opened: vi.spyOn(indexedDB, "open"),
  shut: vi.spyOn(IDBDatabase.prototype, "close"),
  got: vi.spyOn(IDBObjectStore.prototype, "getAll"),
});

/** Puts two rows into a store of that name. */
async function fill(into: string): Promise<void> {
  const [doc, filled] = [new Y.Doc(), createIdbDocStore(into, "ledger")];
  await filled.attach(doc);
  for (let n = 0; n < 2; n += 1) doc.getArray<Uint8Array>("entries").push([envelope]);
  await filled.close();
}

/** Until the browser has had time to answer whatever it was asked. */
const aWhile = (): Promise<void> => new Promise((soon) => setTimeout(soon, 200));

beforeEach(async () => {
  name = `prepared/${crypto.randomUUID()}/ledger`;
  await fill(name);
  store = createIdbDocStore(name, "ledger");
});
afterEach(async () => {
  vi.restoreAllMocks();
  await store.close();
});

test("what is stored is read before the store is attached, and once", async () => {
  const { opened, got } = spied();
  store.prepare();
  store.prepare();
  await vi.waitFor(() => expect(got).toHaveBeenCalledTimes(2));
  const doc = new Y.Doc();
  expect(await store.attach(doc)).toEqual({ sound: true, rows: 2 });
  expect(entriesOf(doc)).toEqual([envelope, envelope]);
  expect([opened.mock.calls.length, got.mock.calls.length]).toEqual([1, 2]);
});

test("a first volume that others follow is opened and left unread until it is attached", async () => {
  await fill(`${name}/of-the-next-room`);
  const { opened, got } = spied();
  store.prepare();
  await aWhile();
  expect([opened.mock.calls.length, got.mock.calls.length]).toEqual([1, 0]);
  expect(await store.attach(new Y.Doc())).toEqual({ sound: true, rows: 2 });
});

test("what was read counts no more when the browser has thrown it away before the store is attached", async () => {
  const { opened, got } = spied();
  store.prepare();
  await vi.waitFor(() => expect(got).toHaveBeenCalledTimes(2));
  await aWhile();
  const params = { origin: location.origin, storageTypes: "indexeddb" };
  await cdp().send("Storage.clearDataForOrigin" as never, params as never);
  await vi.waitFor(() => expect(opened).toHaveBeenCalledTimes(2));
  await aWhile();
  expect(await store.attach(new Y.Doc())).toEqual({ sound: true, rows: 0 });
});

test("a store that is never attached lets go of its database, and one that is wiped is empty", async () => {
  const { shut, got } = spied();
  store.prepare();
  await store.close();
  expect(shut).toHaveBeenCalledTimes(1);
  store.prepare();
  await vi.waitFor(() => expect(got).toHaveBeenCalledTimes(2));
  await aWhile();
  await store.wipe();
  expect(await store.attach(new Y.Doc())).toEqual({ sound: true, rows: 0 });
});

test("a store that cannot be read before is read when it is attached", async () => {
  vi.spyOn(indexedDB, "databases").mockRejectedValue(new Error("not now"));
  store.prepare();
  await aWhile();
  expect(await store.attach(new Y.Doc())).toEqual({ sound: true, rows: 2 });
});
