/** Envelopes: what goes in comes out, and nothing else opens them. */
import { createSigner, deriveEpoch, openEnvelope, seal, systemRandom } from "@sward/client";
import type { BookId } from "@sward/core";
import { screenLimits } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { blocksOf } from "../../../packages/client/src/book/seal.ts";

const bookOf = async () => (await createSigner(systemRandom(32))).id as string as BookId;

test("the texts of a block come back in order; another book, epoch or secret, or one changed byte, opens nothing", async () => {
  const [book, other] = [await bookOf(), await bookOf()];
  const secret = systemRandom(32);
  const keys = await deriveEpoch(book, { epoch: 3, secret });
  const envelope = await seal(book, keys, ["one", "two", "ünïcode"], systemRandom);
  expect([...envelope.slice(0, 5)]).toEqual([1, 0, 0, 0, 3]);
  const by = (found: typeof keys | undefined) => () => found;
  expect(await openEnvelope(book, by(keys), envelope)).toEqual(["one", "two", "ünïcode"]);
  expect(await openEnvelope(book, by(undefined), envelope)).toEqual({ type: "unknown-epoch", epoch: 3 });
  expect(await openEnvelope(other, by(keys), envelope)).toEqual({ type: "sealed-otherwise" });
  const otherSecret = await deriveEpoch(book, { epoch: 3, secret: systemRandom(32) });
  expect(await openEnvelope(book, by(otherSecret), envelope)).toEqual({ type: "sealed-otherwise" });
  for (let at = 0; at < envelope.length; at += 1) {
    const changed = envelope.slice();
    changed[at] = (changed[at] ?? 0) ^ 1;
    expect(Array.isArray(await openEnvelope(book, by(keys), changed)), `byte ${at}`).toBe(false);
  }
  expect(await openEnvelope(book, by(keys), envelope.slice(0, 20))).toEqual({ type: "not-an-envelope" });
});

test("two books, two epochs and two rooms never share a key", async () => {
  const [book, other] = [await bookOf(), await bookOf()];
  const secret = systemRandom(32);
  const all = await Promise.all([
    deriveEpoch(book, { epoch: 0, secret }),
    deriveEpoch(book, { epoch: 1, secret }),
    deriveEpoch(other, { epoch: 0, secret }),
  ]);
  const names = all.flatMap(({ ledgerRoom, rosterRoom }) => [ledgerRoom.key, rosterRoom.key]);
  expect(new Set(names).size).toBe(6);
  const again = await deriveEpoch(book, { epoch: 0, secret });
  expect(again.room).toBe(all[0]?.room);
});

test("blocks keep every item in order, and none is longer than a relay takes (seed 20261125)", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 1, max: 32 * 1024 })), fc.integer({ min: 1, max: 300 }), (lengths, most) => {
      const blocks = blocksOf(lengths, (length) => length, most);
      expect(blocks.flat()).toEqual(lengths);
      for (const block of blocks) {
        expect(block.length).toBeLessThanOrEqual(most);
        const sealed = block.reduce((sum, length) => sum + length + 1, 0) + 33;
        expect(sealed).toBeLessThanOrEqual(screenLimits.envelopeBytes);
      }
    }),
    { seed: 20_261_125, numRuns: 300 },
  );
});
