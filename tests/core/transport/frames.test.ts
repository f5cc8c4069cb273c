import {
  askFrame,
  awarenessFrame,
  compareFrame,
  digestFrame,
  helloFrame,
  historyFrame,
  mayRedial,
  readFrame,
  readStateVector,
  receiptFrame,
  refusalFrame,
  stateVectorBytes,
  updateFrame,
} from "@sward/core";
import * as encoding from "lib0/encoding";
import { expect, test } from "vitest";
import * as syncProtocol from "y-protocols/sync";
import * as Y from "yjs";
import { envelope } from "../../support/envelopes.ts";

const doc = new Y.Doc();
doc.clientID = 300;
doc.getArray("entries").push([envelope(1), envelope(2)]);
const update = Y.encodeStateAsUpdate(doc);

/** A sync frame as y-websocket builds it. */
const built = (write: (encoder: encoding.Encoder) => void): Uint8Array => {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, 0);
  write(encoder);
  return encoding.toUint8Array(encoder);
};

test("TR17 sync frames are byte for byte those of y-protocols", () => {
  expect(askFrame(Y.encodeStateVector(doc))).toEqual(built((to) => syncProtocol.writeSyncStep1(to, doc)));
  expect(historyFrame(update)).toEqual(built((to) => syncProtocol.writeSyncStep2(to, doc)));
  expect(updateFrame(update)).toEqual(built((to) => syncProtocol.writeUpdate(to, update)));
});

test("TR17 state vectors are those of Yjs", () => {
  const vector = new Map([
    [300, 2],
    [70_000, 1],
    [2 ** 32 - 1, 5],
  ]);
  expect(readStateVector(Y.encodeStateVector(doc))).toEqual(new Map([[300, 2]]));
  expect(Y.decodeStateVector(stateVectorBytes(vector))).toEqual(vector);
  expect(readStateVector(stateVectorBytes(vector))).toEqual(vector);
});

test("TR17 every frame is read as it was written", () => {
  const refusal = { type: "deletion", client: 1, clock: 2, length: 3 } as const;
  expect(readFrame(helloFrame("store-1"))).toEqual({ type: "hello", version: 1, store: "store-1" });
  expect(readFrame(receiptFrame(new Map([[7, 8]])))).toEqual({ type: "receipt", stored: new Map([[7, 8]]) });
  expect(readFrame(refusalFrame(refusal))).toEqual({ type: "refusal", refusal });
  expect(readFrame(awarenessFrame(Uint8Array.of(1, 2)))).toEqual({ type: "awareness", state: Uint8Array.of(1, 2) });
  expect(readFrame(historyFrame(update))).toEqual({ type: "history", update });
  expect(readFrame(Uint8Array.of(3))).toEqual({ type: "query-awareness" });
  expect(readFrame(compareFrame())).toEqual({ type: "compare" });
  const digest = new Uint8Array(32).fill(9);
  const read = { type: "digest", vector: new Map([[300, 2]]), digest };
  expect(readFrame(digestFrame(Y.encodeStateVector(doc), digest))).toEqual(read);
});

test("TR17 what is cut short, has bytes behind it or is of no known type is no frame", () => {
  const whole = digestFrame(Y.encodeStateVector(doc), new Uint8Array(32));
  for (const frame of [helloFrame("store-1"), receiptFrame(new Map([[7, 8]])), updateFrame(update), whole]) {
    for (let length = 0; length < frame.length; length += 1) expect(readFrame(frame.subarray(0, length))).toBe(null);
    expect(readFrame(Uint8Array.from([...frame, 0]))).toBe(null);
  }
  const others = [
    [2, 0, 0],
    [4],
    [67, 0],
    [68, 1, 0, 31, ...new Uint8Array(31)],
    [68, 1, 5, 32, ...new Uint8Array(32)],
    [69],
    [0, 3, 0],
    [0, 0, 1, 5],
    [66, 2, 0x5b, 0x5d],
    [66, 1, 0x7b],
    [64, 1, 1, 0xe9],
  ];
  for (const other of others) expect(readFrame(Uint8Array.from(other)), String(other)).toBe(null);
});

test("TR18 a client closed for good does not dial again; one with a stale token does", () => {
  expect([1000, 1001, 1006, 1011, 1013, 4401, 4500].map(mayRedial)).toEqual(Array(7).fill(true));
  expect([1009, 4400, 4403, 4404, 4499].map(mayRedial)).toEqual(Array(5).fill(false));
});
