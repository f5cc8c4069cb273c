/** The form of a vault's records: what comes back is what was written, to the byte, and what the first form wrote is still read. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { HeldEntry, Place, Signer, VaultRecord } from "@sward/client";
import { createSigner } from "@sward/client";
import { openLevelVault } from "@sward/client/node";
import type { BookId, EntryId, Payload } from "@sward/core";
import { createLedger, decodeEntry } from "@sward/core";
import { ClassicLevel } from "classic-level";
import fc from "fast-check";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { inSteps } from "../../../packages/client/src/book/breathing.ts";
import { KeptEntry } from "../../../packages/client/src/book/kept-entry.ts";
import { recallEntries } from "../../../packages/client/src/book/recall.ts";
import { readRecords, rewritten } from "../../../packages/client/src/book/vault.ts";
import { createRecordReader, decodeRecord, encodeRecord } from "../../../packages/client/src/book/vault-record.ts";
import { played } from "../../support/cast.ts";

const SEED = 20261127;

let folder = "";
let root: Signer;
let book: BookId;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "sward-records-"));
  root = await createSigner(new Uint8Array(32).fill(3));
  book = root.id as string as BookId;
});
afterAll(() => rm(folder, { recursive: true }));

const placeOf = (seq: number): Place | null =>
  seq % 3 === 0 ? null : { client: 4_000_000_000 + (seq % 4), clock: seq, ...(seq % 3 === 1 ? {} : { volume: seq }) };

type Said = Pick<Payload, "kind" | "body">;

const report = (body: object): Said => ({ kind: "match-reported", body: { ...body } });

/** What the root says in turn, a chain from its opening on; each in a place of its own. */
async function written(said: readonly Said[], at = "2026-05-01T10:00:00Z"): Promise<HeldEntry[]> {
  const opening: Said = { kind: "book-opened", body: { root: root.key, as: "club", name: "Ünïcode 😀 \u2028" } };
  const held: HeldEntry[] = [];
  let prev: EntryId | null = null;
  for (const [seq, { kind, body }] of [opening, ...said].entries()) {
    const jws = await root.signEntry({ v: 1, book, seq, prev, at, kind, body });
    const decoded = decodeEntry(jws);
    if (!decoded.ok) throw new Error(decoded.fault.type);
    const { id, understood } = decoded.value;
    held.push({ id, jws, understood, place: placeOf(seq) });
    prev = id;
  }
  return held;
}

const plain = ({ id, jws, understood, place }: HeldEntry): HeldEntry => ({ id, jws, understood, place });

/** As an arrival is handed to the vault. */
function readFrom({ jws, place }: HeldEntry): KeptEntry {
  const decoded = decodeEntry(jws);
  if (!decoded.ok) throw new Error(decoded.fault.type);
  return KeptEntry.ofRead(decoded.value, jws, place);
}

/** As an open book holds them: after this they are the ledger's own entries. */
function inABook(kept: readonly KeptEntry[]): void {
  const ledger = createLedger(book);
  ledger.add([...recallEntries(kept).values()].map((entry) => ({ entry })));
  for (const one of kept) one.share(ledger.entry(one.id));
}

test(`LE6 every text comes back to the byte: from the record, from the open book, and written again (seed ${SEED})`, async () => {
  const seat = fc.record({ player: fc.constantFrom("ada", "ben", "cat", "dan"), off: fc.integer({ min: -3, max: 9 }) });
  const body = fc
    .record({
      seats: fc.tuple(seat, seat, seat, seat),
      doubles: fc.boolean(),
      start: fc.constantFrom(undefined, "10:30"),
      excluded: fc.boolean(),
      hoops: fc.constantFrom(undefined, [0, 1, 1]),
      won: fc.boolean(),
    })
    .map(({ seats, doubles, start, excluded, hoops, won }) => {
      const match = played("2026-05-01", "ada 7", "ben 9", won ? "7-4" : "4-7");
      const sides = (doubles ? [seats.slice(0, 2), seats.slice(2)] : [[seats[0]], [seats[1]]]).map((side) =>
        side.map(({ player, off }) => ({ player: player.padEnd(22, "_"), off })),
      );
      const games = hoops === undefined ? match.games : match.games.map((game) => ({ ...game, hoops }));
      return report({ ...match, sides, games, ...(start ? { start } : {}), ...(excluded ? { excluded } : {}) });
    });
  const other = fc.constantFrom<Said>(
    { kind: "policy-set", body: { unconfirmed: "waits" } },
    { kind: "entry-withdrawn", body: { withdraws: "x".repeat(43), reason: 'ünïcode 😀 "quoted" \\ \u2028 \u0007' } },
    { kind: "lawn-mown", body: { lawn: 1 } },
    { kind: "league-rules-set", body: { rules: { "10": 1, "9": [2, { b: null, a: true }] }, from: "2026-05-01" } },
  );
  let small = 0;
  await fc.assert(
    fc.asyncProperty(fc.array(fc.oneof(body, other), { maxLength: 8 }), async (said) => {
      const held = await written(said);
      const text = encodeRecord({ entries: held });
      for (const { jws, understood } of held) if (understood && !text.includes(jws)) small += 1;
      const first = decodeRecord(text).entries as KeptEntry[];
      expect(first.map(plain)).toEqual(held);
      inABook(first);
      expect(first.map(plain)).toEqual(held);
      expect(first.map((one) => one.at(null).jws)).toEqual(held.map(({ jws }) => jws));
      expect(decodeRecord(encodeRecord({ entries: first })).entries.map(plain)).toEqual(held);
      // As they came, before a store has seen them.
      const fresh = held.map(KeptEntry.ofText);
      inABook(fresh);
      expect(fresh.map(plain)).toEqual(held);
      const read = held.map(readFrom);
      expect(read.map(plain)).toEqual(held);
      const ofRead = encodeRecord({ entries: read });
      expect(decodeRecord(ofRead).entries.map(plain)).toEqual(held);
      expect(ofRead.length).toBe(text.length);
      inABook(read);
      expect(read.map(plain)).toEqual(held);
    }),
    { seed: SEED, numRuns: 60 },
  );
  expect(small).toBeGreaterThan(100);
});

test("of entries that were read, no text is made to write them", async () => {
  const held = await written([report(played("2026-05-01", "ada 7", "ben 9", "7-4"))]);
  const made = vi.spyOn(KeptEntry.prototype, "jws", "get");
  try {
    encodeRecord({ entries: held.map(readFrom) });
    expect(made).not.toHaveBeenCalled();
    encodeRecord({ entries: held.map(KeptEntry.ofText) });
    expect(made).toHaveBeenCalled();
  } finally {
    made.mockRestore();
  }
});

test("LE6 a text that would not come back as it is stays whole: one not understood, one that is no entry, one written otherwise", async () => {
  const [good] = await written([]);
  const [header = "", , signature = ""] = (good as HeldEntry).jws.split(".");
  const spaced = Buffer.from('{ "v": 1, "kind": "policy-set", "body": {} }').toString("base64url");
  const shuffled = Buffer.from('{"v":1,"kind":"x","body":{}}').toString("base64url");
  const texts = [
    "",
    "a.b.c",
    "e30.e30",
    `${header}.${spaced}.${signature}`,
    `${header}.${shuffled}.${signature}`,
    "e30.e30.sig",
  ];
  const odd = texts.map((jws, n): HeldEntry => ({ id: `odd ${n}` as EntryId, jws, understood: true, place: null }));
  const [, mown] = await written([{ kind: "lawn-mown", body: { lawn: 1 } }]);
  const all = [...odd, mown as HeldEntry];
  expect(decodeRecord(encodeRecord({ entries: all })).entries.map(plain)).toEqual(all);
});

test("a record is read in steps: others have their turn when it has been parsed, and again after every few entries", async () => {
  const said: Said = { kind: "policy-set", body: { unconfirmed: "waits" } };
  const held = await written(Array.from({ length: 99 }, () => said));
  const reading = createRecordReader()(encodeRecord({ entries: held, sealed: [] }));
  let turns = 0;
  const read = await inSteps(reading, () => {
    turns += 1;
    return null;
  });
  expect(read.entries.map((one) => plain(one))).toEqual(held);
  expect(read.sealed).toEqual([]);
  expect(turns).toBeGreaterThanOrEqual(1 + Math.floor(held.length / 10));
});

test("a record keeps what else is in it", () => {
  const place = { client: 7, clock: 3 };
  const record: VaultRecord = {
    entries: [],
    unchecked: [{ jws: "u.u.u", place }],
    placed: [{ id: "a" as EntryId, place }],
    sealed: [place],
    unread: true,
    lodging: { room: "r" as never, epochs: [{ epoch: 1, secret: "s" }] },
  };
  expect(decodeRecord(encodeRecord(record))).toEqual(record);
});

test("that the record was not read to its end is kept until something else is said, and when it is rewritten", () => {
  const [nothing, begun, ended] = [{ entries: [] }, { entries: [], unread: true }, { entries: [], unread: false }];
  const after = (...records: VaultRecord[]) => readRecords(records);
  expect([after(nothing), after(begun, nothing), after(begun, ended, nothing)].map(({ unread }) => unread)).toEqual([
    false,
    true,
    false,
  ]);
  for (const contents of [after(begun), after(begun, ended)])
    expect(readRecords(rewritten(contents)).unread).toBe(contents.unread);
});

test("LE6 a vault as it was first written is read, goes on, and is rewritten in the new form", async () => {
  const held = await written([report(played("2026-05-01", "ada 7", "ben 9", "7-4")), { kind: "lawn-mown", body: {} }]);
  const records: VaultRecord[] = [{ entries: held.slice(0, 2) }, { entries: held.slice(2), sealed: [] }];
  const db = new ClassicLevel<string, string>(join(folder, "first"), { valueEncoding: "utf8" });
  for (const [n, record] of records.entries())
    await db.put(`record/${String(n).padStart(12, "0")}`, JSON.stringify(record));
  await db.close();

  const vault = await openLevelVault(join(folder, "first"));
  const contents = readRecords(await vault.load());
  expect([...contents.entries.values()].map(plain)).toEqual(held);
  expect([...recallEntries(contents.entries.values())].map(([id]) => id)).toEqual(held.map(({ id }) => id));
  await vault.replace(rewritten(contents));
  await vault.append({ entries: [], placed: [{ id: held[0]!.id, place: { client: 1, clock: 2 } }] });
  await vault.close();

  const again = await openLevelVault(join(folder, "first"));
  const [first] = [...readRecords(await again.load()).entries.values()];
  expect(first && plain(first)).toEqual({ ...held[0], place: { client: 1, clock: 2 } });
  expect(first?.entry?.kind).toBe("book-opened");
  await again.close();
});
