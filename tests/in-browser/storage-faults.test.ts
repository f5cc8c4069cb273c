/**
 * A browser's storage that fails in every way a browser's can, met by a real book on real IndexedDB: nothing that was said to be saved
 * is lost, what failed has changed nothing, and it goes on afterwards. Faults are the browser's own, through its debugging protocol
 * (https://chromedevtools.github.io/devtools-protocol/tot/Storage/), but for the abort of one transaction, which is ordered from here.
 */
import type { Book, RosterRecord } from "@sward/client";
import { createSigner, openBook, systemRandom } from "@sward/client";
import type { BookId, Draft, EntryId, PlayerId } from "@sward/core";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { cdp } from "vitest/browser";
import { createIdbDocStore } from "../../packages/client/src/book/doc-store-idb.ts";
import { openKept, StorageError } from "../../packages/client/src/book/idb-open.ts";
import { openIdbVault } from "../../packages/client/src/book/vault-idb.ts";
import type { Signer } from "../../packages/client/src/keys/signer.ts";

const day = "2026-08-20";
const player = "AQEBAQEBAQEBAQEBAQEBAQ" as PlayerId;
const adaWren: RosterRecord = { name: "Ada Wren", short: "Ada W." };
const send = (method: string, params: object): Promise<unknown> => cdp().send(method as never, params as never);

let root: Signer;
let secret: Uint8Array;
let name = "";
let book: Book;
const happened: string[] = [];

async function openHere(): Promise<Book> {
  const givenUp = (): void => void happened.push("given up");
  const opened = await openBook({
    book: root.id as string as BookId,
    device: root,
    epochs: [{ epoch: 0, secret }],
    vault: await openIdbVault(`${name}/vault`, {
      givenUp,
      putBack: () => void happened.push("put back"),
      lookEvery: 200,
    }),
    ledgerStore: createIdbDocStore(`${name}/ledger`, "ledger", givenUp),
    rosterStore: createIdbDocStore(`${name}/roster`, "roster", givenUp),
    relay: null,
    clock: { timestamp: () => `${day}T10:00:00Z`, today: () => day },
    randomBytes: systemRandom,
    entriesPerBlock: 50,
  });
  await opened.settled();
  return opened;
}

const event = (title: string): Draft => ({
  kind: "event-opened",
  body: {
    event: btoa(title.padEnd(16, ".")).slice(0, 22) as never,
    title,
    occasion: "club-competition",
    from: day,
    to: day,
  },
});

/** Saves, and remembers what the person was told is saved. */
const told = new Set<EntryId>();
async function save(title: string): Promise<string> {
  const answer = await book.append([event(title)]);
  if (!answer.ok) return answer.fault.type;
  for (const id of answer.value) told.add(id);
  return "saved";
}

/** Closes the book and looks at what a start tomorrow would find: everything that was told to be saved, and no chain broken. */
async function expectAllThere(): Promise<void> {
  await book.close();
  book = await openHere();
  expect([...told].filter((id) => book.signed(id) === undefined)).toEqual([]);
  expect([...book.state().uncounted]).toEqual([]);
  expect(book.state().devices.get(root.id)?.forkedAt).toBe(null);
  expect(book.roster.get(player)).toEqual(adaWren);
}

beforeEach(async () => {
  root = await createSigner(systemRandom(32));
  secret = systemRandom(32);
  name = `faults/${crypto.randomUUID()}`;
  told.clear();
  happened.length = 0;
  book = await openHere();
  const body = { root: root.key, as: "club", name: "Testers" } as const;
  expect((await book.append([{ kind: "book-opened", body }])).ok).toBe(true);
  expect((await book.append([{ kind: "player-joined", body: { player, standing: "member" } }])).ok).toBe(true);
  await book.roster.write(new Map([[player, adaWren]]));
  expect(await save("before")).toBe("saved");
});

afterEach(async () => {
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
  await send("Storage.overrideQuotaForOrigin", { origin: location.origin });
  await book.close();
});

test("site data cleared while the book is open: it is opened anew, everything is put back, and saving goes on", async () => {
  await send("Storage.clearDataForOrigin", { origin: location.origin, storageTypes: "indexeddb" });
  expect(await save("after")).toBe("saved");
  await vi.waitFor(() => expect(happened).toContain("put back"));
  expect(happened).not.toContain("given up");
  expect(book.trouble()).toBe(null);
  await expectAllThere();
});

test("site data cleared and nothing saved afterwards: all of it is there again all the same", async () => {
  await send("Storage.clearDataForOrigin", { origin: location.origin, storageTypes: "indexeddb" });
  await vi.waitFor(() => expect(happened).toEqual(["put back"]), { timeout: 10_000 });
  await expectAllThere();
});

test("a browser that closes a database and tells nothing of what was being done there: it is done once more", async () => {
  let asked = 0;
  const kept = await openKept<{ values: { key: number; value: string } }>(`${name}/silent`, {
    version: 1,
    upgrade: (fresh) => void fresh.createObjectStore("values"),
    givenUp: () => undefined,
  });
  const answer = kept.run((db) => {
    asked += 1;
    return asked === 1 ? new Promise<never>(() => undefined) : db.count("values");
  });
  await send("Storage.clearDataForOrigin", { origin: location.origin, storageTypes: "indexeddb" });
  expect(await answer).toBe(0);
  expect(asked).toBe(2);
  kept.close();
});

test("told of a database's end only when it has been opened anew for somebody else: what was being done is done once more", async () => {
  let old: EventTarget | null = null;
  const kept = await openKept<{ values: { key: number; value: string } }>(`${name}/late`, {
    version: 1,
    upgrade: (fresh) => void fresh.createObjectStore("values"),
    givenUp: () => undefined,
  });
  const answer = kept.run((db) => {
    if (old !== null) return db.count("values");
    old = db;
    return new Promise<never>(() => undefined);
  });
  let failed = false;
  const other = kept.run((db) => {
    if (failed) return db.count("values");
    failed = true;
    return Promise.reject(new DOMException("closed", "InvalidStateError"));
  });
  expect(await other).toBe(0);
  (old as EventTarget | null)?.dispatchEvent(new Event("close"));
  expect(await answer).toBe(0);
  kept.close();
});

test("out of room: it is not saved and says so, nothing has changed, and with room again it is saved", async () => {
  let before = [book.digest(), JSON.stringify([...book.state().events])];
  await send("Storage.overrideQuotaForOrigin", { origin: location.origin, quotaSize: 1 });
  const large = Array.from({ length: 100 }, () => event("x".repeat(80)));
  // The browser believes for some seconds what it knew of the room there was.
  let answer = await book.append(large);
  for (let seconds = 0; answer.ok && seconds < 90; seconds += 1) {
    await new Promise((soon) => setTimeout(soon, 1_000));
    before = [book.digest(), JSON.stringify([...book.state().events])];
    answer = await book.append(large);
  }
  expect(answer).toMatchObject({ ok: false, fault: { type: "not-saved" } });
  expect(!answer.ok && "cause" in answer.fault && answer.fault.cause).toContain("Quota");
  expect(book.trouble()?.cause).toContain("Quota");
  expect([book.digest(), JSON.stringify([...book.state().events])]).toEqual(before);
  await send("Storage.overrideQuotaForOrigin", { origin: location.origin });
  await vi.waitFor(async () => expect(await save("with room")).toBe("saved"), { timeout: 40_000, interval: 1_000 });
  expect(book.trouble()).toBe(null);
  await expectAllThere();
}, 150_000);

test("a transaction aborted at each write in turn: told not saved, or there", async () => {
  const add = IDBObjectStore.prototype.add;
  const put = IDBObjectStore.prototype.put;
  let failing = 0;
  let writes = 0;
  const abortsAt = (real: typeof add) =>
    function (this: IDBObjectStore, ...given: Parameters<typeof add>): IDBRequest<IDBValidKey> {
      const request = real.apply(this, given);
      writes += 1;
      if (writes === failing) this.transaction.abort();
      return request;
    };
  vi.spyOn(IDBObjectStore.prototype, "add").mockImplementation(abortsAt(add));
  vi.spyOn(IDBObjectStore.prototype, "put").mockImplementation(abortsAt(put));
  const outcomes = new Set<string>();
  for (failing = 1; failing <= 6; failing += 1) {
    writes = 0;
    for (let n = 1; n <= 3; n += 1) outcomes.add(await save(`${failing} ${n}`));
    await book.settled();
  }
  expect(outcomes).toEqual(new Set(["saved", "not-saved"]));
  failing = 0;
  expect(await save("at last")).toBe("saved");
  await expectAllThere();
});

test("another tab asks for the storage in a newer form: this one lets go, says so, and saves nothing that would be lost", async () => {
  const newer = indexedDB.open(`${name}/vault`, 4);
  await new Promise((done, failed) => {
    newer.onsuccess = done;
    newer.onerror = failed;
  });
  newer.result.close();
  expect(happened).toContain("given up");
  expect(await save("too late")).toBe("not-saved");
});

test("an old tab that does not let go: an error that says so, and soon", async () => {
  const held = indexedDB.open(`${name}/old`, 1);
  await new Promise((done) => {
    held.onsuccess = done;
  });
  const options = { version: 2, upgrade: () => undefined, givenUp: () => undefined, patience: 300 };
  await expect(openKept(`${name}/old`, options)).rejects.toMatchObject({ fault: { type: "storage-blocked" } });
  held.result.close();
});

test("a browser with no IndexedDB, and one that refuses it, are errors that say so", async () => {
  const open = () => openIdbVault(`${name}/none`, { givenUp: () => undefined, putBack: () => undefined });
  vi.stubGlobal("indexedDB", undefined);
  await expect(open()).rejects.toBeInstanceOf(StorageError);
  await expect(open()).rejects.toMatchObject({ fault: { type: "storage-absent" } });
  vi.stubGlobal("indexedDB", {
    open: () => {
      throw new DOMException("not in a private window", "SecurityError");
    },
  });
  await expect(open()).rejects.toMatchObject({ fault: { type: "storage-absent" } });
  vi.unstubAllGlobals();
  const held = indexedDB.open(`${name}/held`, 1);
  await new Promise((done) => {
    held.onsuccess = done;
  });
  // A request that waits for somebody who never lets go, and of which nothing is heard.
  const silent = indexedDB.deleteDatabase(`${name}/held`);
  await new Promise((done) => {
    silent.onblocked = done;
  });
  vi.stubGlobal("indexedDB", { open: () => silent });
  const options = { version: 1, upgrade: () => undefined, givenUp: () => undefined, patience: 300 };
  await expect(openKept("silent", options)).rejects.toMatchObject({
    fault: { type: "storage-silent", after: 300 },
  });
  held.result.close();
});
