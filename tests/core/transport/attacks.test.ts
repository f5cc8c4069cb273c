/**
 * Every attack on a Yjs document that can be seen from one update alone, made with Yjs itself where it can make it and byte by
 * byte where it cannot. Each must be refused or turned into a question, with nothing accepted.
 */
import type { RoomKind, Verdict } from "@sward/core";
import { knownInStore, screenLimits, screenUpdate } from "@sward/core";
import { expect, test } from "vitest";
import * as Y from "yjs";
import { envelope } from "../../support/envelopes.ts";
import { binaryItem, block, bytes, text, update } from "../../support/hand-made-updates.ts";

const ledgerOf = (count: number, client = 7): Y.Doc => {
  const doc = new Y.Doc();
  doc.clientID = client;
  for (let number = 0; number < count; number += 1) doc.getArray("entries").push([envelope(number)]);
  return doc;
};

const screen = (doc: Y.Doc, bytes: Uint8Array, kind: RoomKind = "ledger"): Verdict =>
  screenUpdate(bytes, knownInStore(doc.store), { kind, policy: "whole" });

const refused = (verdict: Verdict): string[] => {
  expect(verdict.accepted).toBe(null);
  expect(verdict.fresh).toBe(0);
  return verdict.refusals.map((refusal) => refusal.type);
};

/** What another client's change adds to a copy of `doc`. */
function changeBy(doc: Y.Doc, client: number, change: (copy: Y.Doc) => void): Uint8Array {
  const copy = new Y.Doc();
  copy.clientID = client;
  Y.applyUpdate(copy, Y.encodeStateAsUpdate(doc));
  const before = Y.encodeStateVector(copy);
  change(copy);
  return Y.encodeStateAsUpdate(copy, before);
}

test("TR3 deletion of all, made by Yjs", () => {
  const doc = ledgerOf(5);
  const hostile = changeBy(doc, 9, (copy) => copy.getArray("entries").delete(0, 5));
  const verdict = screen(doc, hostile);
  expect(refused(verdict)).toEqual(["deletion"]);
  expect(verdict.refusals[0]).toEqual({ type: "deletion", client: 7, clock: 0, length: 5 });
});

test("TR3 eight bytes that delete a million clocks before they are written", () => {
  expect(refused(screen(ledgerOf(1), update([], [[7, [[1, 1_000_000]]]])))).toEqual(["deletion"]);
});

test("TR4 a GC struct that claims another client's clocks, and one of 2^52", () => {
  for (const length of [1000, 2 ** 52]) {
    const gc = block(99, 0, [bytes(0, length)]);
    expect(refused(screen(ledgerOf(1), update([gc])))).toEqual(["foreign-struct"]);
  }
});

test("TR4 a Skip struct", () => {
  expect(refused(screen(ledgerOf(1), update([block(99, 0, [bytes(10, 50)])])))).toEqual(["foreign-struct"]);
});

test("TR8 a dropped update: the later ones are a gap, not pending", () => {
  const doc = ledgerOf(3);
  const from = Y.encodeStateVector(doc);
  doc.getArray("entries").push([envelope(3)]);
  const behind = new Y.Doc();
  Y.applyUpdate(behind, Y.encodeStateAsUpdate(ledgerOf(1)));
  const verdict = screen(behind, Y.encodeStateAsUpdate(doc, from));
  expect(refused(verdict)).toEqual([]);
  expect(verdict.gap).toEqual({ client: 7, clock: 3, expected: 1 });
});

test("TR1 TR2 thirty million structs announced in ten bytes are refused at once", () => {
  const announced = Uint8Array.from(bytes(1, 30_000_000, 7, 0));
  const before = performance.now();
  expect(refused(screen(ledgerOf(1), announced))).toEqual(["unreadable"]);
  expect(performance.now() - before).toBeLessThan(50);
});

test("TR1 an update over the limit is not read", () => {
  const long = new Uint8Array(screenLimits.updateBytes + 1);
  expect(screen(ledgerOf(1), long).refusals).toEqual([
    { type: "too-long", bytes: screenLimits.updateBytes + 1, limit: screenLimits.updateBytes },
  ]);
});

test("TR2 cut short anywhere, or with a byte behind it", () => {
  const doc = new Y.Doc();
  const honest = Y.encodeStateAsUpdate(ledgerOf(3));
  for (let length = 0; length < honest.length; length += 1) {
    expect(refused(screen(doc, honest.subarray(0, length)))).toEqual(["unreadable"]);
  }
  expect(screen(doc, Uint8Array.from([...honest, 0])).refusals).toEqual([{ type: "trailing-bytes", bytes: 1 }]);
  expect(screen(doc, honest).fresh).toBe(3);
});

test("TR2 a number in a second spelling", () => {
  expect(refused(screen(new Y.Doc(), Uint8Array.of(0x80, 0, 0)))).toEqual(["unreadable"]);
});

test("TR10 two blocks for one client, and a block of nothing", () => {
  const twice = update([block(99, 0, [binaryItem(envelope(1))]), block(99, 0, [binaryItem(envelope(2))])]);
  expect(refused(screen(ledgerOf(1), twice))).toEqual(["client-twice"]);
  expect(refused(screen(ledgerOf(1), update([block(99, 0, [])])))).toEqual(["empty-block"]);
});

test("TR10 more client ids than the limit", () => {
  const doc = ledgerOf(1);
  const options = { kind: "ledger", policy: "whole", limits: { ...screenLimits, clients: 3 } } as const;
  const blocks = [1, 2, 3].map((client) => block(client, 0, [binaryItem(envelope(client))]));
  expect(screenUpdate(update(blocks.slice(0, 2)), knownInStore(doc.store), options).fresh).toBe(2);
  expect(refused(screenUpdate(update(blocks), knownInStore(doc.store), options))).toEqual(["too-many-clients"]);
});

test("TR5 other roots, keys, texts, maps, nested types and documents", () => {
  const doc = ledgerOf(2);
  const changes: [string, (copy: Y.Doc) => void][] = [
    ["foreign-parent", (copy) => copy.getArray("others").push([envelope(1)])],
    ["foreign-parent", (copy) => copy.getMap("roster").set("key", envelope(1))],
    ["keyed", (copy) => copy.getMap("entries").set("key", envelope(1))],
    ["foreign-content", (copy) => copy.getText("entries").insert(0, "text")],
    ["foreign-content", (copy) => copy.getText("entries").format(0, 1, { bold: true })],
    ["foreign-content", (copy) => copy.getText("entries").insertEmbed(0, { image: "x" })],
    ["foreign-content", (copy) => copy.getArray("entries").push([{ nested: [1, 2.5, null, "x", true, 10n] }])],
    ["foreign-content", (copy) => copy.getArray("entries").push([[envelope(1)]])],
    ["foreign-content", (copy) => copy.getArray("entries").push([new Y.Array()])],
    ["foreign-content", (copy) => copy.getArray("entries").push([new Y.XmlElement("p")])],
    ["foreign-content", (copy) => copy.getArray("entries").push([new Y.Doc()])],
    ["not-at-the-end", (copy) => copy.getArray("entries").insert(1, [envelope(1)])],
    ["not-at-the-end", (copy) => copy.getArray("entries").insert(0, [envelope(1)])],
  ];
  for (const [reason, change] of changes) {
    const made = changeBy(doc, 9, change);
    expect(refused(screen(doc, made))[0], change.toString()).toBe(reason);
  }
});

test("TR5 an item inside another item", () => {
  const nested = Uint8Array.from([3, ...bytes(0, 7, 0), ...bytes(60), ...envelope(1)]);
  expect(screen(ledgerOf(1), update([block(9, 0, [nested])])).refusals[0]).toMatchObject({
    type: "foreign-parent",
    parent: "item",
  });
});

test("TR5 a root whose name only begins like ours, and one that is no ASCII", () => {
  for (const root of ["entries2", "entrie", "entri\u00e9s"]) {
    const item = binaryItem(envelope(1), { root });
    expect(refused(screen(ledgerOf(1), update([block(9, 0, [item])]))), root).toEqual(["foreign-parent"]);
  }
});

test("TR7 envelopes too short, too long, or of another version", () => {
  const limits = { ...screenLimits, envelopeBytes: 100 };
  const faultOf = (body: Uint8Array) =>
    screenUpdate(update([block(9, 0, [binaryItem(body)])]), knownInStore(new Y.Doc().store), {
      kind: "ledger",
      policy: "whole",
      limits,
    });
  expect(faultOf(envelope(1, 39)).refusals[0]).toMatchObject({ type: "bad-envelope", fault: "short", bytes: 39 });
  expect(faultOf(envelope(1, 101)).refusals[0]).toMatchObject({ type: "bad-envelope", fault: "long", bytes: 101 });
  expect(faultOf(envelope(1, 60).fill(2, 0, 1)).refusals[0]).toMatchObject({ type: "bad-envelope", fault: "version" });
  expect(faultOf(envelope(1, 40)).fresh).toBe(1);
  expect(faultOf(envelope(1, 100)).fresh).toBe(1);
});

test("TR9 an origin nobody has is a gap; a circle of origins and an origin in oneself are refused", () => {
  const lost = update([block(9, 0, [binaryItem(envelope(1), { origin: [7, 5] })])]);
  const verdict = screen(ledgerOf(2), lost);
  expect(refused(verdict)).toEqual([]);
  expect(verdict.gap).toEqual({ client: 7, clock: 5, expected: 2 });
  const circle = update([
    block(9, 0, [binaryItem(envelope(1), { origin: [8, 0] })]),
    block(8, 0, [binaryItem(envelope(2), { origin: [9, 0] })]),
  ]);
  expect(refused(screen(ledgerOf(2), circle))).toContain("circle");
  const self = update([block(9, 0, [binaryItem(envelope(1), { origin: [9, 0] })])]);
  expect(refused(screen(ledgerOf(2), self))).toEqual(["circle"]);
});

test("TR6 a roster takes new values under keys and erases old ones, nothing else", () => {
  const doc = new Y.Doc();
  doc.getMap("roster").set("one", envelope(1));
  const replace = changeBy(doc, 9, (copy) => copy.getMap("roster").set("one", envelope(2)));
  expect(screen(doc, replace, "roster")).toMatchObject({ fresh: 1, erases: true, refusals: [], gap: null });
  const erase = changeBy(doc, 9, (copy) => copy.getMap("roster").delete("one"));
  expect(screen(doc, erase, "roster")).toMatchObject({ fresh: 0, erases: true, accepted: erase });
  const unkeyed = changeBy(doc, 9, (copy) => copy.getArray("roster").push([envelope(3)]));
  expect(refused(screen(doc, unkeyed, "roster"))).toEqual(["bad-key"]);
  const badKey = changeBy(doc, 9, (copy) => copy.getMap("roster").set("Zo\u00eb", envelope(3)));
  expect(refused(screen(doc, badKey, "roster"))).toEqual(["bad-key"]);
  const plain = changeBy(doc, 9, (copy) => copy.getMap("roster").set("two", "not sealed"));
  expect(refused(screen(doc, plain, "roster"))).toEqual(["foreign-content"]);
  const ahead = screen(doc, update([], [[doc.clientID, [[0, 50]]]]), "roster");
  expect(refused(ahead)).toEqual([]);
  expect(ahead.gap).toEqual({ client: doc.clientID, clock: 50, expected: 1 });
});

test("TR6 a roster client that joins late takes what was erased, merged as Yjs merges it", () => {
  const doc = new Y.Doc();
  for (let number = 0; number < 20; number += 1) doc.getMap("roster").set(`key-${number % 3}`, envelope(number));
  doc.getMap("roster").delete("key-1");
  const late = new Y.Doc();
  const verdict = screen(late, Y.encodeStateAsUpdate(doc), "roster");
  expect(verdict).toMatchObject({ refusals: [], gap: null });
  Y.applyUpdate(late, verdict.accepted ?? text(""));
  expect(late.getMap("roster").toJSON()).toEqual(doc.getMap("roster").toJSON());
});

test("TR11 in a page with one bad block, everybody else's envelopes and the good ones before it are taken", () => {
  const doc = ledgerOf(1);
  const page = update(
    [
      block(30, 0, [binaryItem(envelope(1)), bytes(0, 5), binaryItem(envelope(2))]),
      block(20, 0, [binaryItem(envelope(3), { origin: [30, 0] }), binaryItem(envelope(4), { origin: [20, 0] })]),
      block(10, 0, [binaryItem(envelope(5), { origin: [30, 6] })]),
    ],
    [[7, [[0, 1]]]],
  );
  const verdict = screenUpdate(page, knownInStore(doc.store), { kind: "ledger", policy: "salvage" });
  expect(verdict.refusals.map(({ type }) => type)).toEqual(["foreign-struct", "deletion"]);
  expect([...verdict.next]).toEqual([
    [30, 1],
    [20, 2],
  ]);
  expect(verdict.gap).toBe(null);
  Y.applyUpdate(doc, verdict.accepted ?? text(""));
  expect(doc.getArray("entries").length).toBe(4);
  expect(doc.store.pendingStructs).toBe(null);
  expect(refused(screen(ledgerOf(1), page))).toEqual(["foreign-struct", "deletion"]);
});

test("TR13 what is known already is not taken again", () => {
  const doc = ledgerOf(3);
  const all = Y.encodeStateAsUpdate(doc);
  expect(screen(doc, all)).toEqual({
    accepted: null,
    fresh: 0,
    erases: false,
    next: new Map(),
    refusals: [],
    gap: null,
  });
  const behind = new Y.Doc();
  Y.applyUpdate(behind, Y.encodeStateAsUpdate(ledgerOf(2)));
  const verdict = screen(behind, all);
  expect(verdict.fresh).toBe(1);
  expect((verdict.accepted?.length ?? 0) < 100).toBe(true);
});

test("TR16 refusals are bounded, whatever is refused", () => {
  const blocks = Array.from({ length: 5000 }, (_, client) => block(client, 0, [bytes(0, 1)]));
  const verdict = screenUpdate(update(blocks), knownInStore(new Y.Doc().store), { kind: "ledger", policy: "salvage" });
  expect(verdict.refusals).toHaveLength(16);
});
