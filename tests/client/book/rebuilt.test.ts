/** A document that was spoilt, on whatever way, is thrown away, and a fresh one is filled from the vault and the relay. */
import type { Wire } from "@sward/client";
import { createSigner, openBook, openWire, systemRandom } from "@sward/client";
import type { BookId, Draft } from "@sward/core";
import { afterEach, expect, test } from "vitest";
import * as Y from "yjs";
import { applyScreened } from "../../../packages/client/src/wire/screen.ts";
import { envelope } from "../../support/envelopes.ts";
import { binaryItem, block, update } from "../../support/hand-made-updates.ts";
import { relayWith, until } from "../../support/meeting.ts";
import { optionsFor } from "../../support/two-clubs.ts";

const open: { close(): Promise<unknown> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close();
});

/** What Yjs keeps in memory for ever: an item whose author's earlier ones are not there. */
const gap = update([block(7, 5, [binaryItem(envelope(1), { origin: [7, 4] })])]);
const event = (n: number): Draft => ({
  kind: "event-opened",
  body: {
    event: Buffer.alloc(16, n).toString("base64url") as never,
    title: "cup",
    occasion: "calendar-event",
    from: "2026-05-01",
    to: "2026-05-02",
  },
});

test("a document with something pending takes no update as if nothing were", () => {
  const doc = new Y.Doc();
  const good = update([block(9, 0, [binaryItem(envelope(2))])]);
  expect(applyScreened(doc, "ledger", good, "whole", null).fresh).toBe(1);
  Y.applyUpdate(doc, gap);
  expect(() => applyScreened(doc, "ledger", good, "whole", null)).toThrow("gaps");
});

test("a spoilt document is built anew under another client id, filled from the vault, and both go on", async () => {
  const relay = await relayWith();
  open.push(relay);
  const [root, other] = [await createSigner(systemRandom(32)), await createSigner(systemRandom(32))];
  const at = { book: root.id as string as BookId, root, secret: systemRandom(32) };
  const docs: Y.Doc[] = [];
  const wires: Wire[] = [];
  const options = optionsFor(at, root, relay.origin);
  const watched: typeof openWire = (given) => {
    const wire = openWire(given);
    if (given.room.kind === "ledger") {
      docs.push(given.doc);
      wires.push(wire);
    }
    return wire;
  };
  const book = await openBook({ ...options, relay: { ...options.relay!, open: watched } });
  open.push(book);
  await until("the relay is met", () => book.caughtUp());
  const opening: Draft = { kind: "book-opened", body: { root: root.key, as: "club", name: "Testers" } };
  const admitted: Draft = { kind: "device-admitted", body: { device: other.key, role: "handicapper" } };
  for (const draft of [opening, admitted, event(1)]) expect((await book.append([draft])).ok).toBe(true);
  const second = await openBook(optionsFor(at, other, relay.origin));
  open.push(second);
  await until("in step", () => second.caughtUp() && second.digest() === book.digest());

  Y.applyUpdate(docs[0]!, gap);
  expect((await second.append([event(2)])).ok).toBe(true);
  await until("built anew", () => docs.length === 2);
  await until("in step again", () => book.digest() === second.digest() && book.waiting() === 0);
  expect(docs[1]!.clientID).not.toBe(docs[0]!.clientID);
  expect(docs[1]!.store.pendingStructs).toBe(null);
  expect((await book.append([event(3)])).ok).toBe(true);
  await until("the other hears", () => second.digest() === book.digest());
  expect([...second.entries()].length).toBe(5);
  expect(docs.length).toBe(2);
  expect(wires.at(-1)?.state().type).toBe("live");
});
