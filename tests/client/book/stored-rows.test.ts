/** Rows of a stored ledger that are put together and taken apart: what they say, and how long they are afterwards. */
import { atOnce, screenUpdate } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import * as Y from "yjs";
import { judgingStored } from "../../../packages/client/src/book/judging.ts";
import { isLong, isShort, isUntidy, PAGE_BYTES, rewritingRows } from "../../../packages/client/src/book/stored-rows.ts";

const SEED = 20261128;

const envelopeOf = (n: number, length: number): Uint8Array =>
  Uint8Array.from({ length }, (_, at) => (at === 0 ? 1 : at < 5 ? 0 : n));

/** The rows of a store to which these came: each so many envelopes of one length, by one of three devices. */
function rowsOf(writes: readonly { readonly by: number; readonly many: number; readonly length: number }[]) {
  const devices = [new Y.Doc(), new Y.Doc(), new Y.Doc()];
  const doc = new Y.Doc();
  const rows: Uint8Array[] = [];
  doc.on("update", (update: Uint8Array) => rows.push(update));
  for (const [n, { by, many, length }] of writes.entries()) {
    const device = devices[by] as Y.Doc;
    Y.applyUpdate(device, Y.encodeStateAsUpdate(doc));
    device.getArray("entries").push(Array.from({ length: many }, () => envelopeOf(n % 200, length)));
    Y.applyUpdate(doc, Y.encodeStateAsUpdate(device, Y.encodeStateVector(doc)));
  }
  return { doc, rows };
}

const rewrittenNow = (rows: readonly Uint8Array[]) => atOnce(rewritingRows(rows));

/** As the store puts them. */
function replaced(rows: readonly Uint8Array[]): Uint8Array[] {
  const after = new Map(rows.map((row, at) => [at, [row] as readonly Uint8Array[]]));
  for (const { from, to, rows: anew } of rewrittenNow(rows)) {
    for (let at = from; at < to; at += 1) after.delete(at);
    after.set(from, anew);
  }
  return [...after].sort(([a], [b]) => a - b).flatMap(([, some]) => some);
}

test(`rows written anew pass the screen and say what they said, and are neither many short ones nor long (seed ${SEED})`, () => {
  let joined = 0;
  let apart = 0;
  fc.assert(
    fc.property(
      fc.array(
        fc.record({
          by: fc.nat(2),
          many: fc.oneof({ weight: 6, arbitrary: fc.integer({ min: 1, max: 3 }) }, fc.constantFrom(20, 400)),
          length: fc.constantFrom(200, 600, 3_000),
        }),
        { minLength: 1, maxLength: 40, size: "max" },
      ),
      (writes) => {
        const { doc, rows } = rowsOf(writes);
        const after = replaced(rows);
        expect(atOnce(judgingStored(after, "ledger"))).toBe(true);
        const again = new Y.Doc();
        for (const row of after) Y.applyUpdate(again, row);
        expect(again.store.pendingStructs).toBe(null);
        expect(Buffer.compare(Y.encodeStateAsUpdate(again), Y.encodeStateAsUpdate(doc))).toBe(0);
        expect(after.filter(isLong)).toEqual([]);
        for (const { rows: anew } of rewrittenNow(rows))
          for (const { length } of anew) expect(length).toBeLessThanOrEqual(PAGE_BYTES);
        // One at the end of what was put together, before a longer one; and the last page of each that was taken apart.
        const longer = after.filter((row) => !isShort(row)).length;
        expect(after.filter(isShort).length).toBeLessThanOrEqual(longer + 1 + rows.filter(isLong).length);
        joined += rows.length > after.length ? 1 : 0;
        apart += rows.some(isLong) ? 1 : 0;
      },
    ),
    { seed: SEED, numRuns: 60 },
  );
  expect([joined > 10, apart > 4]).toEqual([true, true]);
});

test("500 short rows are left as they are, 501 are not; nor is a document that was written as one row", () => {
  const short = new Uint8Array(600);
  expect(isUntidy(new Array<Uint8Array>(500).fill(short))).toBe(false);
  expect(isUntidy(new Array<Uint8Array>(501).fill(short))).toBe(true);
  expect(isUntidy(new Array<Uint8Array>(2_000).fill(new Uint8Array(PAGE_BYTES)))).toBe(false);
  const { doc } = rowsOf([{ by: 0, many: 2_000, length: 600 }]);
  const whole = Y.encodeStateAsUpdate(doc);
  expect(isUntidy([whole])).toBe(true);
  const pages = rewrittenNow([whole]).flatMap(({ rows }) => rows);
  expect(pages.length).toBeGreaterThan(16);
  expect(isUntidy(pages)).toBe(false);
});

test("many short rows are pages of their own, of which none is longer than a page", () => {
  const { rows } = rowsOf(Array.from({ length: 150 }, (_, n) => ({ by: n % 3, many: 1, length: 3_000 })));
  const pages = rewrittenNow(rows).flatMap(({ rows: anew }) => anew);
  expect(Math.max(...pages.map(({ length }) => length))).toBeLessThanOrEqual(PAGE_BYTES);
  expect(pages.length).toBe(Math.ceil(150 / Math.floor(PAGE_BYTES / (rows[9]?.length ?? 0))));
});

test("rows of which one says again what another said are not put together", () => {
  const { rows } = rowsOf(Array.from({ length: 5 }, () => ({ by: 0, many: 2, length: 300 })));
  const twice = [...rows, rows[4] as Uint8Array];
  expect(atOnce(judgingStored(twice, "ledger"))).toBe(true);
  expect(() => rewrittenNow(twice)).toThrow("does not go on");
  const known = { next: () => 0, clients: 0 };
  expect(
    screenUpdate(rewrittenNow(rows)[0]?.rows[0] as Uint8Array, known, { kind: "ledger", policy: "whole" }),
  ).toMatchObject({
    refusals: [],
    gap: null,
    fresh: 10,
  });
});
