/**
 * A record of many reports lies in columns. What comes back is what was written, to the byte, whatever its reports say and whatever lies
 * between them; and a vault that was written in rows goes on and is rewritten.
 */
import type { HeldEntry, Place, Signer } from "@sward/client";
import { createSigner } from "@sward/client";
import type { BookId, EntryId, EntryOf, Payload } from "@sward/core";
import { createLedger, decodeEntry } from "@sward/core";
import fc from "fast-check";
import { beforeAll, expect, test } from "vitest";
import { inSteps } from "../../../packages/client/src/book/breathing.ts";
import { KeptEntry } from "../../../packages/client/src/book/kept-entry.ts";
import { readRecords, rewritten } from "../../../packages/client/src/book/vault.ts";
import { createRecordReader, decodeRecord, encodeRecord } from "../../../packages/client/src/book/vault-record.ts";
import { played } from "../../support/cast.ts";
import { reportedBodies } from "../../support/reported.ts";

const SEED = 20261127;

let signers: readonly Signer[] = [];
let book: BookId;
beforeAll(async () => {
  signers = await Promise.all([3, 4].map((fill) => createSigner(new Uint8Array(32).fill(fill))));
  book = signers[0]!.id as string as BookId;
});

interface Said extends Pick<Payload, "kind" | "body"> {
  readonly by: number;
  readonly at: string;
  readonly place: Place | null;
}

const NOON = "2026-05-01T12:00:00Z";
const usual = (seq: number): Said => ({
  ...{ kind: "match-reported", by: seq % 2, at: NOON, place: { client: 4_000_000_000, clock: seq } },
  body: { ...played("2026-05-01", "ada 7", "ben 9", seq % 2 === 0 ? "7-4" : "4-7") },
});

/** What two say in turn, each a chain of his own. */
async function written(said: readonly Said[]): Promise<HeldEntry[]> {
  const chains = signers.map(() => ({ seq: 0, prev: null as EntryId | null }));
  const held: HeldEntry[] = [];
  for (const { kind, body, by, at, place } of said) {
    const chain = chains[by]!;
    const jws = await signers[by]!.signEntry({ v: 1, book, seq: chain.seq, prev: chain.prev, at, kind, body });
    const decoded = decodeEntry(jws);
    if (!decoded.ok) throw new Error(decoded.fault.type);
    const { id, understood } = decoded.value;
    held.push({ id, jws, understood, place });
    chains[by] = { seq: chain.seq + 1, prev: id };
  }
  return held;
}

const plain = ({ id, jws, understood, place }: HeldEntry): HeldEntry => ({ id, jws, understood, place });
const asRead = ({ jws, place }: HeldEntry): KeptEntry => {
  const decoded = decodeEntry(jws);
  if (!decoded.ok) throw new Error(decoded.fault.type);
  return KeptEntry.ofRead(decoded.value, jws, place);
};
const hasColumns = (text: string): boolean => "reports" in (JSON.parse(text) as object);

const oneOf = fc.constantFrom;
const other = oneOf<Pick<Said, "kind" | "body">>(
  { kind: "policy-set", body: { unconfirmed: "waits" } },
  { kind: "lawn-mown", body: { lawn: 1 } },
  { kind: "entry-withdrawn", body: { withdraws: "x".repeat(43), reason: 'ünïcode 😀 "quoted" \\ \u2028' } },
);
const said = fc.record({
  of: fc.oneof(
    { weight: 5, arbitrary: reportedBodies.map((of) => ({ kind: "match-reported", body: { ...of } })) },
    other,
  ),
  by: oneOf(0, 1),
  // The last two are no time that a clock shows.
  at: oneOf(NOON, "2026-05-02T09:30:59Z", "1999-12-31T23:59:59Z", "2026-13-01T10:00:00Z"),
  place: fc.option(
    fc.record(
      { client: oneOf(7, 4_294_967_295), clock: fc.nat(), volume: oneOf(1, 9) },
      { requiredKeys: ["client", "clock"] },
    ),
  ),
});

test(`LE6 every text and place comes back from columns: as it came, as it was read, and as it lies in an open book (seed ${SEED})`, async () => {
  let [columned, rows] = [0, 0];
  await fc.assert(
    fc.asyncProperty(fc.array(said, { minLength: 17, maxLength: 40 }), async (all) => {
      const held = await written(all.map(({ of, ...rest }) => ({ ...of, ...rest }) as Said));
      const texts = [held, held.map(asRead)].map((entries) => encodeRecord({ entries, sealed: [] }));
      const [first, second] = texts.map((text) => JSON.parse(text));
      expect(second).toEqual(first);
      if (hasColumns(texts[0]!)) columned += 1;
      const read = decodeRecord(texts[0]!).entries as KeptEntry[];
      expect(read.map(plain)).toEqual(held);
      rows += (JSON.parse(texts[0]!) as { entries: unknown[] }).entries.filter(Array.isArray).length;
      expect(JSON.parse(encodeRecord({ entries: read, sealed: [] }))).toEqual(first);
      const ledger = createLedger(book);
      ledger.add(read.flatMap(({ entry }) => (entry === null ? [] : [{ entry }])));
      for (const one of read) one.share(ledger.entry(one.id));
      expect(read.map(plain)).toEqual(held);
      // The same in three records, of which the last is too short for columns.
      const parts = [held.slice(0, 8), held.slice(8, held.length - 1), held.slice(-1)];
      const reader = createRecordReader();
      const three = await Promise.all(parts.map((entries) => inSteps(reader(encodeRecord({ entries })), () => null)));
      expect(three.flatMap(({ entries }) => entries.map(plain))).toEqual(held);
    }),
    { seed: SEED, numRuns: 40 },
  );
  expect(columned).toBeGreaterThan(30);
  expect(rows).toBeGreaterThan(100);
});

test("a report whose moment or id is none that a column holds stays in a row, and its neighbours keep their order", async () => {
  const all = Array.from({ length: 20 }, (_, seq) => ({
    ...usual(seq),
    ...(seq === 5 ? { at: "1999-01-01T00:00:00Z" } : {}),
  }));
  const held = await written(all);
  held[9] = { ...held[9]!, id: "short" as EntryId };
  const text = encodeRecord({ entries: held });
  const items = (JSON.parse(text) as { entries: unknown[] }).entries;
  expect(items.map((item) => (typeof item === "number" ? item : "row"))).toEqual([5, "row", 3, "row", 10]);
  expect(decodeRecord(text).entries.map(plain)).toEqual(held);
});

test("a few entries are written in rows, which is what saving a match writes", async () => {
  const held = await written(Array.from({ length: 16 }, (_, seq) => usual(seq)));
  expect([held.slice(0, 15), held].map((entries) => hasColumns(encodeRecord({ entries })))).toEqual([false, true]);
});

test("what many reports say alike is written once, and is one object when it is read, from whichever record", async () => {
  const held = await written(Array.from({ length: 200 }, (_, seq) => usual(seq)));
  const texts = [held.slice(0, 100), held.slice(100)].map((entries) => encodeRecord({ entries }));
  // An id, a signature and some numbers; a row of the same has four hundred letters.
  expect(Math.max(...texts.map(({ length }) => length))).toBeLessThan(100 * 200);
  const reader = createRecordReader();
  const read = [];
  for (const text of texts) read.push(...(await inSteps(reader(text), () => null)).entries);
  const facts = read.map((one) => ((one as KeptEntry).entry as EntryOf<"match-reported"> & { facts: object }).facts);
  for (const { sides, games } of facts as { sides: unknown; games: unknown[] }[]) {
    expect(sides).toBe((facts[0] as { sides: unknown }).sides);
    expect([facts[0], facts[1]].map((one) => (one as { games: unknown }).games)).toContain(games);
  }
});

test("others have their turn while columns are read", async () => {
  const held = await written(Array.from({ length: 200 }, (_, seq) => usual(seq)));
  let turns = 0;
  const read = await inSteps(createRecordReader()(encodeRecord({ entries: held })), () => {
    turns += 1;
    return null;
  });
  expect(read.entries.length).toBe(200);
  expect(turns).toBeGreaterThanOrEqual(1 + Math.floor(200 / 40));
});

test("LE6 a vault that was written in rows is read, and in columns when it is rewritten", async () => {
  const held = await written(Array.from({ length: 40 }, (_, seq) => usual(seq)));
  const rows = held.map((one) => encodeRecord({ entries: [one] }));
  expect(rows.some(hasColumns)).toBe(false);
  const contents = readRecords(rows.map(decodeRecord));
  expect([...contents.entries.values()].map(plain)).toEqual(held);
  const [text = "", ...none] = rewritten(contents).map(encodeRecord);
  expect([hasColumns(text), none.length]).toEqual([true, 0]);
  expect(decodeRecord(text).entries.map(plain)).toEqual(held);
});

test("a record's columns as they are written: who has a vault of this version has these", async () => {
  const held = await written(Array.from({ length: 16 }, (_, seq) => usual(seq)));
  const { v, authors, entries, reports } = JSON.parse(encodeRecord({ entries: held }));
  const [one, two] = signers.map(({ id }) => id);
  expect({ v, authors, entries }).toEqual({ v: 3, authors: [], entries: [16] });
  expect(reports.ids).toBe(held.map(({ id }) => id).join(""));
  expect(reports.signatures).toBe(held.map(({ jws }) => jws.slice(jws.lastIndexOf(".") + 1)).join(""));
  expect({ ...reports, ids: "", signatures: "", numbers: reports.numbers.slice(0, 42) }).toEqual({
    ids: "",
    signatures: "",
    hands: [
      [one, book],
      [two, book],
    ],
    days: ["2026-05-01"],
    kinds: [["club-competition", "handicap", 13, 0]],
    // Ben's id is the first of the two.
    sides: [[{ player: expect.any(String), off: 9 }], [{ player: expect.any(String), off: 7 }]],
    games: [[{ score: [4, 7] }], [{ score: [7, 4] }]],
    more: [],
    prevs: [null, null],
    numbers: [
      ...[0, 0, 1, expect.any(Number), 0, 0, 0, 1, 0, expect.any(Number), 0, 4_000_000_000, 0, 0],
      ...[1, 0, 2, expect.any(Number), 0, 0, 0, 1, 1, expect.any(Number), 0, 4_000_000_000, 1, 0],
      ...[0, 1, 0, expect.any(Number), 0, 0, 0, 1, 0, expect.any(Number), 0, 4_000_000_000, 2, 0],
    ],
  });
});
