/** One volume: what was seen of it before it is loaded, and whether all of that is there. */
import { createSigner } from "@sward/client";
import type { BookId } from "@sward/core";
import { expect, test } from "vitest";
import * as Y from "yjs";
import type { Breathe } from "../../../packages/client/src/book/breathing.ts";
import type { DocStore } from "../../../packages/client/src/book/doc-store.ts";
import { createMemoryDocStore } from "../../../packages/client/src/book/doc-store.ts";
import { pushEnvelopes } from "../../../packages/client/src/book/ledger-doc.ts";
import { createTransport } from "../../../packages/client/src/book/transport.ts";
import type { Place } from "../../../packages/client/src/book/vault.ts";
import { envelope } from "../../support/envelopes.ts";
import { optionsFor } from "../../support/two-clubs.ts";

const MANY = 2_000;

/** A document of so many envelopes, each in a place of its own. */
function filled() {
  const doc = new Y.Doc();
  const places = pushEnvelopes(
    doc,
    Array.from({ length: MANY }, () => envelope(1)),
  );
  return { update: Y.encodeStateAsUpdate(doc), places };
}

const storeOf = (update: Uint8Array | null, sound = true): DocStore => ({
  ...createMemoryDocStore(),
  attach(doc) {
    if (update !== null) Y.applyUpdate(doc, update);
    return Promise.resolve({ sound, rows: 1 });
  },
});

async function volumeOf(store: DocStore, seen: readonly Place[], breathe: Breathe) {
  const root = await createSigner(new Uint8Array(32).fill(7));
  const book = { book: root.id as string as BookId, root, secret: new Uint8Array(32).fill(8) };
  const nothing = (): void => undefined;
  return createTransport({
    options: { ...optionsFor(book, root, null), breathe },
    volume: 0,
    room: root,
    store,
    seen: () => seen,
    arrived: nothing,
    changed: nothing,
    synced: nothing,
    taken: nothing,
    heard: nothing,
  });
}

async function attached(store: DocStore, seen: readonly Place[]) {
  let turns = 0;
  const transport = await volumeOf(store, seen, () => {
    turns += 1;
    return Promise.resolve();
  });
  await transport.attach();
  return { unseen: transport.unseen().length, isWhole: transport.inside().isWhole(), turns };
}

test("what was seen before is not seen anew, and others have their turn while it is marked", async () => {
  const { update, places } = filled();
  const all = await attached(storeOf(update), places);
  expect(all).toMatchObject({ unseen: 0, isWhole: true });
  expect(all.turns).toBeGreaterThanOrEqual(3);
  expect(await attached(storeOf(update), places.slice(0, -3))).toMatchObject({ unseen: 3, isWhole: true });
  expect((await attached(storeOf(update), [])).unseen).toBe(MANY);
});

test("a volume that lacks a place it had is not whole; nor one whose store was not sound, whatever is in it", async () => {
  const { update, places } = filled();
  const more = [...places, { client: places[0]!.client, clock: MANY }];
  expect((await attached(storeOf(update), more)).isWhole).toBe(false);
  expect((await attached(storeOf(null), places)).isWhole).toBe(false);
  expect((await attached(storeOf(null, false), places)).isWhole).toBe(false);
  expect((await attached(storeOf(null), [])).isWhole).toBe(true);
});

test("one that is closed while it is marked does not open its store again", async () => {
  const { places } = filled();
  const done: string[] = [];
  const store: DocStore = {
    ...createMemoryDocStore(),
    attach() {
      done.push("attached");
      return Promise.resolve({ sound: true, rows: 0 });
    },
    close() {
      done.push("closed");
      return Promise.resolve();
    },
  };
  const turn: Breathe = () => new Promise((soon) => setTimeout(soon, 1));
  const transport = await volumeOf(store, places, turn);
  const attaching = transport.attach();
  await transport.close();
  await attaching;
  expect([done, transport.attached()]).toEqual([["closed"], false]);
});
