/**
 * A record of many reports lies in columns. What comes back is what was written, to the byte, whatever its reports say and whatever lies
 * between them; and a vault that was written in rows goes on and is rewritten.
 */
import type { HeldEntry, Place, Signer, VaultRecord } from "@sward/client";
import { createSigner } from "@sward/client";
import type { BookId, EntryId, EntryOf, Payload } from "@sward/core";
import { createLedger, decodeEntry } from "@sward/core";
import fc from "fast-check";
import { beforeAll, expect, test } from "vitest";
import { inSteps } from "../../../packages/client/src/book/breathing.ts";
import { KeptEntry } from "../../../packages/client/src/book/kept-entry.ts";
import { readRecords, rewritten } from "../../../packages/client/src/book/vault.ts";
import { createRecordReader, decodeRecord, encodeRecord } from "../../../packages/client/src/book/vault-record.ts";
import { checkMatch, matchFacts, matchKey } from "../../../packages/core/src/matches/identity.ts";
import { canBe, factsOf, keyOfReport } from "../../../packages/core/src/matches/kept-report.ts";
import { played, player } from "../../support/cast.ts";
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
const itself = <T>(id: T): T => id;
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
  // The last two are not kept as numbers.
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
      const reports = read.flatMap(({ entry }) => (entry?.kind === "match-reported" ? [entry] : []));
      expect(reports.map(canBe)).toEqual(reports.map(({ body }) => checkMatch(body) === null));
      expect(reports.map((one) => [factsOf(one, itself), keyOfReport(one, itself)])).toEqual(
        reports.map(({ body }) => [matchFacts(body, itself), matchKey(body, itself)]),
      );
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

/** As the app before this one wrote a record: every entry in a row. */
const inRows = (held: readonly HeldEntry[]): string => {
  const authors = signers.map(({ id }) => id);
  const entries = held.map(({ id, jws, place }) => {
    const [header, payload, signature] = jws.split(".");
    const [{ kid }, said] = [header, payload].map((part) =>
      JSON.parse(Buffer.from(part ?? "", "base64url").toString()),
    );
    return [id, authors.indexOf(kid), said, signature, place?.client ?? null, place?.clock ?? null];
  });
  return JSON.stringify({ v: 2, authors, entries });
};

test("LE6 a vault that was written in rows is read, in steps, and in columns when it is rewritten", async () => {
  const held = await written(Array.from({ length: 40 }, (_, seq) => usual(seq)));
  let turns = 0;
  const record = await inSteps(createRecordReader()(inRows(held)), () => {
    turns += 1;
    return null;
  });
  expect(turns).toBeGreaterThanOrEqual(4);
  const contents = readRecords([record, ...held.map((one) => decodeRecord(encodeRecord({ entries: [one] })))]);
  expect([...contents.entries.values()].map(plain)).toEqual(held);
  const [text = "", ...none] = rewritten(contents).map(encodeRecord);
  expect([hasColumns(text), none.length]).toEqual([true, 0]);
  expect(decodeRecord(text).entries.map(plain)).toEqual(held);
});

test("two records that are read in turns, a step of each, are read as one after the other", async () => {
  const held = await written(Array.from({ length: 200 }, (_, seq) => usual(seq)));
  const reader = createRecordReader();
  const both = [held.slice(0, 100), held.slice(100)].map((entries) => reader(encodeRecord({ entries })));
  const read: VaultRecord[] = [];
  for (let left = both; left.length > 0; ) {
    left = left.filter((steps) => {
      const step = steps.next();
      if (step.done === true) read.push(step.value);
      return step.done !== true;
    });
  }
  expect(read.flatMap(({ entries }) => entries.map(plain))).toEqual(held);
});

test("a record that counts other reports than it has, or is of a form to come, is refused and not taken for less", async () => {
  const held = await written(Array.from({ length: 20 }, (_, seq) => usual(seq)));
  const good = JSON.parse(encodeRecord({ entries: held }));
  const cut = { ...good.reports, numbers: good.reports.numbers.slice(14) };
  for (const bad of [
    { ...good, reports: undefined },
    { ...good, entries: [19] },
    { ...good, entries: [20, 1] },
    { ...good, reports: cut },
    { ...good, entries: [19], reports: cut },
    { ...good, v: 4 },
    { ...good, reports: { ...good.reports, prevs: [] } },
    { ...good, reports: { ...good.reports, games: [] } },
  ])
    expect(() => decodeRecord(JSON.stringify(bad)), JSON.stringify(bad.entries)).toThrow(RangeError);
  expect(decodeRecord(JSON.stringify(good)).entries.length).toBe(20);
});

test("of a report no more is written than was signed: whether it can be, and which side comes first, is found on reading", async () => {
  const match = played("2026-05-01", "ada 7", "ben 9", "7-4");
  const cannotBe = { ...match, games: [{ score: [7, 7] as const }] };
  const held = await written(Array.from({ length: 16 }, (_, seq) => ({ ...usual(seq), body: { ...cannotBe } })));
  const record = JSON.parse(encodeRecord({ entries: held }));
  const can = ({ entries }: VaultRecord): boolean[] =>
    entries.map((one) => canBe((one as KeptEntry).entry as EntryOf<"match-reported">));
  expect(new Set(can(decodeRecord(JSON.stringify(record))))).toEqual(new Set([false]));
  record.reports.games = [[{ score: [7, 4] }]];
  expect(new Set(can(decodeRecord(JSON.stringify(record))))).toEqual(new Set([true]));
  // An extra stroke taken by a partner whom nobody has, which a score pad says beside the score.
  const games = [{ score: [7, 4] as const, taken: [{ side: 0 as const, seat: 1 as const, hoop: 3 }] }];
  const odd = await written(Array.from({ length: 16 }, (_, seq) => ({ ...usual(seq), body: { ...match, games } })));
  expect(new Set(can(decodeRecord(encodeRecord({ entries: odd }))))).toEqual(new Set([false]));
});

test("a record's columns as they are written: who has a vault of this version has these", async () => {
  const pairs = played("2026-05-01", "cat 7 + ada 9", "ben 9 + dan 2", "4-7");
  const more = { start: "10:30" };
  const held = await written(
    Array.from({ length: 16 }, (_, seq) => (seq > 2 ? { ...usual(seq), body: { ...pairs, ...more } } : usual(seq))),
  );
  const { v, authors, entries, reports } = JSON.parse(encodeRecord({ entries: held }));
  const [one, two] = signers.map(({ id }) => id);
  expect({ v, authors, entries }).toEqual({ v: 3, authors: [], entries: [16] });
  expect(reports.ids).toBe(held.map(({ id }) => id).join(""));
  expect(reports.signatures).toBe(held.map(({ jws }) => jws.slice(jws.lastIndexOf(".") + 1)).join(""));
  const side = (...of: readonly (readonly [string, number])[]) =>
    of.map(([name, off]) => ({ player: player(name), off }));
  expect({ ...reports, ids: "", signatures: "", numbers: reports.numbers.slice(0, 4 * 14) }).toEqual({
    ...{ ids: "", signatures: "" },
    hands: [
      [one, book],
      [two, book],
    ],
    days: ["2026-05-01"],
    kinds: [["club-competition", "handicap", 13, 0]],
    // As they were signed: in the facts Ben is on the first side, and of each pair the other comes first.
    sides: [side(["ada", 7]), side(["ben", 9]), side(["cat", 7], ["ada", 9]), side(["ben", 9], ["dan", 2])],
    games: [[{ score: [7, 4] }], [{ score: [4, 7] }]],
    more: Array.from({ length: 13 }, () => more),
    prevs: [null, null],
    // The moment, which is noon on the first of May 2026, counts seconds as if every month had 31 days.
    numbers: [
      ...[0, 0, 1, 846_417_600, 0, 0, 1, 0, 1, 0, 0, 4_000_000_000, 0, 0],
      ...[1, 0, 2, 846_417_600, 0, 0, 1, 0, 1, 1, 0, 4_000_000_000, 1, 0],
      ...[0, 1, 0, 846_417_600, 0, 0, 1, 0, 1, 0, 0, 4_000_000_000, 2, 0],
      ...[1, 1, 0, 846_417_600, 0, 0, 1, 2, 3, 1, 1, 4_000_000_000, 3, 0],
    ],
  });
  expect(decodeRecord(JSON.stringify({ v, authors, entries, reports })).entries.map(plain)).toEqual(held);
});
