/** Which texts become entries, whatever the order they come in, and which only look like one. Real keys and signatures. */
import { fail } from "node:assert";
import type { Signer } from "@sward/client";
import { createSigner, createVerifier } from "@sward/client";
import type { BookId, EntryId, PublicKey } from "@sward/core";
import { createLedger, decodeEntry, signingInput } from "@sward/core";
import { beforeEach, expect, test } from "vitest";
import type { Filing, Incoming } from "../../../packages/client/src/book/intake.ts";
import { fromList, SLICE, takeIn } from "../../../packages/client/src/book/intake.ts";
import { KeptEntry } from "../../../packages/client/src/book/kept-entry.ts";
import { KeptReport } from "../../../packages/core/src/matches/kept-report.ts";
import { played } from "../../support/cast.ts";

let root: Signer;
let recorder: Signer;
let stranger: Signer;
let book: BookId;

beforeEach(async () => {
  const signer = (fill: number) => createSigner(new Uint8Array(32).fill(fill));
  [root, recorder, stranger] = await Promise.all([signer(1), signer(2), signer(3)]);
  book = root.id as string as BookId;
});

const payload = (seq: number, kind: string, body: Record<string, unknown>) => ({
  v: 1,
  book,
  seq,
  prev: null,
  at: "2026-05-01T10:00:00Z",
  kind,
  body,
});
const admits = (device: PublicKey, seq = 1) => payload(seq, "device-admitted", { device, role: "recorder" });
const joins = (seq: number) => payload(seq, "player-joined", { player: "A".repeat(22), standing: "visitor" });

const opening = () => root.signEntry(payload(0, "book-opened", { root: root.key, as: "club", name: "Testers" }));

async function take(texts: readonly string[], held: ReadonlyMap<EntryId, string> = new Map()) {
  const verifier = createVerifier();
  const incoming = texts.map((jws, clock): Incoming => ({ jws, place: { client: 1, clock } }));
  const taken = await takeIn(
    book,
    fromList(incoming),
    verifier,
    (id) => held.get(id),
    createLedger(book).small,
    () => undefined,
  );
  if (taken === "not-filed") return fail("nothing is filed");
  return { ...taken, texts: taken.held.map(({ jws }) => jws).sort(), waits: taken.unchecked.map(({ jws }) => jws) };
}

test("in whatever order they come, the same entries are held", async () => {
  const all = [
    await opening(),
    await root.signEntry(admits(recorder.key)),
    await recorder.signEntry(admits(stranger.key, 0)),
    await stranger.signEntry(joins(0)),
  ];
  for (const order of [all, [...all].reverse(), [2, 0, 3, 1].map((n) => all[n]!)]) {
    expect((await take(order)).texts).toEqual([...all].sort());
  }
});

test("LE13 what is handed on is in the form in which a ledger holds it, whoever read it: it is made once, for vault and ledger", async () => {
  const match = { ...played("2026-05-01", "ada 7", "ben 9", "7-4") };
  const texts = [await opening(), await root.signEntry({ ...payload(1, "match-reported", match), prev: null })];
  const ledger = createLedger(book);
  const readHere = texts.map((jws): Incoming => ({ jws, place: null }));
  const readBeside = readHere.map((one): Incoming => {
    const decoded = decodeEntry(one.jws);
    if (!decoded.ok || !decoded.value.understood) return fail("an entry of this test is none");
    const entry = decoded.value;
    return { ...one, read: { entry, signature: "good", kept: KeptEntry.ofRead(entry, one.jws, null) } };
  });
  for (const incoming of [readHere, readBeside]) {
    const nothing = () => undefined;
    const taken = await takeIn(book, fromList(incoming), createVerifier(), nothing, ledger.small, nothing);
    if (taken === "not-filed") return fail("nothing is filed");
    ledger.add(taken.arrivals);
    expect(taken.held.map(({ jws }) => jws)).toEqual(texts);
    expect(taken.held.map((one) => (one as KeptEntry).entry)).toEqual(taken.arrivals.map(({ entry }) => entry));
    const reports = taken.held.filter((one) => (one as KeptEntry).entry instanceof KeptReport);
    expect(reports.length).toBe(1);
    expect((reports[0] as KeptEntry).entry).toBe(taken.arrivals[1]?.entry);
    // The second time the ledger has it already.
    if (incoming === readHere) expect(ledger.entry(reports[0]!.id)).toBe(taken.arrivals[1]?.entry);
  }
});

test("a key that only a forgery states lets nothing in", async () => {
  const forged = `${signingInput(root.id, admits(stranger.key))}.${"A".repeat(86)}`;
  const own = await stranger.signEntry(joins(0));
  const taken = await take([await opening(), forged, own]);
  expect(taken.texts).toEqual([await opening()]);
  expect(taken.waits).toEqual([own]);
  expect(taken.refused).toBe(1);
});

test("nor does a key that is stated by somebody whom nobody vouches for, until somebody does", async () => {
  const statement = await recorder.signEntry(admits(stranger.key, 0));
  const own = await stranger.signEntry(joins(0));
  const first = await take([await opening(), statement, own]);
  expect(first.texts).toEqual([await opening()]);
  expect(first.waits).toEqual([statement, own]);
  const admission = await root.signEntry(admits(recorder.key));
  expect((await take([...first.waits, ...first.texts, admission])).texts).toHaveLength(4);
});

test("where a copy of a held entry with a spoilt signature lies, the entry does not lie", async () => {
  const good = await opening();
  const spoilt = `${good.slice(0, -86)}${"A".repeat(86)}`;
  const decoded = decodeEntry(good);
  const held = new Map(decoded.ok ? [[decoded.value.id, good]] : []);
  const taken = await take([spoilt, good], held);
  expect(taken.again.map(({ place }) => place.clock)).toEqual([1]);
  expect([taken.held, taken.refused]).toEqual([[], 1]);
});

test("a long check lets others have their turn before and after each slice is handed to the platform", async () => {
  const texts = [await opening(), await root.signEntry(admits(recorder.key)), await recorder.signEntry(joins(0))];
  const seen: string[] = [];
  const slices = {
    slices: texts.length,
    slice(at: number) {
      seen.push(`slice ${at}`);
      return Promise.resolve([{ jws: texts[at] as string, place: { client: 1, clock: at } }]);
    },
  };
  const breathe = (): Promise<void> => {
    seen.push("breath");
    return Promise.resolve();
  };
  const taken = await takeIn(
    book,
    slices,
    createVerifier(),
    () => undefined,
    createLedger(book).small,
    (checked) => void seen.push(`told ${checked}`),
    breathe,
  );
  expect(taken !== "not-filed" && taken.held.length).toBe(3);
  const order = seen.filter((one) => !one.startsWith("told"));
  const around = (at: number): string[] => [`slice ${at}`, "breath", "breath"];
  expect(order).toEqual([0, 1, 2].flatMap(around));
  expect(seen.filter((one) => one.startsWith("told"))).toEqual(["told 1", "told 2", "told 3"]);
});

/** A record long enough to be filed in portions: what the recorder signed comes before the root says who that is. */
async function longRecord(): Promise<string[]> {
  const many = Array.from({ length: 2_400 }, (_, seq) => seq);
  const [early, late] = [
    await Promise.all(many.slice(0, 300).map((seq) => recorder.signEntry(joins(seq)))),
    many.slice(300),
  ];
  const rest = await Promise.all(late.map((seq) => (seq % 2 === 0 ? root : recorder).signEntry(joins(seq + 2))));
  return [...early, await opening(), await root.signEntry(admits(recorder.key)), ...rest];
}

test("what is good is filed while the rest is read, never before what it rests on, and each text once", async () => {
  const texts = await longRecord();
  const [filed, read]: [Filing[], number[]] = [[], []];
  const list = fromList(texts.map((jws, clock) => ({ jws, place: { client: 1, clock } })));
  const source = { slices: list.slices, slice: sliceAt };
  function sliceAt(n: number): Promise<readonly Incoming[]> {
    read.push(n);
    return list.slice(n);
  }
  const at: number[] = [];
  const taken = await takeIn(
    book,
    source,
    createVerifier(),
    () => undefined,
    createLedger(book).small,
    () => undefined,
    undefined,
    (portion) => {
      filed.push(portion);
      at.push(read.length);
      return Promise.resolve(true);
    },
  );
  if (taken === "not-filed") return fail("it was filed");
  expect(filed.length).toBeGreaterThan(0);
  expect(at[0]).toBeLessThan(list.slices);
  const all = [...filed, taken].flatMap(({ held }) => held.map(({ jws }) => jws));
  expect([...all].sort()).toEqual([...texts].sort());
  const vouching = all.indexOf(texts[301] as string);
  expect(Math.min(...[...texts.slice(0, 300)].map((text) => all.indexOf(text)))).toBeGreaterThan(vouching);
  for (const { held, arrivals } of filed)
    expect(arrivals.map(({ entry }) => entry.id)).toEqual(held.map(({ id }) => id));
});

test("when a portion cannot be filed no more is read, and nothing more is handed out", async () => {
  const list = fromList((await longRecord()).map((jws, clock) => ({ jws, place: { client: 1, clock } })));
  let [read, asked] = [0, 0];
  function sliceAt(at: number): Promise<readonly Incoming[]> {
    read += 1;
    return list.slice(at);
  }
  const taken = await takeIn(
    book,
    { slices: list.slices + 100, slice: sliceAt },
    createVerifier(),
    () => undefined,
    createLedger(book).small,
    () => undefined,
    undefined,
    () => {
      asked += 1;
      return Promise.resolve(false);
    },
  );
  expect([taken, asked]).toEqual(["not-filed", 1]);
  expect(read * SLICE).toBeLessThan(2_402 + 3 * SLICE);
});
