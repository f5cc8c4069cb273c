import type { RecordFault } from "@sward/client";
import { verifyRecordFile } from "@sward/client";
import { canonicalBytes, digestOf } from "@sward/core";
import { base64url } from "jose";
import { beforeAll, expect, test } from "vitest";
import type { SignedClub } from "./signed-club.ts";
import { AT, idOf, playedClub, signer } from "./signed-club.ts";

let club: SignedClub;
let lines: readonly string[];

beforeAll(async () => {
  club = await playedClub();
  lines = (await club.record(null)).split("\n").slice(0, -1);
});

const file = (all: readonly string[]): string => all.map((line) => `${line}\n`).join("");

async function faultOf(text: string): Promise<RecordFault> {
  const verified = await verifyRecordFile(text);
  if (verified.ok) throw new Error("the file was taken for a good one");
  return verified.fault;
}

/** The file with line `line` (from 1) put otherwise. */
const withLine = (line: number, ...put: readonly string[]): string =>
  file([...lines.slice(0, line - 1), ...put, ...lines.slice(line)]);

const jwsAt = (line: number): string => JSON.parse(lines[line - 1]!) as string;

/** The record with these entries, the manifest of which says what `said` says, and is signed. */
async function signedOver(
  entries: readonly string[],
  said: Record<string, unknown> = {},
  by = club.signers.handicapper,
) {
  const digest = digestOf(entries.map(idOf).sort().join("\n"));
  const manifest = { v: 1, book: club.book, player: null, entries: entries.length, digest, at: AT, ...said };
  const jws = await by.sign({ typ: "sward-record" }, canonicalBytes(manifest));
  return file([jws, ...entries].map((one) => JSON.stringify(one)));
}

test("RE12 the file these tests spoil is a good one", async () => {
  expect(await verifyRecordFile(file(lines))).toMatchObject({
    ok: true,
    value: { report: { entries: lines.length - 1 } },
  });
  expect(
    await verifyRecordFile(await signedOver(lines.slice(1).map((line) => JSON.parse(line) as string))),
  ).toMatchObject({ ok: true });
});

test("RE12 a blank line, and a line that is not one JSON string, are named", async () => {
  expect(await faultOf(withLine(5, "", lines[4]!))).toEqual({ type: "record-blank-line", line: 5 });
  expect(await faultOf(`${file(lines)}\n`)).toEqual({ type: "record-blank-line", line: lines.length + 1 });
  for (const put of [
    "{",
    `[${lines[4]}]`,
    "17",
    "null",
    '"unended',
    jwsAt(5),
    `${lines[4]} ${lines[4]}`,
    "\u0000",
    "\uFFFD",
  ]) {
    expect(await faultOf(withLine(5, put)), put).toEqual({ type: "record-not-json", line: 5 });
  }
  expect(await faultOf(`\uFEFF${file(lines)}`)).toEqual({ type: "record-not-json", line: 1 });
});

test("RE12 a line that is no JWS, or a JWS that is no entry, is named", async () => {
  const [header, body, signature] = jwsAt(5).split(".");
  for (const put of [
    "",
    "a.b",
    `${header}.${body}`,
    `${jwsAt(5)}.${body}`,
    `${header}.${body}.${signature!.slice(1)}`,
    `${header}.${body}.!${signature!.slice(1)}`,
  ]) {
    expect(await faultOf(withLine(5, JSON.stringify(put))), put).toEqual({ type: "record-not-jws", line: 5 });
  }
  // A manifest in the middle: two records in one file.
  expect(await faultOf(withLine(5, lines[0]!))).toEqual({ type: "record-not-entry", line: 5, path: "header" });
  const odd = await club.signers.root.sign({ typ: "sward-entry" }, canonicalBytes({ v: 1, book: club.book, seq: -1 }));
  expect(await faultOf(withLine(5, JSON.stringify(odd)))).toEqual({ type: "record-not-entry", line: 5, path: "seq" });
  const long = JSON.stringify(`${header}.${"A".repeat(40_000)}.${signature}`);
  expect(await faultOf(withLine(5, long))).toMatchObject({ type: "record-too-long", line: 5 });
});

test("RE12 what is longer than any entry is not looked at further", async () => {
  expect(await faultOf(withLine(5, "a".repeat(40_000)))).toEqual({ type: "record-too-long", line: 5, length: 40_000 });
});

test("RE12 a line written in another way than the one way there is, is named", async () => {
  const escaped = `"\\u0065${jwsAt(5).slice(1)}"`;
  expect(JSON.parse(escaped)).toBe(jwsAt(5));
  for (const put of [escaped, ` ${lines[4]}`, `${lines[4]}\t`, `${lines[4]}\r`]) {
    expect(await faultOf(withLine(5, put)), put).toEqual({ type: "record-not-canonical", line: 5 });
  }
  // The four idle bits of a signature's last character.
  const jws = jwsAt(5);
  const idle = jws.slice(0, -1) + ({ A: "B", Q: "R", g: "h", w: "x" } as Record<string, string>)[jws.at(-1)!];
  expect(base64url.decode(idle.split(".")[2]!)).toEqual(base64url.decode(jws.split(".")[2]!));
  expect(await faultOf(withLine(5, JSON.stringify(idle)))).toEqual({ type: "record-not-canonical", line: 5 });
  // The same payload with a blank in it, signed.
  const spaced = new TextEncoder().encode(
    new TextDecoder().decode(base64url.decode(jws.split(".")[1]!)).replace(",", ", "),
  );
  const put = JSON.stringify(await club.signers.handicapper.sign({ typ: "sward-entry" }, spaced));
  expect(await faultOf(withLine(5, put))).toEqual({ type: "record-not-canonical", line: 5 });
});

test("RE12 an entry of another book, and one that is there twice, are named", async () => {
  const other = await playedClub(40);
  const foreign = (await other.record(null)).split("\n")[3]!;
  expect(await faultOf(withLine(4, foreign))).toEqual({
    type: "record-other-book",
    line: 4,
    book: other.book,
    of: club.book,
  });
  expect(await faultOf(withLine(6, lines[2]!))).toEqual({ type: "record-twice", line: 6, first: 3 });
  // Another signature over the same statement is the same entry.
  const forged = `${jwsAt(3).split(".").slice(0, 2).join(".")}.${"A".repeat(86)}`;
  expect(await faultOf(withLine(6, JSON.stringify(forged)))).toEqual({ type: "record-twice", line: 6, first: 3 });
});

test("RE13 a manifest of a later version is refused by its number, an entry of a later version is not", async () => {
  const entries = lines.slice(1).map((line) => JSON.parse(line) as string);
  expect(await faultOf(await signedOver(entries, { v: 2, shelf: "top" }))).toEqual({
    type: "record-version",
    line: 1,
    v: 2,
  });
  const later = await club.signers.root.signEntry({
    v: 9,
    book: club.book,
    seq: 3,
    prev: null,
    at: AT,
    kind: "prize-given",
    body: {},
  });
  expect(await verifyRecordFile(await signedOver([...entries, later]))).toMatchObject({ ok: true });
});

test("RE14 a manifest that is missing, or cannot be one", async () => {
  expect(await faultOf("")).toEqual({ type: "record-empty", line: 1 });
  for (const text of [file(lines.slice(1)), lines[0]!.slice(0, 40), lines[0]!, "hello", "PK\u0003\u0004"]) {
    expect(["record-manifest-missing", "record-not-json"], text).toContain((await faultOf(text)).type);
  }
  expect(await faultOf(file(lines.slice(1)))).toEqual({ type: "record-manifest-missing", line: 1 });
  const entries = lines.slice(1).map((line) => JSON.parse(line) as string);
  for (const [said, path] of [
    [{ entries: 0 }, "entries"],
    [{ entries: 1.5 }, "entries"],
    [{ player: "ada" }, "player"],
    [{ at: "yesterday" }, "at"],
    [{ v: "1" }, "v"],
    [{ more: 1 }, ""],
    [{ book: undefined }, "book"],
  ] as const) {
    expect(await faultOf(await signedOver(entries, said))).toEqual({ type: "record-manifest-bad", line: 1, path });
  }
});

test("RE14 a manifest that was altered: its signature does not hold, whatever was changed", async () => {
  const [header, body, signature] = jwsAt(1).split(".");
  const said = JSON.parse(new TextDecoder().decode(base64url.decode(body!)));
  for (const change of [{ entries: said.entries - 1 }, { at: "2026-06-15T12:00:00Z" }, { player: "A".repeat(22) }]) {
    const put = `${header}.${base64url.encode(canonicalBytes({ ...said, ...change }))}.${signature}`;
    expect(await faultOf(withLine(1, JSON.stringify(put)))).toEqual({ type: "record-manifest-forged", line: 1 });
  }
});

test("RE2 RE12 a manifest whose JSON is not the one way to write it is refused, though it is signed", async () => {
  const said = new TextDecoder().decode(base64url.decode(jwsAt(1).split(".")[1]!));
  const spaced = new TextEncoder().encode(said.replace(",", ", "));
  const put = await club.signers.handicapper.sign({ typ: "sward-record" }, spaced);
  expect(await faultOf(withLine(1, JSON.stringify(put)))).toEqual({ type: "record-not-canonical", line: 1 });
});

test("RE14 a manifest signed by a key nothing in the file names", async () => {
  const stranger = await signer(99);
  const entries = lines.slice(1).map((line) => JSON.parse(line) as string);
  const fault = await faultOf(await signedOver(entries, {}, stranger));
  expect(fault).toEqual({ type: "record-key-unknown", line: 1, key: stranger.id });
});

test("RE15 a file that breaks off says after which line and how many are missing, wherever it was cut", async () => {
  const whole = file(lines);
  const expected = lines.length - 1;
  expect(await faultOf(file(lines.slice(0, -3)))).toEqual({
    type: "record-truncated",
    line: expected - 2,
    expected,
    found: expected - 3,
    missing: 3,
  });
  expect(
    await faultOf(
      lines
        .slice(0, 1)
        .map((line) => `${line}\n`)
        .join(""),
    ),
  ).toMatchObject({ type: "record-truncated", missing: expected });
  for (let at = lines[0]!.length + 1; at < whole.length; at += 211) {
    const text = whole.slice(0, at);
    const found = text.split("\n").length - 2;
    expect(await faultOf(text)).toEqual({
      type: "record-truncated",
      line: found + 1,
      expected,
      found,
      missing: expected - found,
    });
  }
  expect(await faultOf(whole.slice(0, -1))).toMatchObject({ type: "record-truncated", missing: 1 });
});

test("RE15 lines taken out of the middle are missing, lines put in are too many, and so is what stands behind the end", async () => {
  const expected = lines.length - 1;
  expect(await faultOf(withLine(7))).toMatchObject({ type: "record-truncated", missing: 1, found: expected - 1 });
  const more = await club.signers.recorder.signEntry({
    v: 1,
    book: club.book,
    seq: 99,
    prev: null,
    at: AT,
    kind: "entry-withdrawn",
    body: {},
  });
  expect(await faultOf(file([...lines, JSON.stringify(more)]))).toEqual({
    type: "record-too-many",
    line: lines.length + 1,
    expected,
    found: expected + 1,
  });
  expect(await faultOf(`${file(lines)}and more`)).toEqual({ type: "record-unended", line: lines.length + 1 });
});

test("RE15 genuine entries that are not those the record was signed for", async () => {
  const { seq, prev } = { seq: 50, prev: null };
  const body = { withdraws: "A".repeat(43), reason: "none" };
  const genuine = await club.signers.recorder.signEntry({
    v: 1,
    book: club.book,
    seq,
    prev,
    at: AT,
    kind: "entry-withdrawn",
    body,
  });
  expect(await faultOf(withLine(lines.length, JSON.stringify(genuine)))).toEqual({ type: "record-digest", line: 1 });
});

test("RE16 an entry that was altered is named: its signature does not hold", async () => {
  const jws = jwsAt(lines.length);
  const [header, body, signature] = jws.split(".");
  const said = JSON.parse(new TextDecoder().decode(base64url.decode(body!)));
  const altered = `${header}.${base64url.encode(canonicalBytes({ ...said, at: "2026-06-15T12:00:00Z" }))}.${signature}`;
  const { kid } = JSON.parse(new TextDecoder().decode(base64url.decode(header!)));
  const forged = { type: "record-forged", line: lines.length, key: kid, kind: said.kind };
  expect(await faultOf(withLine(lines.length, JSON.stringify(altered)))).toEqual(forged);
  const swapped = `${header}.${body}.${jwsAt(3).split(".")[2]}`;
  expect(await faultOf(withLine(lines.length, JSON.stringify(swapped)))).toEqual(forged);
});

test("RE16 an entry is named whose signer's key nothing in the file states", async () => {
  const stranger = await signer(98);
  const entries = lines.slice(1).map((line) => JSON.parse(line) as string);
  const own = await stranger.signEntry({
    v: 1,
    book: club.book,
    seq: 0,
    prev: null,
    at: AT,
    kind: "player-left",
    body: {},
  });
  const fault = await faultOf(await signedOver([...entries, own]));
  expect(fault).toEqual({ type: "record-key-unknown", line: lines.length + 1, key: stranger.id });
});

test("RE17 a record without its book's opening is refused: nobody in it is admitted to anything", async () => {
  const entries = lines.slice(2).map((line) => JSON.parse(line) as string);
  const rootsOwn = await signer(10);
  expect(rootsOwn.id).toBe(club.book);
  // The root's key is still stated: by an admission.
  const { seq, prev } = { seq: 60, prev: null };
  const stated = await rootsOwn.signEntry({
    v: 1,
    book: club.book,
    seq,
    prev,
    at: AT,
    kind: "device-admitted",
    body: { device: rootsOwn.key, role: "reader" },
  });
  const fault = await faultOf(await signedOver([...entries, stated]));
  expect(fault).toEqual({ type: "record-no-opening", line: 1, book: club.book });
});
