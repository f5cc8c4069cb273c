/** What a relay lacks of a document is seen by its client ids alone. */
import { expect, test } from "vitest";
import * as Y from "yjs";
import { holdsBeyond, pushEnvelopes } from "../../../packages/client/src/book/ledger-doc.ts";

test("something lies beyond what is stored when any client id goes on further, also one that nobody has met", () => {
  const doc = new Y.Doc();
  doc.clientID = 1;
  expect(holdsBeyond(doc, new Map())).toBe(false);
  pushEnvelopes(doc, [new Uint8Array(1), new Uint8Array(2)]);
  doc.clientID = 2 ** 32 - 1;
  pushEnvelopes(doc, [new Uint8Array(3)]);
  const state = (one: number, other: number) =>
    new Map([
      [1, one],
      [2 ** 32 - 1, other],
    ] as const);
  expect(holdsBeyond(doc, state(2, 1))).toBe(false);
  // Who has more than we do lacks nothing of ours.
  expect(holdsBeyond(doc, state(9, 1))).toBe(false);
  expect(holdsBeyond(doc, state(1, 1))).toBe(true);
  expect(holdsBeyond(doc, state(2, 0))).toBe(true);
  expect(holdsBeyond(doc, new Map([[1, 2]]))).toBe(true);
});
