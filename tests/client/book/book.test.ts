/** One book on one device: what is kept, what is refused, and what comes back after a restart. Real LevelDB, real keys. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import type { Book } from "@sward/client";
import { createSigner, openBook, openWire, systemRandom } from "@sward/client";
import { createLevelDocStore, openLevelVault } from "@sward/client/node";
import type { BookId, Draft, PlayerId } from "@sward/core";
import { signingInput } from "@sward/core";
import { afterEach, beforeEach, expect, test } from "vitest";
import * as Y from "yjs";
import { pushEnvelopes } from "../../../packages/client/src/book/ledger-doc.ts";
import { openRoomWire } from "../../../packages/client/src/book/room-wire.ts";
import { seal } from "../../../packages/client/src/book/seal.ts";
import { deriveEpoch } from "../../../packages/client/src/keys/book-keys.ts";
import { relayWith, wireDeps } from "../../support/meeting.ts";
import { stateText } from "../../support/state-text.ts";
import type { Storage, TestBook } from "../../support/two-clubs.ts";
import { forgetful, optionsFor, TODAY, until } from "../../support/two-clubs.ts";

let folder = "";
let book: TestBook;
const player = Buffer.alloc(16, 1).toString("base64url") as PlayerId;
const other = Buffer.alloc(16, 2).toString("base64url") as PlayerId;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "sward-book-"));
  const root = await createSigner(systemRandom(32));
  book = { book: root.id as string as BookId, root, secret: systemRandom(32) };
});
afterEach(() => rm(folder, { recursive: true }));

const onDisk = async (): Promise<Storage> => ({
  vault: await openLevelVault(join(folder, "vault")),
  ledgerStore: createLevelDocStore(join(folder, "ledger"), "ledger"),
  rosterStore: createLevelDocStore(join(folder, "roster"), "roster"),
});

const opening = (): Draft => ({ kind: "book-opened", body: { root: book.root.key, as: "club", name: "Testers" } });
const settled: Draft[] = [
  { kind: "rules-adopted", body: { rules: "england-2016", from: "2026-01-01" } },
  ...[player, other].flatMap((one): Draft[] => [
    { kind: "player-joined", body: { player: one, standing: "member" } },
    { kind: "handicap-set", body: { player: one, handicap: 8, from: "2026-04-01", basis: "initial", reason: "start" } },
  ]),
];
const match = (score: [number, number], date = "2026-05-01"): Draft => ({
  kind: "match-reported",
  body: {
    date,
    occasion: "club-competition",
    n: 1,
    play: "handicap",
    format: 13,
    sides: [[{ player, off: 8 }], [{ player: other, off: 8 }]],
    games: [{ score }],
  },
});

async function opened(storage: Storage, relay: string | null = null): Promise<Book> {
  const made = await openBook(optionsFor(book, book.root, relay, storage));
  await until("the relay is met", () => made.caughtUp());
  if (made.state().as === null) {
    expect((await made.append([opening()])).ok).toBe(true);
    expect((await made.append(settled)).ok).toBe(true);
  }
  return made;
}

test("what was saved is there after a restart, and the chain goes on", async () => {
  const first = await opened(await onDisk());
  await first.append([match([7, 3])]);
  await first.roster.write(new Map([[player, { name: "Ada Wren", short: "Ada W." }]]));
  const before = stateText(first.state());
  const entries = [...first.entries()].length;
  await first.close();

  const again = await opened(await onDisk());
  expect(stateText(again.state())).toBe(before);
  expect(again.roster.get(player)).toEqual({ name: "Ada Wren", short: "Ada W." });
  await again.append([match([7, 4], "2026-05-02")]);
  expect([...again.entries()].length).toBe(entries + 1);
  expect([...again.state().uncounted]).toEqual([]);
  expect(again.state().cards.get(player)?.index).toBe(1320);
  await again.close();
});

test("a vault that will not write: the draft is refused with the cause, and the state is as it was", async () => {
  const storage = await onDisk();
  let broken = false;
  const append = storage.vault.append;
  const vault = {
    ...storage.vault,
    append: (record: Parameters<typeof append>[0]) =>
      broken ? Promise.reject(new Error("disk full")) : append(record),
  };
  const made = await opened({ ...storage, vault });
  const [before, digest] = [stateText(made.state()), made.digest()];
  broken = true;
  expect(await made.append([match([7, 3])])).toEqual({
    ok: false,
    fault: { type: "not-saved", cause: "Error: disk full" },
  });
  expect(made.trouble()).toEqual({ during: "append", cause: "Error: disk full" });
  expect([stateText(made.state()), made.digest()]).toEqual([before, digest]);
  broken = false;
  expect((await made.append([match([7, 3])])).ok).toBe(true);
  expect(made.trouble()).toBe(null);
  expect([...made.state().uncounted]).toEqual([]);
  await made.close();
});

test.each([
  [
    "a score that cannot be",
    match([7, 8]),
    { type: "bad-match", match: { type: "score-cannot-be", game: 1, score: [7, 8] } },
  ],
  [
    "a day that has not come",
    match([7, 3], "2026-08-21"),
    { type: "future-date", field: "date", date: "2026-08-21", today: TODAY },
  ],
  [
    "a player on both sides",
    {
      kind: "match-reported",
      body: { ...(match([7, 3]).body as object), sides: [[{ player, off: 8 }], [{ player, off: 8 }]] },
    } as Draft,
    { type: "bad-match", match: { type: "player-twice", player } },
  ],
  [
    "a handicap the table does not have",
    {
      kind: "match-reported",
      body: { ...(match([7, 3]).body as object), sides: [[{ player, off: 13 }], [{ player: other, off: 8 }]] },
    } as Draft,
    { type: "handicap-not-in-table", handicap: 13, rules: "england-2016" },
  ],
  [
    "a player nobody knows",
    {
      kind: "match-reported",
      body: {
        ...(match([7, 3]).body as object),
        sides: [[{ player: "A".repeat(22), off: 8 }], [{ player: other, off: 8 }]],
      },
    } as Draft,
    { type: "unknown-player", player: "A".repeat(22) },
  ],
  [
    "a field of the wrong form",
    { kind: "match-reported", body: { ...(match([7, 3]).body as object), format: 12 } } as unknown as Draft,
    { type: "bad-draft", kind: "match-reported", path: "format" },
  ],
])("%s is refused by name, and the state is as it was", async (_what, draft, fault) => {
  const made = await opened(await onDisk());
  const before = [stateText(made.state()), made.digest()];
  expect(await made.append([draft])).toEqual({ ok: false, fault });
  // All or none: a good draft beside it is not saved either.
  expect((await made.append([match([7, 1], "2026-06-01"), draft])).ok).toBe(false);
  expect([stateText(made.state()), made.digest()]).toEqual(before);
  await made.close();
});

test("a book that is opening is on its way to the relay, and offline only once somebody has paused it", async () => {
  const relay = await relayWith();
  const said: string[] = [];
  const hear = (made: Book): void => void (said.at(-1) !== made.connection().type && said.push(made.connection().type));
  const storage = await onDisk();
  // Read for longer than nobody looks.
  const attach = (doc: Y.Doc) => sleep(50).then(() => storage.ledgerStore.attach(doc));
  const slow = { ...storage, ledgerStore: { ...storage.ledgerStore, attach } };
  const made = await openBook(optionsFor(book, book.root, relay.origin, slow));
  const timer = setInterval(() => hear(made), 1);
  await until("the relay is met", () => said.includes("live"));
  expect(said).toEqual(["connecting", "live"]);
  made.goOffline();
  await until("it is heard", () => said.length > 2);
  expect(said).toEqual(["connecting", "live", "offline"]);
  clearInterval(timer);
  await made.close();
  await relay.close();
});

test("while what has come is still being checked a device is catching up, and in step when all of it counts", async () => {
  const relay = await relayWith();
  const first = await openBook({ ...optionsFor(book, book.root, relay.origin, forgetful()), entriesPerBlock: 1 });
  await until("the relay is met", () => first.caughtUp());
  expect((await first.append([opening()])).ok).toBe(true);
  expect((await first.append(settled)).ok).toBe(true);
  const score = (n: number): [number, number] => [7, n % 7];
  expect((await first.append(Array.from({ length: 400 }, (_, n) => match(score(n))))).ok).toBe(true);
  await until("it is stored", () => first.waiting() === 0);

  const second = await openBook(optionsFor(book, await createSigner(systemRandom(32)), relay.origin, forgetful()));
  const seen = new Set<string>();
  const stop = second.subscribe(() => {
    const connection = second.connection();
    if (connection.type === "live") seen.add(`${second.progress() === null ? "read" : "reading"} ${connection.synced}`);
  });
  await until("all is there", () => second.state().entries === first.state().entries);
  await until("in step", () => seen.has("read true"));
  expect(seen).toContain("reading false");
  expect(seen).not.toContain("reading true");
  stop();
  await second.close();
  await first.close();
  await relay.close();
});

test("a device that is not admitted, or only reads, is told so", async () => {
  const relay = await relayWith();
  const root = await opened(await onDisk(), relay.origin);
  const reader = await createSigner(systemRandom(32));
  const stranger = await createSigner(systemRandom(32));
  await root.append([{ kind: "device-admitted", body: { device: reader.key, role: "reader" } }]);
  for (const [device, role] of [
    [reader, "reader"],
    [stranger, "none"],
  ] as const) {
    const made = await openBook(optionsFor(book, device, relay.origin));
    await until("in step", () => made.caughtUp() && made.digest() === root.digest());
    expect(await made.append([match([7, 3])])).toEqual({
      ok: false,
      fault: { type: "may-not", kind: "match-reported", role },
    });
    await made.close();
  }
  await root.close();
  await relay.close();
});

test("forged, foreign and unreadable envelopes from a member of the room change nothing, and stop nothing", async () => {
  const relay = await relayWith();
  const made = await opened(await onDisk(), relay.origin);
  const recorder = await createSigner(systemRandom(32));
  const stranger = await createSigner(systemRandom(32));
  await made.append([{ kind: "device-admitted", body: { device: recorder.key, role: "recorder" } }]);
  await until("stored", () => made.waiting() === 0);

  // Whoever has the book's secret may write in its room: everything else is for the signatures to say.
  const keys = await deriveEpoch(book.book, { epoch: 0, secret: book.secret });
  const doc = new Y.Doc();
  const room = { kind: "ledger", signer: keys.ledgerRoom, doc, dial: true } as const;
  const wire = openRoomWire({ relay: { url: relay.origin, open: openWire, deps: wireDeps } }, room);
  await until("in the room", () => doc.store.clients.size > 0);

  const at = "2026-05-01T10:00:00Z";
  const report = (date: string) => ({ v: 1, at, kind: "match-reported", body: match([7, 0], date).body });
  const root = [...made.entries()].length - 1;
  const last = [...made.entries()].at(-1);
  const asRoot = { ...report("2026-07-01"), book: book.book, seq: root + 1, prev: last?.id ?? null };
  const forged = `${signingInput(book.root.id, asRoot)}.${(await stranger.signEntry(asRoot)).split(".")[2]}`;
  const unadmitted = await stranger.signEntry({ ...report("2026-07-02"), book: book.book, seq: 0, prev: null });
  const otherBook = stranger.id as string as BookId;
  const elsewhere = await recorder.signEntry({ ...report("2026-07-03"), book: otherBook, seq: 0, prev: null });
  const good = await recorder.signEntry({ ...report("2026-07-04"), book: book.book, seq: 0, prev: null });
  pushEnvelopes(doc, [
    await seal(book.book, keys, [forged, unadmitted, elsewhere, "no entry at all", ""], systemRandom),
    Uint8Array.of(1, 0, 0, 0, 0, ...systemRandom(60)),
    Uint8Array.of(1, 0, 0, 0, 9, ...systemRandom(60)),
    await seal(otherBook, keys, [good], systemRandom),
    await seal(book.book, keys, [good], systemRandom),
  ]);
  await until("the good one arrived", () => made.state().matches.size > 0);
  await made.settled();
  expect([...made.state().matches.values()].map(({ facts }) => facts?.date)).toEqual(["2026-07-04"]);
  expect([...made.state().uncounted]).toEqual([]);
  // The forged entry has not taken the place of the root's next one.
  expect((await made.append([match([7, 2], "2026-06-02")])).ok).toBe(true);
  expect(made.state().cards.get(player)?.index).toBe(1320);
  await wire?.close();
  await made.close();
  await relay.close();
});

test("what arrives while the disk is full is taken when it is not: nothing is passed over for good", async () => {
  const relay = await relayWith();
  const made = await opened(await onDisk(), relay.origin);
  const recorder = await createSigner(systemRandom(32));
  await made.append([{ kind: "device-admitted", body: { device: recorder.key, role: "recorder" } }]);
  await until("stored", () => made.waiting() === 0);
  const storage = forgetful();
  let full = false;
  const vault = {
    ...storage.vault,
    append: (record: Parameters<typeof storage.vault.append>[0]) =>
      full ? Promise.reject(new Error("full")) : storage.vault.append(record),
  };
  const other = await openBook(optionsFor(book, recorder, relay.origin, { ...storage, vault }));
  await until("in step", () => other.caughtUp() && other.digest() === made.digest());
  full = true;
  await made.append([match([7, 3])]);
  await until("in trouble", () => other.trouble()?.during === "arrive");
  expect(other.state().matches.size).toBe(0);
  full = false;
  await made.append([match([7, 4], "2026-05-02")]);
  await until("both are there", () => other.state().matches.size === 2);
  expect(other.trouble()).toBe(null);
  await other.close();
  await made.close();
  await relay.close();
});

test("a device that comes back with nothing of its own writes only after it has read its own chain: no fork, ever", async () => {
  const relay = await relayWith();
  const first = await opened(await onDisk(), relay.origin);
  await first.append([match([7, 3])]);
  await until("stored", () => first.waiting() === 0);
  await first.close();

  const again = await openBook(optionsFor(book, book.root, relay.origin));
  expect(again.caughtUp()).toBe(false);
  expect(await again.append([match([7, 4], "2026-05-02")])).toEqual({ ok: false, fault: { type: "not-caught-up" } });
  await until("caught up", () => again.caughtUp());
  expect((await again.append([match([7, 4], "2026-05-02")])).ok).toBe(true);
  expect([...again.state().uncounted]).toEqual([]);
  expect(again.state().devices.get(book.root.id)?.forkedAt).toBe(null);
  await again.close();
  await relay.close();
});

test("one key in two places at once is noticed, and neither goes on to spoil the chain", async () => {
  const relay = await relayWith();
  const one = await opened(await onDisk(), relay.origin);
  await until("stored", () => one.waiting() === 0);
  const two = await openBook(optionsFor(book, book.root, relay.origin));
  await until("caught up", () => two.caughtUp());
  expect((await two.append([match([7, 4], "2026-05-02")])).ok).toBe(true);
  await until("the first has it", () => one.state().matches.size === 1);
  expect(await one.append([match([7, 3])])).toEqual({ ok: false, fault: { type: "used-elsewhere" } });

  // Both offline at once they do fork: then both say that nothing more counts.
  two.goOffline();
  expect((await two.append([match([7, 5], "2026-05-03")])).ok).toBe(true);
  const three = await openBook(optionsFor(book, book.root, relay.origin));
  await until("caught up", () => three.caughtUp());
  expect((await three.append([match([7, 6], "2026-05-04")])).ok).toBe(true);
  two.goOnline();
  await until("the fork is seen", () => two.state().devices.get(book.root.id)?.forkedAt !== null);
  for (const book of [two, three]) {
    await until("refused", () => book.state().questions.some(({ about }) => about === "forked-device"));
    expect((await book.append([match([7, 0], "2026-05-05")])).ok).toBe(false);
  }
  for (const book of [one, two, three]) await book.close();
  await relay.close();
});
