/** Whatever comes in an envelope, a frame or a file of entries: refused as data, and the book is as it was. */
import type { Frame } from "@sward/core";
import { digestOf, readFrame, receiptFrame, refusalFrame, updateFrame } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { headsText, readHeads } from "../../../packages/client/src/book/heads.ts";
import { openEnvelope, seal } from "../../../packages/client/src/book/seal.ts";
import { deriveEpoch } from "../../../packages/client/src/keys/book-keys.ts";
import { decodeSaying, encodeSaying, longestSaying } from "../../../packages/client/src/wire/saying.ts";
import { anyBytes, anyText, spoiltBytes, spoiltText } from "../../support/spoilt.ts";
import { stateText } from "../../support/state-text.ts";
import { SECRET, signedClub, textsOf } from "../record/signed-club.ts";

const SEED = 88_017;
const fixed = (count: number): Uint8Array => Uint8Array.from({ length: count }, (_, at) => (at * 37 + count) % 256);

test(`entries of noise, and good ones a little changed, are taken by no book and change nothing (seed ${SEED})`, async () => {
  console.info(`seed ${SEED}`);
  const club = await signedClub();
  await club.plays("2026-05-01", "ada", "ben", "7-4");
  const book = club.root;
  const texts = textsOf(book);
  const before = [book.digest(), stateText(book.state()), texts.length];
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...texts).chain((text) => fc.oneof(spoiltText(text), anyText)),
      fc.subarray(texts, { maxLength: 3 }),
      async (text, more) => {
        fc.pre(!texts.includes(text));
        const taken = await book.takeEntries([...more, text]);
        expect(taken).toMatchObject({ fault: { type: "entries-not-taken", refused: 1, of: more.length + 1 } });
      },
    ),
    { seed: SEED, numRuns: 600 },
  );
  expect([book.digest(), stateText(book.state()), textsOf(book).length]).toEqual(before);
});

test(`envelopes: none but the one that was sealed is opened (seed ${SEED})`, async () => {
  const book = digestOf("a book") as string as Parameters<typeof seal>[0];
  const keys = await deriveEpoch(book, { epoch: 3, secret: SECRET });
  const sealed = await seal(book, keys, ["one", "two"], fixed);
  const keysOf = (epoch: number) => (epoch === 3 ? keys : undefined);
  expect(await openEnvelope(book, keysOf, sealed)).toEqual(["one", "two"]);
  const types = new Set<string>();
  await fc.assert(
    fc.asyncProperty(fc.oneof(spoiltBytes(sealed), anyBytes), async (bytes) => {
      fc.pre(!Buffer.from(bytes).equals(Buffer.from(sealed)));
      const opened = await openEnvelope(book, keysOf, bytes);
      if (!("type" in opened)) throw new Error("a spoilt envelope was opened");
      types.add(opened.type);
    }),
    { seed: SEED, numRuns: 1_500 },
  );
  expect([...types].sort()).toEqual(["not-an-envelope", "sealed-otherwise", "unknown-epoch"]);
});

test(`frames, sayings and heads: read or not, nothing is thrown (seed ${SEED})`, () => {
  const heads = headsText(
    "a-speaker-of-16-",
    Array.from({ length: 64 }, () => "0123456789"),
  );
  const saying = encodeSaying(7, 9, fixed(300));
  const frames = [
    updateFrame(fixed(60)),
    receiptFrame(new Map([[7, 9]])),
    refusalFrame({ type: "too-long", bytes: 9, limit: 8 }),
  ];
  const types = new Set<Frame["type"] | null>();
  fc.assert(
    fc.property(
      fc.oneof(anyBytes, ...frames.map(spoiltBytes)),
      fc.oneof(anyBytes, spoiltBytes(saying)),
      fc.oneof(anyText, spoiltText(heads)),
      (frame, said, text) => {
        types.add(readFrame(frame)?.type ?? null);
        const bytes = decodeSaying(said);
        if (bytes !== null) expect(bytes.length).toBeLessThanOrEqual(longestSaying + 30);
        const read = readHeads(text);
        if (read !== null) expect(read.heads.map((one) => one.length)).toEqual(Array.from({ length: 64 }, () => 10));
      },
    ),
    { seed: SEED, numRuns: 3_000 },
  );
  expect(types).toContain(null);
  expect(types.size).toBeGreaterThan(4);
});
