/** Whether an author notices that somebody else writes under his document's client id. */
import { expect, test } from "vitest";
import * as Y from "yjs";
import { createOwnPlaces } from "../../../packages/client/src/wire/own-places.ts";
import { envelope } from "../../support/envelopes.ts";
import { binaryItem, block, update } from "../../support/hand-made-updates.ts";

function written(count: number) {
  const doc = new Y.Doc();
  const own = createOwnPlaces(doc);
  for (let number = 0; number < count; number += 1) {
    doc.getArray<Uint8Array>("entries").push([envelope(number)]);
    own.wrote();
  }
  return { doc, own, client: doc.clientID };
}

test("what a relay stores of what was sent is nothing strange", () => {
  const { own, client } = written(3);
  expect(own.stored(new Map([[client, 0]]))).toBe(false);
  own.sent();
  expect(own.stored(new Map([[client, 3]]))).toBe(false);
  expect(own.stored(new Map([[client + 1, 99]]))).toBe(false);
  expect([...own.taken()]).toEqual([]);
});

test("more stored than was sent: somebody else writes there, once for each id", () => {
  const { own, client } = written(3);
  expect(own.stored(new Map([[client, 1]]))).toBe(true);
  expect([...own.taken()]).toEqual([client]);
  expect(own.stored(new Map([[client, 2]]))).toBe(false);
  own.wrote();
  expect(own.stored(new Map([[client, 3]]))).toBe(false);
});

test("other bytes in a place of ours, or one we have not written, and not our own that come back", () => {
  const { doc, own, client } = written(2);
  own.sent();
  expect(own.arriving(Y.encodeStateAsUpdate(doc))).toBe(false);
  expect(own.arriving(Uint8Array.of(255, 255))).toBe(false);
  expect(own.arriving(update([block(client + 1, 0, [binaryItem(envelope(7))])]))).toBe(false);
  expect(own.arriving(update([block(client, 0, [binaryItem(envelope(7))])]))).toBe(true);

  const ahead = written(1);
  ahead.own.sent();
  const next = binaryItem(envelope(7), { origin: [ahead.client, 0] });
  expect(ahead.own.arriving(update([block(ahead.client, 1, [next])]))).toBe(true);
});

test("a document that has not written has no place to lose", () => {
  const doc = new Y.Doc();
  const own = createOwnPlaces(doc);
  expect(own.stored(new Map([[doc.clientID, 5]]))).toBe(false);
  expect(own.arriving(update([block(doc.clientID, 0, [binaryItem(envelope(1))])]))).toBe(false);
});
