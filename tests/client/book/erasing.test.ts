/**
 * Erasing a person: the name is gone from every device and from the relay, bytes and all, and does not come back whoever returns
 * with it; the record stays as it is. Real LevelDB, real keys, a real relay on LevelDB.
 */
import { join } from "node:path";
import type { Book, DocStore, RosterRecord, Signer } from "@sward/client";
import { createSigner, deriveEpoch, openBook, openEnvelope, seal, systemRandom } from "@sward/client";
import { createLevelDocStore, openLevelVault } from "@sward/client/node";
import type { BookId, Draft, PlayerId } from "@sward/core";
import { openLevelStorage } from "@sward/relay";
import { afterEach, beforeEach, expect, test } from "vitest";
import * as Y from "yjs";
import { erasureKey, rosterMap, signErasure } from "../../../packages/client/src/book/roster.ts";
import { temporaryFolders } from "../../support/folders.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { random, relayWith } from "../../support/meeting.ts";
import { stateText } from "../../support/state-text.ts";
import { filesWith } from "../../support/store-files.ts";
import type { Storage, TestBook } from "../../support/two-clubs.ts";
import { optionsFor, until } from "../../support/two-clubs.ts";

const folder = temporaryFolders();
const ada = Buffer.alloc(16, 1).toString("base64url") as PlayerId;
const bo = Buffer.alloc(16, 2).toString("base64url") as PlayerId;
const adaWren: RosterRecord = { name: "Ada Wren", short: "Ada W." };
const boLinnet: RosterRecord = { name: "Bo Linnet", short: "Bo L." };

let club: TestBook;
let recorder: Signer;
let other: Signer;
let relay: TestRelay;
let relayFolder = "";
const open: Book[] = [];

/** A device's home, and what to do to its stores. */
interface Home {
  readonly at: string;
  readonly device: Signer;
}

const storageAt = async (at: string): Promise<Storage> => ({
  vault: await openLevelVault(join(at, "vault")),
  ledgerStore: createLevelDocStore(join(at, "ledger"), "ledger"),
  rosterStore: createLevelDocStore(join(at, "roster"), "roster"),
});

async function start({ at, device }: Home, url: string | null = relay.origin, change: Partial<Storage> = {}) {
  const book = await openBook(optionsFor(club, device, url, { ...(await storageAt(at)), ...change }));
  open.push(book);
  return book;
}

async function stop(book: Book): Promise<void> {
  open.splice(open.indexOf(book), 1);
  await book.close();
}

const copyOf = (book: Book, about: string): Uint8Array => {
  const envelope = book.roster.envelopes().get(about);
  if (envelope === undefined) throw new Error(`no value for ${about}`);
  return envelope;
};

const opening = (): Draft[] => [
  { kind: "rules-adopted", body: { rules: "england-2016", from: "2026-01-01" } },
  { kind: "device-admitted", body: { device: recorder.key, role: "recorder" } },
  { kind: "device-admitted", body: { device: other.key, role: "handicapper" } },
  ...[ada, bo].flatMap((player): Draft[] => [
    { kind: "player-joined", body: { player, standing: "member" } },
    { kind: "handicap-set", body: { player, handicap: 8, from: "2026-04-01", basis: "initial", reason: "start" } },
  ]),
  {
    kind: "match-reported",
    body: {
      date: "2026-05-01",
      occasion: "club-competition",
      n: 1,
      play: "handicap",
      format: 13,
      sides: [[{ player: ada, off: 8 }], [{ player: bo, off: 8 }]],
      games: [{ score: [7, 3] }],
    },
  },
];

/** The root's device, with a record and two names, in step with the relay. */
async function founded(home: Home): Promise<Book> {
  const book = await start(home);
  await until("the relay is met", () => book.caughtUp());
  const body = { root: club.root.key, as: "club", name: "Testers" } as const;
  expect((await book.append([{ kind: "book-opened", body }])).ok).toBe(true);
  expect((await book.append(opening())).ok).toBe(true);
  await book.roster.write(
    new Map([
      [ada, adaWren],
      [bo, boLinnet],
    ]),
  );
  await until("all is stored", () => book.waiting() === 0);
  return book;
}

const rootHome = (): Home => ({ at: folder(), device: club.root });
const knows = (book: Book): boolean => book.roster.get(ada)?.name === "Ada Wren" && book.roster.get(bo) !== undefined;

beforeEach(async () => {
  const root = await createSigner(systemRandom(32));
  club = { book: root.id as string as BookId, root, secret: systemRandom(32) };
  [recorder, other] = [await createSigner(systemRandom(32)), await createSigner(systemRandom(32))];
  relayFolder = folder();
  relay = await relayWith({}, await openLevelStorage(relayFolder, random));
});

afterEach(async () => {
  for (const book of open.splice(0)) await book.close();
  await relay.close();
});

test("the name is gone from every device and the relay, bytes and all; the record and its cards are as they were", async () => {
  const [first, second] = [rootHome(), { at: folder(), device: recorder }];
  const a = await founded(first);
  const b = await start(second);
  await until("the other device knows the names", () => knows(b));
  const sealed = copyOf(a, ada);
  const kept = copyOf(a, bo);
  for (const at of [first.at, second.at, relayFolder]) expect(filesWith(at, sealed), at).not.toEqual([]);
  const before = [stateText(a.state()), a.digest(), JSON.stringify(a.state().cards.get(bo))];

  expect(await a.roster.erase([ada], "asked")).toEqual({ ok: true, value: null });
  expect(a.roster.get(ada)).toBe(undefined);
  expect(a.roster.erased(ada)).toMatchObject({ by: club.root.id, reason: "asked" });
  await until("the other device has heard of it", () => b.roster.erased(ada) !== undefined);
  expect(b.roster.get(ada)).toBe(undefined);
  for (const book of [a, b]) expect(book.roster.get(bo)).toEqual(boLinnet);
  expect([stateText(a.state()), a.digest(), JSON.stringify(a.state().cards.get(bo))]).toEqual(before);
  await stop(a);
  await stop(b);

  const again = [await start(first), await start(second)];
  await until("both are in step again", () => again.every((book) => book.connection().type === "live"));
  for (const book of again) {
    expect([book.roster.get(ada), book.roster.get(bo)]).toEqual([undefined, boLinnet]);
    expect(book.roster.erased(ada)?.reason).toBe("asked");
    await stop(book);
  }
  await relay.close();
  for (const at of [first.at, second.at, relayFolder]) {
    expect(filesWith(at, sealed), at).toEqual([]);
    expect(filesWith(at, kept), at).not.toEqual([]);
  }
  // And nothing that is left opens to the name.
  const epoch = await deriveEpoch(club.book, { epoch: 0, secret: club.secret });
  for (const { at } of [first, second]) {
    const vault = await openLevelVault(join(at, "vault"));
    for (const envelope of (await vault.loadRoster()).values()) {
      const texts = await openEnvelope(club.book, () => epoch, envelope);
      expect(JSON.stringify(texts)).not.toContain(Buffer.from("Ada Wren").toString("base64url").slice(2, 9));
      if (Array.isArray(texts)) {
        const [, payload = ""] = String(texts[0]).split(".");
        expect(Buffer.from(payload, "base64url").toString()).not.toContain("Ada");
      }
    }
    await vault.close();
  }
});

test("a device that was away for months with the name does not bring it back, and loses it itself", async () => {
  const [first, second] = [rootHome(), { at: folder(), device: recorder }];
  const a = await founded(first);
  const away = await start(second);
  await until("it knows the names", () => knows(away));
  const sealed = copyOf(a, ada);
  await stop(away);
  expect((await a.roster.erase([ada], "asked")).ok).toBe(true);
  const back = await start(second);
  expect(back.roster.get(ada)).toEqual(adaWren);
  await until("it hears of the erasure", () => back.roster.erased(ada) !== undefined);
  expect(back.roster.get(ada)).toBe(undefined);
  await back.settled();
  await stop(back);
  await stop(a);
  await relay.close();
  for (const at of [first.at, second.at, relayFolder]) expect(filesWith(at, sealed), at).toEqual([]);
});

test("a correction of the name written before its device knew, and under whichever client id, does not bring it back", async () => {
  const homes = [rootHome(), { at: folder(), device: recorder }, { at: folder(), device: other }] as const;
  const a = await founded(homes[0]);
  const [b, c] = [await start(homes[1]), await start(homes[2])];
  await until("all know the names", () => knows(b) && knows(c));
  // Two, so that Yjs lets one of them win over the erasing device's deletion whichever way its ids fall.
  for (const book of [b, c]) book.goOffline();
  for (const book of [b, c]) await book.roster.write(new Map([[ada, { name: "Ada Wren-Marsh", short: "Ada M." }]]));
  const values = [copyOf(a, ada), copyOf(b, ada), copyOf(c, ada)];
  expect((await a.roster.erase([ada], "asked")).ok).toBe(true);
  for (const book of [b, c]) book.goOnline();
  await until("all have heard of it", () => [a, b, c].every((book) => book.roster.erased(ada) !== undefined));
  expect([a, b, c].map((book) => book.roster.get(ada))).toEqual([undefined, undefined, undefined]);
  const later = await start({ at: folder(), device: await createSigner(systemRandom(32)) });
  await until("a new device knows the rest", () => later.roster.get(bo) !== undefined);
  await until("and the erasure", () => later.roster.erased(ada) !== undefined);
  expect(later.roster.get(ada)).toBe(undefined);
  for (const book of [a, b, c, later]) await stop(book);
  // Each starts once more: what was under way when it closed is finished.
  for (const home of homes) {
    const book = await start(home);
    await until("it is in step", () => book.connection().type === "live");
    await stop(book);
  }
  await relay.close();
  for (const at of [...homes.map((home) => home.at), relayFolder]) {
    for (const value of values) expect(filesWith(at, value), at).toEqual([]);
  }
});

/** Somebody who passes over erasures writes a value and somebody else deletes it, as it comes over the wire: two updates. */
function writeAndDelete(doc: Y.Doc, value: Uint8Array): void {
  const other = new Y.Doc();
  Y.applyUpdate(other, Y.encodeStateAsUpdate(doc));
  const updates: Uint8Array[] = [];
  other.on("update", (update: Uint8Array) => updates.push(update));
  rosterMap(other).set(ada, value);
  rosterMap(other).delete(ada);
  expect(updates).toHaveLength(2);
  for (const update of updates) Y.applyUpdate(doc, update, "somebody");
}

test("a name that comes late and was deleted by somebody else before this device has looked is not left in its store", async () => {
  const home = rootHome();
  const storage = await storageAt(home.at);
  let heard: Y.Doc | null = null;
  const rosterStore: DocStore = {
    ...storage.rosterStore,
    attach(doc) {
      heard = doc;
      return storage.rosterStore.attach(doc);
    },
  };
  const book = await openBook(optionsFor(club, club.root, null, { ...storage, rosterStore }));
  open.push(book);
  const body = { root: club.root.key, as: "club", name: "Testers" } as const;
  await book.append([{ kind: "book-opened", body }]);
  await book.roster.write(new Map([[ada, adaWren]]));
  const sealed = copyOf(book, ada);
  expect((await book.roster.erase([ada], "asked")).ok).toBe(true);
  writeAndDelete(heard as unknown as Y.Doc, sealed);
  await stop(book);
  expect(filesWith(home.at, sealed)).toEqual([]);
});

test("a device that dies between the late name and its sweep finishes when it starts again", async () => {
  const home = rootHome();
  const first = await start(home, null);
  const body = { root: club.root.key, as: "club", name: "Testers" } as const;
  await first.append([{ kind: "book-opened", body }]);
  await first.roster.write(new Map([[ada, adaWren]]));
  const sealed = copyOf(first, ada);
  expect((await first.roster.erase([ada], "asked")).ok).toBe(true);
  await stop(first);
  const store = createLevelDocStore(join(home.at, "roster"), "roster");
  const doc = new Y.Doc();
  await store.attach(doc);
  writeAndDelete(doc, sealed);
  await store.close();
  expect(filesWith(home.at, sealed)).not.toEqual([]);
  const again = await start(home, null);
  await again.settled();
  await stop(again);
  expect(filesWith(home.at, sealed)).toEqual([]);
});

test("a relay that was wiped and filled by a device that did not know loses the name again when one that does comes", async () => {
  const [first, second] = [rootHome(), { at: folder(), device: recorder }];
  const a = await founded(first);
  const away = await start(second);
  await until("it knows the names", () => knows(away));
  const sealed = copyOf(a, ada);
  await stop(away);
  expect((await a.roster.erase([ada], "no-longer-needed")).ok).toBe(true);
  await stop(a);
  await relay.close();

  relayFolder = folder();
  relay = await relayWith({}, await openLevelStorage(relayFolder, random));
  const back = await start(second);
  await until("the new relay has the name again", () => filesWith(relayFolder, sealed).length > 0);
  const knowing = await start(first);
  await until("the erasure is heard of", () => back.roster.erased(ada) !== undefined);
  expect([back.roster.get(ada), knowing.roster.get(ada)]).toEqual([undefined, undefined]);
  await until("the relay has lost it", () => filesWith(relayFolder, sealed).length === 0);
  await stop(back);
  await stop(knowing);
  expect(filesWith(second.at, sealed)).toEqual([]);
});

test("a name is not written again after it was erased, and its neighbours are", async () => {
  const a = await founded(rootHome());
  expect((await a.roster.erase([ada], "entered-wrongly")).ok).toBe(true);
  await expect(a.roster.write(new Map([[ada, adaWren]]))).rejects.toThrow("erased");
  expect(a.trouble()).toBe(null);
  await a.roster.write(new Map([[bo, { name: "Bo Linnet-Reed", short: "Bo R." }]]));
  expect([a.roster.get(ada), a.roster.get(bo)?.short]).toEqual([undefined, "Bo R."]);
});

test("only a handicapper or the club's own key erases: a recorder is refused, and what it signs all the same is passed over", async () => {
  const a = await founded(rootHome());
  const b = await start({ at: folder(), device: recorder });
  await until("it knows the names", () => knows(b));
  expect(await b.roster.erase([ada], "asked")).toEqual({ ok: false, fault: { type: "may-not-erase" } });
  expect(b.roster.get(ada)).toEqual(adaWren);
  await stop(b);

  const epoch = await deriveEpoch(club.book, { epoch: 0, secret: club.secret });
  const forged = async (signer: Signer): Promise<Uint8Array> =>
    seal(club.book, epoch, [await signErasure(signer, club.book, ada, "asked", "2026-08-20T10:00:00Z")], systemRandom);
  const at = folder();
  const storage = await storageAt(at);
  await storage.vault.saveRoster(new Map([[erasureKey(ada), await forged(recorder)]]));
  const carrying = await openBook(optionsFor(club, recorder, relay.origin, storage));
  open.push(carrying);
  await until("it knows the names", () => knows(carrying));
  expect(carrying.roster.erased(ada)).toBe(undefined);
  await a.roster.write(new Map([[bo, { name: "Bo Linnet", short: "Bo X." }]]));
  await until("the room is heard", () => carrying.roster.get(bo)?.short === "Bo X.");
  expect(a.roster.get(ada)).toEqual(adaWren);
  await stop(carrying);

  // The same by a handicapper's device does erase, so the refusal above was of the signer.
  const officer = await storageAt(folder());
  await officer.vault.saveRoster(new Map([[erasureKey(ada), await forged(other)]]));
  open.push(await openBook(optionsFor(club, other, relay.origin, officer)));
  await until("the name is gone", () => a.roster.erased(ada) !== undefined);
});

test("a disk that does not take it: nothing is erased, and it says so", async () => {
  const home = rootHome();
  const storage = await storageAt(home.at);
  let full = false;
  const saveRoster: Storage["vault"]["saveRoster"] = (changes, gone) =>
    full ? Promise.reject(new Error("disk full")) : storage.vault.saveRoster(changes, gone);
  const vault = { ...storage.vault, saveRoster };
  const book = await openBook(optionsFor(club, club.root, null, { ...storage, vault }));
  open.push(book);
  const body = { root: club.root.key, as: "club", name: "Testers" } as const;
  await book.append([{ kind: "book-opened", body }]);
  await book.roster.write(new Map([[ada, adaWren]]));
  full = true;
  expect(await book.roster.erase([ada], "asked")).toEqual({
    ok: false,
    fault: { type: "not-erased", cause: "Error: disk full" },
  });
  expect([book.roster.get(ada), book.roster.erased(ada)]).toEqual([adaWren, undefined]);
  full = false;
  expect((await book.roster.erase([ada], "asked")).ok).toBe(true);
});

test("a device that dies when the vault has forgotten and the document's store has not finishes when it starts again", async () => {
  const home = rootHome();
  const storage = await storageAt(home.at);
  const stuck: DocStore = { ...storage.rosterStore, wipe: () => Promise.reject(new Error("the power went")) };
  const book = await openBook(optionsFor(club, club.root, null, { ...storage, rosterStore: stuck }));
  open.push(book);
  const body = { root: club.root.key, as: "club", name: "Testers" } as const;
  await book.append([{ kind: "book-opened", body }]);
  await book.roster.write(new Map([[ada, adaWren]]));
  const sealed = copyOf(book, ada);
  expect((await book.roster.erase([ada], "asked")).ok).toBe(true);
  expect(book.trouble()).toMatchObject({ during: "roster" });
  await stop(book);
  expect(filesWith(home.at, sealed)).not.toEqual([]);
  const again = await start(home, null);
  await again.settled();
  await stop(again);
  expect(filesWith(home.at, sealed)).toEqual([]);
});

test("a name is erased in the room of an epoch that was left as well: the relay has none of it, under either epoch", async () => {
  const old = { at: folder(), device: club.root };
  const a = await founded(old);
  const before = copyOf(a, ada);
  await stop(a);
  // The same book in the room of its next epoch, as it is after a bar.
  const epochs = [
    { epoch: 0, secret: club.secret },
    { epoch: 1, secret: systemRandom(32) },
  ];
  const storage = {
    ...(await storageAt(old.at)),
    ...{ rosterStore: createLevelDocStore(join(folder(), "roster"), "roster") },
  };
  const moved = await openBook({ ...optionsFor(club, club.root, relay.origin, storage), epochs });
  open.push(moved);
  await until("the names are in the new room", () => moved.connection().type === "live" && knows(moved));
  await moved.roster.write(new Map([[ada, { name: "Ada Wren", short: "A. Wren" }]]));
  const after = copyOf(moved, ada);
  await until("the relay has both", () => [before, after].every((value) => filesWith(relayFolder, value).length > 0));
  expect((await moved.roster.erase([ada], "asked")).ok).toBe(true);
  await until("it has neither", () => [before, after].every((value) => filesWith(relayFolder, value).length === 0));
  expect(filesWith(relayFolder, copyOf(moved, bo))).not.toEqual([]);
});
