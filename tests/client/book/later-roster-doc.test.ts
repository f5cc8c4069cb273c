/** A roster's document that comes later: what is written before it has what is stored is the later of the two, and nobody waits for ever. */
import { createMemoryDocStore, createMemoryVault, deriveEpoch, systemRandom } from "@sward/client";
import type { BookId } from "@sward/core";
import { afterEach, expect, test, vi } from "vitest";
import * as Y from "yjs";
import { laterRosterDoc } from "../../../packages/client/src/book/later-roster-doc.ts";
import { rosterMap } from "../../../packages/client/src/book/roster.ts";
import { systemClock } from "../../../packages/client/src/desk/platform.ts";
import { createSigner } from "../../../packages/client/src/keys/signer.ts";

afterEach(() => void vi.useRealTimers());

/** With a store that gives what it has when it is let: an older value under "ada". */
async function aDoc() {
  const device = await createSigner(systemRandom(32));
  const book = device.id as string as BookId;
  const epoch = { epoch: 0, secret: systemRandom(32) };
  const before = new Y.Doc();
  rosterMap(before).set("ada", Uint8Array.of(1));
  let [attachments, give] = [0, (): void => undefined];
  const let_ = new Promise<void>((come) => {
    give = come;
  });
  const later = laterRosterDoc({
    options: {
      book,
      device,
      epochs: [epoch],
      vault: createMemoryVault(),
      ledgerStore: createMemoryDocStore(),
      rosterStore: {
        ...createMemoryDocStore(),
        async attach(doc) {
          attachments += 1;
          await let_;
          Y.applyUpdate(doc, Y.encodeStateAsUpdate(before));
          return { sound: true, rows: 1 };
        },
      },
      relay: null,
      clock: systemClock,
      randomBytes: systemRandom,
      entriesPerBlock: 1,
    },
    epoch: await deriveEpoch(book, epoch),
    inTurn: (run) => run(),
    attached: async () => undefined,
    changed: () => undefined,
    met: () => undefined,
  });
  return { later, give, attachments: () => attachments };
}

test("what was written before what is stored was read is the later of the two, also when it is closed meanwhile", async () => {
  const { later, give } = await aDoc();
  later.attach();
  later.put([["ada", Uint8Array.of(2)]]);
  expect(later.doc()).toBe(null);
  const closing = later.hangUp();
  give();
  await closing;
  expect(later.doc()?.get("ada")).toEqual(Uint8Array.of(2));
  later.destroy();
});

test("who writes waits until what is stored was read, but no longer than five seconds", async () => {
  const { later, give } = await aDoc();
  later.attach();
  vi.useFakeTimers();
  let waited: string[] = [];
  void later.read().then(() => waited.push("five seconds"));
  await vi.advanceTimersByTimeAsync(4_900);
  expect(waited).toEqual([]);
  await vi.advanceTimersByTimeAsync(200);
  expect(waited).toEqual(["five seconds"]);
  waited = [];
  const reading = later.read().then(() => waited.push("read"));
  give();
  await reading;
  expect(vi.getTimerCount()).toBe(0);
  expect(later.doc()?.get("ada")).toEqual(Uint8Array.of(1));
  await later.hangUp();
  later.destroy();
});

test("one that is closed before its script is here opens no store", async () => {
  const { later, give, attachments } = await aDoc();
  later.attach();
  await later.hangUp();
  give();
  await later.read();
  expect([attachments(), later.doc()]).toEqual([0, null]);
});
