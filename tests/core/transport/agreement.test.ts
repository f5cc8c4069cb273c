/**
 * The screen reads updates by itself, so it must agree with Yjs on what they say. Whatever it accepts is applied to a real
 * document here, and must do exactly what the verdict foretold; honest traffic must never be refused.
 */
import type { RoomKind } from "@sward/core";
import { knownInStore, pagesOf, roomRoots, screenUpdate } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import * as Y from "yjs";
import { envelope } from "../../support/envelopes.ts";
import { bytes } from "../../support/hand-made-updates.ts";

const seed = 20_611;
console.info(`screen against Yjs: seed ${seed}`);

/** Applies what is accepted and holds the verdict to it. */
function applyScreened(doc: Y.Doc, kind: RoomKind, update: Uint8Array, policy: "whole" | "salvage") {
  const verdict = screenUpdate(update, knownInStore(doc.store), { kind, policy });
  const before = Y.decodeStateVector(Y.encodeStateVector(doc));
  const length = doc.getArray(roomRoots.ledger).length;
  if (verdict.accepted !== null) Y.applyUpdate(doc, verdict.accepted);
  const after = Y.decodeStateVector(Y.encodeStateVector(doc));
  expect(new Map([...before, ...verdict.next])).toEqual(after);
  expect(doc.store.pendingStructs).toBe(null);
  expect(doc.store.pendingDs).toBe(null);
  expect([...doc.share.keys()].filter((root) => root !== roomRoots[kind] && root !== roomRoots.ledger)).toEqual([]);
  if (kind === "ledger") {
    const entries = doc.getArray(roomRoots.ledger).toArray();
    expect(entries.length).toBe(length + verdict.fresh);
    expect(entries.every((entry) => entry instanceof Uint8Array && entry[0] === 1)).toBe(true);
  }
  return verdict;
}

type Step =
  | { readonly do: "write"; readonly by: number; readonly count: number }
  | { readonly do: "live"; readonly from: number; readonly to: number }
  | { readonly do: "ask"; readonly from: number; readonly to: number }
  | { readonly do: "erase"; readonly by: number };

const who = fc.nat({ max: 3 });
const steps = fc.array(
  fc.oneof(
    fc.record({ do: fc.constant("write" as const), by: who, count: fc.integer({ min: 1, max: 4 }) }),
    fc.record({ do: fc.constant("live" as const), from: who, to: who }),
    fc.record({ do: fc.constant("ask" as const), from: who, to: who }),
    fc.record({ do: fc.constant("erase" as const), by: who }),
  ),
  { minLength: 5, maxLength: 60 },
);

/** Four devices that write at the same time and hear of each other in parts, late, twice, or not for a long while. */
function runHonest(kind: RoomKind, run: readonly Step[]): void {
  const docs = [1, 2, 3, 4].map(() => new Y.Doc());
  const sent: Uint8Array[][] = docs.map(() => []);
  docs.forEach((doc, index) => {
    doc.clientID = 1000 - index * 7;
    doc.on("update", (update: Uint8Array) => sent[index]!.push(update));
  });
  let number = 0;
  const write = (doc: Y.Doc, count: number) =>
    doc.transact(() => {
      const made = Array.from({ length: count }, (_, index) => envelope(number + index));
      number += count;
      if (kind === "ledger") doc.getArray("entries").push(made);
      else for (const one of made) doc.getMap("roster").set(`key-${number % 5}`, one);
    });
  const deliver = (to: Y.Doc, update: Uint8Array, policy: "whole" | "salvage") => {
    const verdict = applyScreened(to, kind, update, policy);
    expect(verdict.refusals).toEqual([]);
    return verdict.gap;
  };
  const ask = (from: Y.Doc, to: Y.Doc) => {
    for (const page of pagesOf(Y.encodeStateAsUpdate(from, Y.encodeStateVector(to)), 300)) {
      expect(deliver(to, page, "salvage")).toBe(null);
    }
  };
  for (const step of run) {
    if (step.do === "write") write(docs[step.by]!, step.count);
    else if (step.do === "ask") ask(docs[step.from]!, docs[step.to]!);
    else if (step.do === "live") {
      const update = sent[step.from]!.at(-1);
      if (update !== undefined && deliver(docs[step.to]!, update, "whole") !== null)
        ask(docs[step.from]!, docs[step.to]!);
    } else if (kind === "roster") docs[step.by]!.getMap("roster").delete(`key-${number % 5}`);
  }
  for (const from of docs) for (const to of docs) ask(from, to);
  for (const from of docs) for (const to of docs) ask(from, to);
  const contentOf = (doc: Y.Doc): unknown =>
    kind === "ledger" ? doc.getArray("entries").toJSON() : Object.entries(doc.getMap("roster").toJSON()).sort();
  for (const doc of docs) expect(contentOf(doc)).toEqual(contentOf(docs[0]!));
}

test(`TR14 TR12 TR15 honest ledger traffic is never refused, and ends the same everywhere (seed ${seed})`, () => {
  fc.assert(
    fc.property(steps, (run) => runHonest("ledger", run)),
    { seed, numRuns: 150 },
  );
});

test(`TR14 TR12 TR15 honest roster traffic is never refused, and ends the same everywhere (seed ${seed})`, () => {
  fc.assert(
    fc.property(steps, (run) => runHonest("roster", run)),
    { seed, numRuns: 150 },
  );
});

/** A document that several clients wrote at the same time, and what one more of them adds. */
function history(): { doc: Y.Doc; behind: Y.Doc; update: Uint8Array } {
  const docs = [11, 22, 33].map((client) => {
    const doc = new Y.Doc();
    doc.clientID = client;
    return doc;
  });
  const behind = new Y.Doc();
  for (const doc of docs) doc.getArray("entries").push([envelope(doc.clientID), envelope(doc.clientID + 1)]);
  Y.applyUpdate(behind, Y.encodeStateAsUpdate(docs[1]!));
  for (const from of docs) for (const to of docs) Y.applyUpdate(to, Y.encodeStateAsUpdate(from));
  for (const doc of docs) doc.getArray("entries").push([envelope(doc.clientID + 2)]);
  for (const from of docs) Y.applyUpdate(docs[0]!, Y.encodeStateAsUpdate(from));
  return { doc: docs[0]!, behind, update: Y.encodeStateAsUpdate(docs[0]!, Y.encodeStateVector(behind)) };
}

test(`TR12 TR16 whatever is accepted of a spoilt update does what was foretold (seed ${seed})`, () => {
  const { behind, update } = history();
  const start = Y.encodeStateAsUpdate(behind);
  // Spoils the bytes that steer, not those inside envelopes: any byte, but low ones and flags of infos more often.
  const change = fc.record({
    at: fc.nat({ max: update.length - 1 }),
    to: fc.oneof(fc.nat({ max: 255 }), fc.constantFrom(0, 1, 3, 10, 0x83, 0xa3, 0xc3, 0x23)),
  });
  let accepted = 0;
  fc.assert(
    fc.property(fc.array(change, { minLength: 1, maxLength: 3 }), fc.boolean(), (changes, salvage) => {
      const spoilt = update.slice();
      for (const { at, to } of changes) spoilt[at] = to;
      const doc = new Y.Doc();
      Y.applyUpdate(doc, start);
      const verdict = applyScreened(doc, "ledger", spoilt, salvage ? "salvage" : "whole");
      if (verdict.accepted !== null) accepted += 1;
    }),
    { seed, numRuns: 3000 },
  );
  expect(accepted).toBeGreaterThan(300);
});

test(`TR16 garbage is refused, quickly and without throwing (seed ${seed})`, () => {
  const garbage = fc.oneof(
    fc.uint8Array({ maxLength: 300 }),
    fc.array(fc.nat({ max: 200 }), { maxLength: 40 }).map((values) => Uint8Array.from(bytes(...values))),
  );
  fc.assert(
    fc.property(garbage, fc.constantFrom<RoomKind>("ledger", "roster"), (update, kind) => {
      const doc = new Y.Doc();
      const before = performance.now();
      applyScreened(doc, kind, update, "salvage");
      expect(performance.now() - before).toBeLessThan(200);
    }),
    { seed, numRuns: 3000 },
  );
});

test("TR15 a long history in pages: each applies after those before, none is longer than asked, together they are all", () => {
  const { doc, update } = history();
  const whole = Y.encodeStateAsUpdate(doc);
  const pages = pagesOf(whole, 150);
  expect(pages.length).toBeGreaterThan(3);
  const late = new Y.Doc();
  for (const page of pages) {
    expect(page.length).toBeLessThan(150 + 50);
    expect(applyScreened(late, "ledger", page, "whole")).toMatchObject({ refusals: [], gap: null });
  }
  expect(Y.encodeStateVector(late)).toEqual(Y.encodeStateVector(doc));
  expect(late.getArray("entries").toJSON()).toEqual(doc.getArray("entries").toJSON());
  expect(pagesOf(update, 1_000_000)).toEqual([update]);
});

test("TR16 the worst shape for placing, many clients waiting on two that take turns, is placed in good time", () => {
  const lanes = 1000;
  const turns = 5000;
  const docs = [new Y.Doc(), new Y.Doc()];
  docs.forEach((doc, index) => {
    doc.clientID = 5 + index;
  });
  for (let turn = 0; turn < turns; turn += 1) {
    const [writer, other] = turn % 2 === 0 ? [docs[0]!, docs[1]!] : [docs[1]!, docs[0]!];
    const before = Y.encodeStateVector(writer);
    writer.getArray("entries").push([envelope(turn, 40)]);
    Y.applyUpdate(other, Y.encodeStateAsUpdate(writer, before));
  }
  const all = docs[0]!;
  for (let lane = 0; lane < lanes; lane += 1) {
    const late = new Y.Doc();
    late.clientID = 100 + lane;
    const blocks = Uint8Array.from([
      ...bytes(1, 1, late.clientID, 0),
      0x83,
      ...bytes(5, turns / 2 - 1),
      ...bytes(40),
      ...envelope(lane, 40),
      0,
    ]);
    Y.applyUpdate(all, blocks);
  }
  const update = Y.encodeStateAsUpdate(all);
  const started = performance.now();
  const verdict = screenUpdate(update, knownInStore(new Y.Doc().store), { kind: "ledger", policy: "whole" });
  expect(performance.now() - started).toBeLessThan(500);
  expect(verdict).toMatchObject({ refusals: [], gap: null, fresh: turns + lanes });
});
