/** What devices tell each other of what they hold, and that it gets through every relay. */
import { systemRandom } from "@sward/client";
import type { BookId, EntryId } from "@sward/core";
import { atOnce, digestOf } from "@sward/core";
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { Awareness, applyAwarenessUpdate } from "y-protocols/awareness";
import * as Y from "yjs";
import { inSteps } from "../../../packages/client/src/book/breathing.ts";
import type { Heads } from "../../../packages/client/src/book/heads.ts";
import { createOwnHeads, headsText, partsOf, readHeads } from "../../../packages/client/src/book/heads.ts";
import { seal } from "../../../packages/client/src/book/seal.ts";
import { deriveEpoch } from "../../../packages/client/src/keys/book-keys.ts";
import { decodeSaying, encodeSaying, longestSaying } from "../../../packages/client/src/wire/saying.ts";

const SEED = 20260731;
const speaker = "abcdefghijklmnop";
const id = (n: number): EntryId => digestOf(String(n));
const headsOf = (ids: readonly EntryId[]): Heads => atOnce(createOwnHeads().of(ids));
const some = fc.uniqueArray(fc.nat(500), { maxLength: 60 }).map((numbers) => numbers.map(id));

test(`heads are equal exactly when the entries are, whatever their order (seed ${SEED})`, () => {
  const property = fc.property(some, some, (one, other) => {
    const heads = headsOf(one);
    expect(headsOf([...one].reverse())).toEqual(heads);
    const same = new Set([...one, ...other]).size === one.length && one.length === other.length;
    expect(headsOf(other).join() === heads.join()).toBe(same);
  });
  fc.assert(property, { seed: SEED, numRuns: 200 });
});

test(`worked out bit by bit they are what they are worked out at once, and name the parts that differ (seed ${SEED})`, () => {
  const property = fc.property(some, some, (one, more) => {
    const own = createOwnHeads();
    const before = atOnce(own.of(one));
    const all = [...new Set([...one, ...more])];
    const after = atOnce(own.of(all));
    expect(after).toEqual(headsOf(all));
    const fresh = partsOf(all.filter((entry) => !one.includes(entry)));
    const differing = after.flatMap((digest, part) => (digest === before[part] ? [] : [part]));
    expect(differing).toEqual(fresh.flatMap((part, n) => (part.length > 0 ? [n] : [])));
  });
  fc.assert(property, { seed: SEED, numRuns: 200 });
});

test("what a platform makes in turns is what a script makes at once, and one part that has grown is hashed alone", async () => {
  const ids = Array.from({ length: 400 }, (_, n) => id(n));
  let turns = 0;
  const breathe = (): Promise<void> => {
    turns += 1;
    return Promise.resolve();
  };
  const own = createOwnHeads();
  expect(await inSteps(own.of(ids), breathe)).toEqual(headsOf(ids));
  expect(turns).toBe(64);
  const more = [...ids, id(400)];
  expect(await inSteps(own.of(more), breathe)).toEqual(headsOf(more));
  expect(turns).toBe(65);
});

test("heads are read back; anything else is not taken for them", () => {
  const heads = headsOf([id(1), id(2)]);
  const text = headsText(speaker, heads);
  expect(readHeads(text)).toEqual({ speaker, heads });
  for (const bad of [text.slice(1), text.slice(0, -1), `${text}.`, text.replace("1", "2"), ""]) {
    expect(readHeads(bad)).toBe(null);
  }
});

test("sealed, they are short enough for a relay, and no other client of the protocol stumbles over them", async () => {
  const book = "b".repeat(43) as BookId;
  const keys = await deriveEpoch(book, { epoch: 0, secret: systemRandom(32) });
  const sealed = await seal(book, keys, [headsText(speaker, headsOf([id(1)]))], systemRandom);
  expect(sealed.length).toBeLessThanOrEqual(longestSaying);
  const said = encodeSaying(2 ** 32 - 1, 2 ** 31, new Uint8Array(longestSaying).fill(255));
  expect(said.length).toBeLessThanOrEqual(1024);
  expect(decodeSaying(said)).toEqual(new Uint8Array(longestSaying).fill(255));
  const awareness = new Awareness(new Y.Doc());
  applyAwarenessUpdate(awareness, encodeSaying(7, 1, sealed), null);
  expect(awareness.getStates().get(7)).toEqual({ sward: Buffer.from(sealed).toString("base64url") });
  awareness.destroy();
});

test(`what is said is read from any bytes without a throw (seed ${SEED})`, () => {
  const property = fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
    decodeSaying(bytes);
    const said = encodeSaying(1, 1, bytes);
    expect(decodeSaying(said)).toEqual(bytes);
    for (let at = 0; at < said.length; at += 7) decodeSaying(said.slice(0, at));
  });
  fc.assert(property, { seed: SEED, numRuns: 200 });
});
