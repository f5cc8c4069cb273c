/** A document that is loaded from its store: what of it has memory of its own. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { RoomKind } from "@sward/core";
import { afterAll, beforeAll, expect, test } from "vitest";
import * as Y from "yjs";
import { createLevelDocStore } from "../../../packages/client/src/book/doc-store-level.ts";
import { applyStored } from "../../../packages/client/src/book/judging.ts";

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "sward-stored-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const envelopeOf = (n: number): Uint8Array =>
  Uint8Array.from({ length: 600 }, (_, at) => (at === 0 ? 1 : at < 5 ? 0 : n));

/** With what came first in one transaction, and one more. */
function docOf(kind: RoomKind): Y.Doc {
  const doc = new Y.Doc();
  const put = (n: number): void => {
    if (kind === "ledger") doc.getArray<Uint8Array>("entries").push([envelopeOf(n)]);
    else doc.getMap<Uint8Array>("roster").set(`player/${n}`, envelopeOf(n));
  };
  doc.transact(() => {
    for (let n = 0; n < 50; n += 1) put(n);
  });
  put(50);
  return doc;
}

const contentsOf = (doc: Y.Doc, kind: RoomKind): Uint8Array[] =>
  kind === "ledger" ? doc.getArray<Uint8Array>("entries").toArray() : [...doc.getMap<Uint8Array>("roster").values()];

function applied(kind: RoomKind) {
  const from = docOf(kind);
  const update = Y.encodeStateAsUpdate(from);
  const doc = new Y.Doc();
  applyStored(doc, update, kind, null);
  return { from, update, doc };
}

test("envelopes of a stored ledger lie in what the store gave, and are what they were", () => {
  const { from, update, doc } = applied("ledger");
  const envelopes = contentsOf(doc, "ledger");
  expect(envelopes).toEqual(contentsOf(from, "ledger"));
  expect(new Set(envelopes.map(({ buffer }) => buffer))).toEqual(new Set([update.buffer]));
  expect(Y.encodeStateAsUpdate(doc)).toEqual(Y.encodeStateAsUpdate(from));
});

test("values of a stored roster stand alone, since each is kept by itself", () => {
  const { from, doc } = applied("roster");
  const values = contentsOf(doc, "roster");
  expect(values).toEqual(contentsOf(from, "roster"));
  for (const value of values) expect(value.buffer.byteLength).toBe(value.length);
});

test("a ledger goes on from its store as if nothing of it had been stored", async () => {
  const store = createLevelDocStore(join(folder, "ledger"), "ledger");
  const doc = new Y.Doc();
  await store.attach(doc);
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(docOf("ledger")));
  await store.close();
  const again = new Y.Doc();
  expect(await store.attach(again)).toEqual({ sound: true, rows: 1 });
  const stored = contentsOf(again, "ledger");
  // As many as rows, not as envelopes; and none is a Node Buffer, which Yjs would not write.
  expect(new Set(stored.map(({ buffer }) => buffer)).size).toBe(1);
  for (const one of stored) expect(Object.getPrototypeOf(one)).toBe(Uint8Array.prototype);
  again.getArray<Uint8Array>("entries").push([envelopeOf(51)]);
  const other = new Y.Doc();
  Y.applyUpdate(other, Y.encodeStateAsUpdate(again));
  expect(contentsOf(other, "ledger")).toEqual([...stored, envelopeOf(51)]);
  await store.close();
});
