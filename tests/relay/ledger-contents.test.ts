/** A ledger in memory is its updates; beside it a Yjs document of the same updates says what it must answer. */
import { screenUpdate } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import * as Y from "yjs";
import { fillContents } from "../../packages/relay/src/contents.ts";
import { createDigester, linksOfDocument } from "../../packages/relay/src/digest.ts";
import { createLedgerContents } from "../../packages/relay/src/ledger-contents.ts";
import { envelope, numberOf } from "../support/envelopes.ts";

const SEED = 71_204;

/** Devices that write so many envelopes each in turn, having heard of what those before them wrote or not; updates as they were made. */
function writtenBy(turns: readonly (readonly [device: number, many: number, bytes: number, hears: boolean])[]) {
  const devices = new Map<number, Y.Doc>();
  const all: Uint8Array[] = [];
  let number = 0;
  for (const [device, many, bytes, hears] of turns) {
    const doc = devices.get(device) ?? new Y.Doc();
    doc.clientID = 100 + device;
    devices.set(device, doc);
    if (hears) for (const update of all) Y.applyUpdate(doc, update);
    const before = Y.encodeStateVector(doc);
    const made = Array.from({ length: many }, () => envelope(number++, bytes));
    doc.getArray<Uint8Array>("entries").push(made);
    all.push(Y.encodeStateAsUpdate(doc, before));
  }
  return all;
}

const docOf = (updates: readonly Uint8Array[]): Y.Doc => {
  const doc = new Y.Doc();
  for (const update of updates) Y.applyUpdate(doc, update);
  return doc;
};

const turns = fc.array(
  fc.tuple(
    fc.integer({ min: 0, max: 4 }),
    fc.integer({ min: 1, max: 4 }),
    fc.integer({ min: 40, max: 120 }),
    fc.boolean(),
  ),
  { minLength: 1, maxLength: 60, size: "max" },
);

test(`RL5 RL17 whatever a caller has, the pages bring the rest, each on those before it, and the sums are a document's (seed ${SEED})`, async () => {
  console.info(`seed ${SEED}`);
  await fc.assert(
    fc.asyncProperty(turns, fc.nat(40), fc.constantFrom(600, 2_000, 4_000), async (given, chosen, pageBytes) => {
      const updates = writtenBy(given);
      const whole = docOf(updates);
      const contents = createLedgerContents(pageBytes);
      fillContents(contents, "ledger", updates);
      expect(contents.vector()).toEqual(Y.encodeStateVector(whole));
      const digest = createDigester(
        () => Y.encodeStateVector(whole),
        (from) => linksOfDocument(whole, from),
        "ledger",
      );
      expect(await contents.digest()).toEqual(await digest());

      // What a caller may have: of what came, the first so many.
      const some = updates.slice(0, chosen % (updates.length + 1));
      const part = docOf(some);
      const got = new Y.Doc();
      Y.applyUpdate(got, Y.encodeStateAsUpdate(part));
      const vector = Y.encodeStateVector(got);
      const pages = contents.since(vector);
      for (const page of pages) {
        const known = { next: (client: number) => Y.getState(got.store, client), clients: got.store.clients.size };
        const verdict = screenUpdate(page, known, { kind: "ledger", policy: "whole" });
        expect([verdict.refusals, verdict.gap]).toEqual([[], null]);
        // Nothing that the caller has is sent again.
        if (pages.length > 1 || page.length > 2) expect(verdict.accepted).toBe(page);
        Y.applyUpdate(got, page);
      }
      expect(Y.encodeStateAsUpdate(got)).toEqual(Y.encodeStateAsUpdate(whole));
      // A page, and what joins it: one that is long already comes by itself.
      const longest = pageBytes + 200;
      expect(pages.every(({ length }) => length <= longest)).toBe(true);
    }),
    { seed: SEED, numRuns: 120 },
  );
});

test("RL5 a caller in the middle of a long update is sent what is after it, and one who has all an empty page", () => {
  const [first] = writtenBy([[0, 40, 300, false]]) as [Uint8Array];
  const contents = createLedgerContents(100_000);
  fillContents(contents, "ledger", [first]);
  const got = new Y.Doc();
  Y.applyUpdate(got, beginning(first, 25));
  expect(got.getArray("entries").length).toBe(25);
  const pages = contents.since(Y.encodeStateVector(got));
  expect(pages).toHaveLength(1);
  expect(pages[0]!.length).toBeLessThan(16 * 300);
  Y.applyUpdate(got, pages[0]!);
  expect(got.getArray<Uint8Array>("entries").toArray().map(numberOf)).toEqual(Array.from({ length: 40 }, (_, n) => n));
  expect(contents.since(Y.encodeStateVector(got))).toEqual([new Uint8Array([0, 0])]);
  // Who says that he has more than there is lacks nothing either.
  expect(contents.since(Y.encodeStateVector(new Map([[100, 4_000]])))).toEqual([new Uint8Array([0, 0])]);
});

test("RL5 a thousand short updates are few pages, and in memory too: the first pages are the same bytes each time", () => {
  const updates = writtenBy(Array.from({ length: 1_000 }, () => [0, 1, 300, false] as const));
  const contents = createLedgerContents(20_000);
  fillContents(contents, "ledger", updates);
  const nothing = Y.encodeStateVector(new Y.Doc());
  const [once, again] = [contents.since(nothing), contents.since(nothing)];
  expect(once.length).toBeLessThan(20);
  expect(again[0]).toBe(once[0]);
  expect(Y.encodeStateAsUpdate(docOf(once))).toEqual(Y.encodeStateAsUpdate(docOf(updates)));
});

/** The first so many envelopes of an update of device 0. */
function beginning(update: Uint8Array, many: number): Uint8Array {
  const doc = docOf([update]);
  const all = doc.getArray<Uint8Array>("entries").toArray().slice(0, many);
  const made = new Y.Doc();
  made.clientID = 100;
  made.getArray<Uint8Array>("entries").push(all);
  return Y.encodeStateAsUpdate(made);
}
