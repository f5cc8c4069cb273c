/**
 * A document that grows while what was there before is read, as it does at a first join: all of it is taken in one go, so that who reads
 * beside is never without work and cards are made once. Real envelopes, signatures and channels.
 */
import { createMemoryVault, createVerifier, deriveEpoch, seal, systemRandom } from "@sward/client";
import type { Arrival } from "@sward/core";
import { createLedger } from "@sward/core";
import { beforeAll, expect, test } from "vitest";
import type { SignedBook } from "../../../packages/client/bench/signed.ts";
import { secret, signedBook } from "../../../packages/client/bench/signed.ts";
import { createArrivals } from "../../../packages/client/src/book/arrivals.ts";
import { closingText } from "../../../packages/client/src/book/closing.ts";
import { openHoldings } from "../../../packages/client/src/book/holdings.ts";
import type { PlacedEnvelope } from "../../../packages/client/src/book/ledger-doc.ts";
import { threadsBeside } from "./threads-beside.ts";

const GAMES = 1_000;
/** Enough to be read beside. */
const AT_FIRST = 300;
let signed: SignedBook;
beforeAll(async () => {
  signed = await signedBook(GAMES);
});

/** @param grown parts that come into the document one after another, each when a slice has been read */
async function newcomer(first: readonly Uint8Array[], grown: readonly (readonly Uint8Array[])[]) {
  const { book } = signed.bench;
  const keys = await deriveEpoch(book, { epoch: 0, secret });
  const vault = createMemoryVault();
  let isFull = false;
  const holdings = await openHoldings(
    {
      ...vault,
      append: (record) => (isFull ? Promise.reject(new Error("no room")) : vault.append(record)),
    },
    () => undefined,
  );
  const ledger = createLedger(book);
  const document: PlacedEnvelope[] = [];
  const seen = new Set<string>();
  const counts = { told: 0, looks: 0 };
  // Two writers, whose places come in between each other.
  const clocks = [0, 0];
  const put = (envelopes: readonly Uint8Array[]): void => {
    for (const [n, envelope] of envelopes.entries())
      document.push({ place: { client: n % 2, clock: clocks[n % 2]!++ }, envelope });
  };
  put(first);
  let parts = grown;
  const { reads, read } = threadsBeside(() => {
    const [part, ...rest] = parts;
    parts = rest;
    if (part === undefined) return;
    put(part);
    arrivals.grew();
  });
  const came: Arrival[] = [];
  /** How many entries were filed when the end of a volume was told of. */
  const closings: number[] = [];
  const arrivals = createArrivals({
    options: { book, readsBeside: () => Promise.resolve(reads) },
    epochs: new Map([[0, keys]]),
    holdings,
    ledger,
    verifier: createVerifier(),
    document: {
      unseen() {
        counts.looks += 1;
        return document.filter(({ place }) => !seen.has(JSON.stringify(place)));
      },
      at: () => undefined,
      saw: (place) => void seen.add(JSON.stringify(place)),
    },
    caughtUp: () => true,
    closing: () => void closings.push(holdings.entries.size),
    came: (some) => came.push(...some),
    tell: (touched) => {
      if (touched !== null) counts.told += 1;
    },
  });
  return {
    arrivals,
    ledger,
    holdings,
    counts,
    read,
    came,
    closings,
    unseen: () => document.length - seen.size,
    write(now: readonly Uint8Array[], later: readonly (readonly Uint8Array[])[]) {
      put(now);
      parts = later;
    },
    fill(full: boolean) {
      isFull = full;
    },
  };
}

const parted = (): readonly [readonly Uint8Array[], (readonly Uint8Array[])[]] => {
  const { envelopes } = signed;
  return [envelopes.slice(0, AT_FIRST), [envelopes.slice(AT_FIRST, 600), [], envelopes.slice(600)]];
};

test("what comes while the rest is read is read with it, each once, and told of once", async () => {
  const [first, grown] = parted();
  const one = await newcomer(first, grown);
  expect(await one.arrivals.arrive()).toBe(true);
  expect(one.holdings.entries.size).toBe(signed.bench.entries.length);
  expect(one.came.length).toBe(signed.bench.entries.length);
  expect(one.read()).toBe(signed.bench.entries.length);
  expect(signed.bench.entries.every(({ id }) => one.ledger.has(id))).toBe(true);
  expect(one.counts.told).toBe(1);
  // The first look and one for each time it grew at most, but not one for each slice.
  expect(one.counts.looks).toBeGreaterThan(1);
  expect(one.counts.looks).toBeLessThanOrEqual(1 + grown.length);
  expect(one.unseen()).toBe(0);
});

test("nothing that came is taken for seen when the vault would not take it, and all of it is there the next time", async () => {
  const [first, grown] = parted();
  const one = await newcomer(first, grown);
  one.fill(true);
  expect(await one.arrivals.arrive()).toBe(false);
  expect(one.unseen()).toBe(signed.envelopes.length);
  one.fill(false);
  expect(await one.arrivals.arrive()).toBe(true);
  expect(one.holdings.entries.size).toBe(signed.bench.entries.length);
  expect(one.unseen()).toBe(0);
});

test("an envelope that says its volume is closed, and one whose key has not come, are found among what came meanwhile", async () => {
  const [first, grown] = parted();
  const { book } = signed.bench;
  const [now, next] = await Promise.all([0, 1].map((epoch) => deriveEpoch(book, { epoch, secret })));
  const closing = await seal(book, now!, [closingText(2027)], systemRandom);
  const shut = await seal(book, next!, [signed.bench.entries[0]!.jws], systemRandom);
  const one = await newcomer(first, [[...grown[0]!, closing, shut], ...grown.slice(1)]);
  expect(await one.arrivals.arrive()).toBe(true);
  expect(one.holdings.closed().map((volume) => volume.next)).toEqual([2027]);
  expect(one.holdings.sealed()).toHaveLength(1);
  expect(one.holdings.entries.size).toBe(signed.bench.entries.length);
  // As soon as it was met: where the book goes on is dialled while the rest is read.
  expect(one.closings).toEqual([0]);
});

test("who read a volume from nothing to where it says that the book goes on reads the next with what comes to it meanwhile", async () => {
  const { book } = signed.bench;
  const { envelopes } = signed;
  const now = await deriveEpoch(book, { epoch: 0, secret });
  const closing = await seal(book, now, [closingText(2027)], systemRandom);
  const one = await newcomer([...envelopes.slice(0, AT_FIRST), closing], []);
  expect(await one.arrivals.arrive()).toBe(true);
  expect(one.holdings.entries.size).toBe(AT_FIRST);
  one.write(envelopes.slice(AT_FIRST, 600), [envelopes.slice(600)]);
  expect(await one.arrivals.arrive()).toBe(true);
  expect(one.holdings.entries.size).toBe(signed.bench.entries.length);
  expect(one.counts.told).toBe(2);
});

test("who has a record already reads what was there, and what came meanwhile in a turn of its own", async () => {
  const { envelopes } = signed;
  const one = await newcomer(envelopes.slice(0, 100), []);
  expect(await one.arrivals.arrive()).toBe(true);
  one.write(envelopes.slice(100, 500), [envelopes.slice(500)]);
  expect(await one.arrivals.arrive()).toBe(true);
  expect(one.holdings.entries.size).toBe(500);
  expect(one.unseen()).toBe(envelopes.length - 500);
  expect(await one.arrivals.arrive()).toBe(true);
  expect(one.holdings.entries.size).toBe(signed.bench.entries.length);
});
