import type { Payload } from "@sward/core";
import { decodeEntry, digestOf, MAX_DEPTH, MAX_ENTRY_LENGTH } from "@sward/core";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { clubs, keyOf, write } from "../../support/cast.ts";

const { north } = clubs("north");
const ada = keyOf("ada's telephone");

const payload: Payload = {
  v: 1,
  book: north.id,
  seq: 0,
  prev: null,
  at: "2026-05-01T10:00:00Z",
  kind: "policy-set",
  body: { unconfirmed: "counts" },
};

const base64url = (text: string): string => Buffer.from(text, "utf8").toString("base64url");
const signature = "A".repeat(86);
const header = `{"alg":"EdDSA","kid":"${ada.id}","typ":"sward-entry"}`;
const body = `{"at":"2026-05-01T10:00:00Z","body":{"unconfirmed":"counts"},"book":"${north.id}","kind":"policy-set","prev":null,"seq":0,"v":1}`;

const decode = (protectedHeader: string, payloadText: string) =>
  decodeEntry(`${base64url(protectedHeader)}.${base64url(payloadText)}.${signature}`);

const fault = (result: ReturnType<typeof decodeEntry>) => (result.ok ? "none" : result.fault.type);

test("LE1 LE2 LE3 an entry is read with its id, author and body", () => {
  const result = decode(header, body);
  expect(result).toEqual({
    ok: true,
    value: {
      id: digestOf(`${base64url(header)}.${base64url(body)}`),
      author: ada.id,
      book: north.id,
      seq: 0,
      prev: null,
      at: "2026-05-01T10:00:00Z",
      understood: true,
      kind: "policy-set",
      body: { unconfirmed: "counts" },
    },
  });
  expect(result.ok && result.value.id).toBe(write(ada, payload).id);
});

test("LE3 another signature over the same statement is the same entry", () => {
  const { id, jws } = write(ada, payload);
  const again = decodeEntry(`${jws.slice(0, -86)}${signature}`);
  expect(again).toMatchObject({ ok: true, value: { id } });
});

describe("LE1 any other header is refused", () => {
  const headers = {
    "another algorithm": `{"alg":"ES256","kid":"${ada.id}","typ":"sward-entry"}`,
    "no algorithm": `{"alg":"none","kid":"${ada.id}","typ":"sward-entry"}`,
    "another type": `{"alg":"EdDSA","kid":"${ada.id}","typ":"JWT"}`,
    "no type": `{"alg":"EdDSA","kid":"${ada.id}"}`,
    "one member more": `{"alg":"EdDSA","crit":[],"kid":"${ada.id}","typ":"sward-entry"}`,
    "another order": `{"kid":"${ada.id}","alg":"EdDSA","typ":"sward-entry"}`,
    "white space": `{"alg":"EdDSA", "kid":"${ada.id}","typ":"sward-entry"}`,
    "a key id too short": `{"alg":"EdDSA","kid":"${ada.id.slice(1)}","typ":"sward-entry"}`,
    "no JSON": "ada",
    nothing: "",
  };
  test.each(Object.entries(headers))("LE1 %s", (_, text) => {
    expect(fault(decode(text, body))).toBe("bad-header");
  });
});

describe("LE2 one statement has one text", () => {
  const texts = {
    "white space": body.replace(":1}", ": 1}"),
    "another order": body.replace(',"seq":0,"v":1}', ',"v":1,"seq":0}'),
    "a number written otherwise": body.replace('"seq":0', '"seq":0.0'),
    "minus nought": body.replace('"seq":0', '"seq":-0'),
    "an escape that is not needed": body.replace("counts", "\\u0063ounts"),
    "a member twice": body.replace('"seq":0', '"seq":0,"seq":0'),
    "a byte order mark": `\ufeff${body}`,
    "a prototype": body.replace('{"unconfirmed":"counts"}', '{"__proto__":1,"unconfirmed":"counts"}'),
    "a lone surrogate": body.replace("counts", "\\ud800"),
  };
  test.each(Object.entries(texts))("LE2 %s is refused", (name, text) => {
    expect(fault(decode(header, text))).toBe(name === "a byte order mark" ? "bad-payload" : "not-canonical");
  });

  const payloads = {
    "a member too few": body.replace('"prev":null,', ""),
    "a member too many": body.replace('"v":1', '"v":1,"w":1'),
    "a place below nought": body.replace('"seq":0', '"seq":-1'),
    "half a place": body.replace('"seq":0', '"seq":0.5'),
    "version nought": body.replace('"v":1', '"v":0'),
    "a day for a time": body.replace("T10:00:00Z", ""),
    "a book that is no id": body.replace(north.id, "north"),
    "a body that is a list": body.replace('{"unconfirmed":"counts"}', "[]"),
    "not an object": "[]",
    "not JSON": "{",
  };
  test.each(Object.entries(payloads))("LE2 %s is refused", (_, text) => {
    expect(fault(decode(header, text))).toBe("bad-payload");
  });

  test("LE2 the refusal names the member", () => {
    expect(decode(header, body.replace('"seq":0', '"seq":-1'))).toEqual({
      ok: false,
      fault: { type: "bad-payload", path: "seq" },
    });
  });
});

test("LE4 three segments, the last a signature of 64 bytes", () => {
  const [head, text] = [base64url(header), base64url(body)];
  const wrong = [
    "",
    head,
    `${head}.${text}`,
    `${head}.${text}.${signature}.`,
    `${head}.${text}.${signature}x`,
    `${head}.${text}.${signature.slice(1)}`,
    `${head}.${text}.${signature.slice(1)}=`,
    `${head}.${text}. ${signature.slice(1)}`,
    `${head}.${text}.${signature}\n`,
  ];
  for (const jws of wrong) expect(fault(decodeEntry(jws)), jws.slice(-90)).toBe("not-compact-jws");
  expect(fault(decodeEntry(`${head}=.${text}.${signature}`))).toBe("bad-header");
  expect(fault(decodeEntry(`${head}.${text}=.${signature}`))).toBe("bad-payload");
});

test("LE4 the longest entry is read, one character more is not", () => {
  const bare = write(ada, { ...payload, kind: "note", body: { text: "" } }).jws.length;
  // Four characters carry three bytes.
  const room = Math.floor(((MAX_ENTRY_LENGTH - bare) / 4) * 3);
  const most = write(ada, { ...payload, kind: "note", body: { text: "x".repeat(room) } }).jws;
  expect(most.length).toBeGreaterThan(MAX_ENTRY_LENGTH - 4);
  const more = decodeEntry(`${most}${"A".repeat(MAX_ENTRY_LENGTH + 1 - most.length)}`);
  expect(more).toEqual({ ok: false, fault: { type: "too-long", length: MAX_ENTRY_LENGTH + 1 } });
});

test("LE4 nesting has a limit of ours, not the machine's", () => {
  // The payload and its body are two levels.
  const nested = (levels: number): string => `{"a":${"[".repeat(levels)}${"]".repeat(levels)}}`;
  const at = (levels: number) => decode(header, body.replace('{"unconfirmed":"counts"}', nested(levels)));
  expect(at(MAX_DEPTH - 2).ok).toBe(true);
  expect(at(MAX_DEPTH - 1)).toEqual({ ok: false, fault: { type: "bad-payload", path: "body" } });
  expect(fault(at(11_000))).toBe("bad-payload");
});

test("LE5 a later version, an unknown kind and an unknown field give an entry that is not understood", () => {
  const later = write(ada, { ...payload, v: 2 }).entry;
  expect(later).toMatchObject({ understood: false, kind: "policy-set", v: 2, seq: 0, author: ada.id });
  expect(write(ada, { ...payload, kind: "lawn-mown" }).entry).toMatchObject({ understood: false, kind: "lawn-mown" });
  const field = write(ada, { ...payload, body: { unconfirmed: "counts", since: 1 } }).entry;
  expect(field).toMatchObject({ understood: false, kind: "policy-set", v: 1 });
  // The name of a method of every object is not a kind.
  expect(write(ada, { ...payload, kind: "toString" }).entry.understood).toBe(false);
});

const SEED = 20260501;

test(`LE6 reading never throws, and takes in nothing but the one text (seed ${SEED})`, () => {
  const { jws } = write(ada, { ...payload, kind: "note", body: { text: "ü€😀", list: [1, "a", null, { b: true }] } });
  const mutated = fc
    .array(fc.record({ at: fc.nat(jws.length - 1), to: fc.string({ minLength: 0, maxLength: 3 }), cut: fc.nat(3) }), {
      minLength: 1,
      maxLength: 4,
    })
    .map((edits) => edits.reduce((text, { at, to, cut }) => text.slice(0, at) + to + text.slice(at + cut), jws));
  const segments = fc
    .tuple(fc.json({ maxDepth: 4 }), fc.json({ maxDepth: 4 }))
    .map(([one, two]) => `${base64url(one)}.${base64url(two)}.${signature}`);
  const bodies = fc
    .tuple(fc.constantFrom("match-reported", "card-signed", "entry-carried", "note", "ruling-made"), fc.json())
    .map(([kind, json]) => body.replace('{"unconfirmed":"counts"}', json).replace("policy-set", kind))
    .map((text) => `${base64url(header)}.${base64url(text)}.${signature}`);
  let read = 0;
  fc.assert(
    fc.property(fc.oneof(fc.string(), fc.string({ unit: "binary" }), mutated, segments, bodies), (text) => {
      const result = decodeEntry(text);
      if (!result.ok) return;
      read += 1;
      const { entry } = { entry: result.value };
      const [first, second] = text.split(".");
      expect(entry.id).toBe(digestOf(`${first}.${second}`));
      expect(Number.isSafeInteger(entry.seq)).toBe(true);
    }),
    { seed: SEED, numRuns: 4000 },
  );
  expect(read).toBeGreaterThan(20);
});
