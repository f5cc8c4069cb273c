/** Entries read the quick way, beside the slow one: the same verdict on every text, whatever it is, and the same entry. */
import type { Kind } from "@sward/core";
import { bodies, canonicalText, decodeEntry, payloadForm } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Surely } from "../../../packages/core/src/ledger/quick-form.ts";
import { surelyOf } from "../../../packages/core/src/ledger/quick-form.ts";
import { clubs, keyOf } from "../../support/cast.ts";
import { formed, spoilt } from "./formed.ts";
import { decodeSlowly } from "./slow-decoding.ts";

const SEED = 20261125;
const { north } = clubs("north");
const ada = keyOf("ada's telephone");
const kinds = Object.keys(bodies) as Kind[];
const base64url = (text: string): string => Buffer.from(text, "utf8").toString("base64url");
const header = base64url(`{"alg":"EdDSA","kid":"${ada.id}","typ":"sward-entry"}`);
const signature = "A".repeat(86);

const mostly = <T>(first: T, ...others: readonly T[]): fc.Arbitrary<T> =>
  fc.oneof({ weight: 15, arbitrary: fc.constant(first) }, { weight: 1, arbitrary: fc.constantFrom(...others) });

const payloads = fc.constantFrom(...kinds).chain((kind) =>
  fc.record({
    v: mostly(1, 2, 0),
    book: fc.constant(north.id),
    seq: mostly(7, 0, 2 ** 40, 2 ** 40 + 1),
    prev: mostly<string | null>(null, "E".repeat(43), "E".repeat(42)),
    at: mostly("2026-05-01T10:00:00Z", "2026-05-01"),
    kind: fc.constant(kind),
    body: formed(bodies[kind]),
  }),
);

/** What becomes of the text of a canonical payload. */
const edits: fc.Arbitrary<(text: string) => string> = fc.oneof(
  { weight: 6, arbitrary: fc.constant((text: string) => text) },
  { weight: 1, arbitrary: fc.constant((text: string) => text.replace(":", ": ")) },
  { weight: 1, arbitrary: fc.constant((text: string) => text.replace(/(\d+)(?=[,}\]])/, "$1.0")) },
  { weight: 1, arbitrary: fc.constant((text: string) => text.replace(/[a-z]/, "\\u0061")) },
  {
    weight: 1,
    arbitrary: fc.constant((text: string) => text.replace(/"body":\{(.*?),(.*)\},"book"/, '"body":{$2,$1},"book"')),
  },
  { weight: 1, arbitrary: fc.constant((text: string) => text.replace(/("[a-z]+":"[^"]*"),/, "$1,$1,")) },
  {
    weight: 2,
    arbitrary: fc
      .tuple(
        fc.nat(),
        fc.constantFrom("", "0", '"', "-", "}", "ü", "\\", "null", "\ud800", "__proto__", ","),
        fc.nat(2),
      )
      .map(([at, put, cut]) => (text: string) => {
        const place = at % text.length;
        return text.slice(0, place) + put + text.slice(place + cut);
      }),
  },
);

test(`LE6 read quickly or slowly, every text has the same verdict and is the same entry (seed ${SEED})`, () => {
  const found = { understood: 0, foreign: 0, faults: new Map<string, number>() };
  const understood = new Set<string>();
  fc.assert(
    fc.property(payloads, fc.option(spoilt, { freq: 3 }), edits, (payload, spoil, edit) => {
      const data = spoil === null ? payload : spoil(payload);
      const text = edit(canonicalText(data));
      const jws = `${header}.${base64url(text)}.${signature}`;
      const quick = decodeEntry(jws);
      expect(quick, text).toEqual(decodeSlowly(jws));
      if (!quick.ok) found.faults.set(quick.fault.type, (found.faults.get(quick.fault.type) ?? 0) + 1);
      else if (quick.value.understood) {
        found.understood += 1;
        understood.add(quick.value.kind);
      } else found.foreign += 1;
    }),
    { seed: SEED, numRuns: 4_000 },
  );
  expect(understood.size).toBe(kinds.length);
  expect(found.understood).toBeGreaterThan(400);
  expect(found.foreign).toBeGreaterThan(400);
  expect(Math.min(...["bad-payload", "not-canonical"].map((type) => found.faults.get(type) ?? 0))).toBeGreaterThan(100);
});

test(`what a compiled form is sure of the form takes as it is, and in canonical order (seed ${SEED})`, () => {
  const compiled = new Map<Kind, Surely>(kinds.map((kind) => [kind, surelyOf(bodies[kind])]));
  const sure = new Map<Kind, number>();
  let taken = 0;
  const cases = fc
    .constantFrom(...kinds)
    .chain((kind) => fc.record({ kind: fc.constant(kind), body: formed(bodies[kind]) }));
  fc.assert(
    fc.property(cases, fc.option(spoilt, { freq: 2 }), ({ kind, body }, spoil) => {
      const data: unknown = JSON.parse(canonicalText(spoil === null ? body : spoil(body)));
      const parsed = bodies[kind].safeParse(data);
      if (parsed.success) taken += 1;
      if (!compiled.get(kind)?.(data)) return;
      sure.set(kind, (sure.get(kind) ?? 0) + 1);
      expect(parsed).toEqual({ success: true, data });
    }),
    { seed: SEED, numRuns: 2_500 },
  );
  // All but the one that holds what nobody here knows: were it less, reading would be slow and nothing else would show it.
  expect([...kinds].filter((kind) => !sure.has(kind))).toEqual(["league-rules-set"]);
  const all = [...sure.values()].reduce((sum, one) => sum + one, 0);
  expect(all / taken).toBeGreaterThan(0.9);
});

test("LE2 members in another order are never surely in order", () => {
  const check = surelyOf(bodies["device-admitted"]);
  const [device, role] = ["K".repeat(43), "reader"];
  expect([check({ device, role }), check({ role, device })]).toEqual([true, false]);
});

test("a form is made when it is first asked for, and is the same from then on", () => {
  for (const kind of kinds) expect(Object.getOwnPropertyDescriptor(bodies, kind)?.get).toBeTypeOf("function");
  for (const kind of kinds) expect(bodies[kind]).toBe(bodies[kind]);
  expect(payloadForm()).toBe(payloadForm());
});
