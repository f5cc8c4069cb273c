/** A document's store that is told beforehand that it will be attached, on real IndexedDB. */
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import * as Y from "yjs";
import type { DocStore } from "../../packages/client/src/book/doc-store.ts";
import { createIdbDocStore } from "../../packages/client/src/book/doc-store-idb.ts";

const envelope = new Uint8Array(200).fill(7);
envelope.set([1, 0, 0, 0, 0]);

let name = "";
let store: DocStore;
const spied = () => ({
  opened: vi.spyOn(indexedDB, "open"),
  shut: vi.spyOn(IDBDatabase.prototype, "close"),
});

/** Puts two rows into a store of that name. */
async function fill(into: string): Promise<void> {
  const [doc, filled] = [new Y.Doc(), createIdbDocStore(into, "ledger")];
  await filled.attach(doc);
  for (let n = 0; n < 2; n += 1) doc.getArray<Uint8Array>("entries").push([envelope]);
  await filled.close();
}

beforeEach(async () => {
  name = `prepared/${crypto.randomUUID()}/ledger`;
  await fill(name);
  store = createIdbDocStore(name, "ledger");
});
afterEach(async () => {
  vi.restoreAllMocks();
  await store.close();
});

test("a store that was prepared is attached to the database that was opened then, and reads all of it", async () => {
  const { opened } = spied();
  store.prepare();
  await vi.waitFor(() => expect(opened).toHaveBeenCalledTimes(1));
  expect(await store.attach(new Y.Doc())).toEqual({ sound: true, rows: 2 });
  expect(opened).toHaveBeenCalledTimes(1);
});

test("a store that is never attached lets go of its database, and one that is wiped is empty", async () => {
  const { shut } = spied();
  store.prepare();
  await store.close();
  expect(shut).toHaveBeenCalledTimes(1);
  store.prepare();
  await store.wipe();
  expect(await store.attach(new Y.Doc())).toEqual({ sound: true, rows: 0 });
});
