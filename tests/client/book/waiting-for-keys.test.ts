/** What cannot be opened yet is not forgotten, though what came after it was read and the device has been started again since. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Book } from "@sward/client";
import { createSigner, openBook, systemRandom } from "@sward/client";
import { createLevelDocStore, openLevelVault } from "@sward/client/node";
import type { BookId, Draft, EntryId } from "@sward/core";
import { decodeEntry } from "@sward/core";
import { afterEach, beforeEach, expect, test } from "vitest";
import * as Y from "yjs";
import { pushEnvelopes } from "../../../packages/client/src/book/ledger-doc.ts";
import { seal } from "../../../packages/client/src/book/seal.ts";
import { readRecords, rewritten } from "../../../packages/client/src/book/vault.ts";
import type { Epoch } from "../../../packages/client/src/keys/book-keys.ts";
import { deriveEpoch } from "../../../packages/client/src/keys/book-keys.ts";
import { optionsFor, until } from "../../support/two-clubs.ts";

let folder = "";
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "sward-keys-"));
});
afterEach(() => rm(folder, { recursive: true }));

const vault = () => openLevelVault(join(folder, "vault"));
const ledgerStore = () => createLevelDocStore(join(folder, "ledger"), "ledger");
const places = async (): Promise<number> => {
  const opened = await vault();
  const { sealed } = readRecords(await opened.load());
  await opened.close();
  return sealed.length;
};

test("an envelope of an epoch whose key comes later is opened then, whatever was read behind it before a restart", async () => {
  const root = await createSigner(systemRandom(32));
  const recorder = await createSigner(systemRandom(32));
  const book = root.id as string as BookId;
  const first: Epoch = { epoch: 0, secret: systemRandom(32) };
  const second: Epoch = { epoch: 1, secret: systemRandom(32) };
  const open = async (epochs: readonly Epoch[]): Promise<Book> => {
    const storage = {
      vault: await vault(),
      ledgerStore: ledgerStore(),
      rosterStore: optionsFor({ book, root, secret: first.secret }, root, null).rosterStore,
    };
    const made = await openBook({ ...optionsFor({ book, root, secret: first.secret }, root, null, storage), epochs });
    await made.settled();
    return made;
  };

  const one = await open([first]);
  const opening: Draft = { kind: "book-opened", body: { root: root.key, as: "club", name: "Testers" } };
  const admitted: Draft = { kind: "device-admitted", body: { device: recorder.key, role: "recorder" } };
  for (const draft of [opening, admitted]) expect((await one.append([draft])).ok).toBe(true);
  await one.close();

  // Two entries of the recorder under one client id: the earlier in an envelope of the next epoch.
  const texts: string[] = [];
  let prev: EntryId | null = null;
  for (const seq of [0, 1]) {
    const body = { title: "cup", event: Buffer.alloc(16, seq).toString("base64url"), occasion: "calendar-event" };
    const made = { ...body, from: "2026-05-01", to: "2026-05-02" };
    const jws: string = await recorder.signEntry({
      v: 1,
      book,
      seq,
      prev,
      at: "2026-08-01T10:00:00Z",
      kind: "event-opened",
      body: made,
    });
    const decoded = decodeEntry(jws);
    prev = decoded.ok ? decoded.value.id : null;
    texts.push(jws);
  }
  const doc = new Y.Doc();
  const store = ledgerStore();
  await store.attach(doc);
  doc.clientID = 77;
  for (const [n, epoch] of [second, first].entries()) {
    pushEnvelopes(doc, [await seal(book, await deriveEpoch(book, epoch), [texts[n]!], systemRandom)]);
  }
  await store.close();
  doc.destroy();

  const held = (from: Book): number => [...from.entries()].filter(({ jws }) => texts.includes(jws)).length;
  const two = await open([first]);
  await until("what can be opened is read", () => held(two) === 1);
  await two.close();
  expect(await places()).toBe(1);

  const three = await open([first]);
  expect(held(three)).toBe(1);
  await three.close();

  const four = await open([first, second]);
  await until("all of it is read", () => held(four) === 2);
  await four.close();
  expect(await places()).toBe(0);
});

test("a vault that is written anew keeps the places of what could not be opened", () => {
  const sealed = [{ client: 7, clock: 3 }];
  const contents = readRecords([{ entries: [], sealed: [] }, { entries: [], sealed }, { entries: [] }]);
  expect(contents.sealed).toEqual(sealed);
  expect(readRecords(rewritten(contents)).sealed).toEqual(sealed);
});
