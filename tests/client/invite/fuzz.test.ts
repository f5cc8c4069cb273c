/** Whatever comes in a link, a file, a code or a room: a refusal as data, in bounded time, and never something thrown. */
import { createSigner } from "@sward/client";
import type { BookId } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { openWelcome, readAnswer, welcomeAnswer } from "../../../packages/client/src/invite/answer.ts";
import { newAsk, readAsk } from "../../../packages/client/src/invite/ask.ts";
import { decodeBase45, encodeBase45 } from "../../../packages/client/src/invite/base45.ts";
import { standingOf } from "../../../packages/client/src/invite/guest.ts";
import { decodeInvitation, encodeInvitation, newInvitation } from "../../../packages/client/src/invite/invitation.ts";
import {
  codesOfParcel,
  collectCodes,
  openParcel,
  parcelOfText,
  sealParcel,
  textOfParcel,
} from "../../../packages/client/src/invite/parcels.ts";

/** The same at every run; only the one-time box key is made by the platform. */
const fixed = (count: number): Uint8Array => Uint8Array.from({ length: count }, (_, at) => (at * 37 + count) % 256);
const host = await createSigner(fixed(32));
const terms = { relay: "https://relay.example", club: "Larkfield", from: host.key, until: 2_000_000_000 };
const { invitation, keys } = await newInvitation(terms, "", fixed);
const own = await newAsk(keys.id, "Bo's phone", fixed);
const club = { book: host.id as string as BookId, epochs: [{ epoch: 0, secret: host.key as string }] };
const answer = await welcomeAnswer(host, own.ask, { role: "reader", club, leagues: [] }, null);
const parcel = await sealParcel(keys, own.ask.text, fixed);

const RUNS = { seed: 4217, numRuns: 300 };

/** A good text with a few characters changed, left out, doubled or put in. */
const mutated = (good: string): fc.Arbitrary<string> =>
  fc
    .array(
      fc.record({
        at: fc.nat(good.length - 1),
        cut: fc.nat(3),
        put: fc.oneof(fc.string({ maxLength: 3 }), fc.constantFrom(".", "=", "é", "\0", good.slice(0, 40))),
      }),
      { minLength: 1, maxLength: 4 },
    )
    .map((changes) => changes.reduce((text, { at, cut, put }) => text.slice(0, at) + put + text.slice(at + cut), good));

const anyText = (good: string) =>
  fc.oneof(
    mutated(good),
    fc.string({ unit: "binary", maxLength: 300 }),
    fc.json().map((json) => btoa(encodeURI(json))),
  );

test("invitations (seed 4217)", () => {
  let refused = 0;
  fc.assert(
    fc.property(anyText(encodeInvitation(invitation)), (text) => {
      const read = decodeInvitation(text);
      if (read.ok) expect(Object.keys(read.value)).toEqual(expect.arrayContaining(["secret", "relay", "from"]));
      else refused += 1;
    }),
    RUNS,
  );
  expect(refused).toBeGreaterThan(250);
});

test("asks: none but the one that was signed is read (seed 4217)", async () => {
  await fc.assert(
    fc.asyncProperty(anyText(own.ask.text), async (text) => {
      const read = await readAsk(text, keys.id);
      if (text !== own.ask.text) expect(read.ok).toBe(false);
    }),
    RUNS,
  );
});

test("idle bits at the end of a signature make another text, which is not read", async () => {
  const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  const last = letters.indexOf(own.ask.text.at(-1) ?? "");
  const twin = own.ask.text.slice(0, -1) + letters[last + 1];
  expect((await readAsk(own.ask.text, keys.id)).ok).toBe(true);
  expect(await readAsk(twin, keys.id)).toMatchObject({ fault: { type: "parcel-broken" } });
});

test("answers: none but the one that was signed is read, nor does another box open (seed 4217)", async () => {
  const good = await readAnswer(answer, invitation, keys.id);
  if (!good.ok) throw new Error(good.fault.type);
  await fc.assert(
    fc.asyncProperty(anyText(answer), anyText(good.value.box ?? ""), async (text, box) => {
      const read = await readAnswer(text, invitation, keys.id);
      if (text !== answer) expect(read.ok).toBe(false);
      expect((await standingOf([text], invitation, own)).type).toBe(text === answer ? "welcome" : "waiting");
      if (box !== good.value.box) expect((await openWelcome({ ...good.value, box }, own)).ok).toBe(false);
    }),
    RUNS,
  );
});

test("parcels as bytes and as text (seed 4217)", async () => {
  const flips = fc.record({ at: fc.nat(parcel.length - 1), by: fc.integer({ min: 1, max: 255 }) }).map(({ at, by }) => {
    const bytes = parcel.slice();
    bytes[at] = (bytes[at] ?? 0) ^ by;
    return bytes;
  });
  await fc.assert(
    fc.asyncProperty(
      fc.oneof(flips, fc.uint8Array({ maxLength: 200 })),
      anyText(textOfParcel(parcel)),
      async (bytes, text) => {
        expect((await openParcel(keys, bytes)).ok).toBe(false);
        const read = parcelOfText(text);
        if (read.ok && text.replaceAll(/\s+/g, "") !== textOfParcel(parcel)) {
          const same = Buffer.from(read.value).equals(Buffer.from(parcel));
          expect((await openParcel(keys, read.value)).ok).toBe(same);
        }
      },
    ),
    RUNS,
  );
});

test("codes: any bytes come back, and what is no code changes nothing (seed 4217)", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.uint8Array({ maxLength: 2_000 }),
      fc.string({ unit: "binary", maxLength: 80 }),
      async (bytes, other) => {
        expect(decodeBase45(encodeBase45(bytes))).toEqual(bytes);
        decodeBase45(other);
        const collector = collectCodes();
        const whole = bytes.length === 0 ? Uint8Array.of(0) : bytes;
        let last = null;
        for (const code of (await codesOfParcel(whole)) ?? []) {
          expect(await collector.take(other)).toBeNull();
          last = await collector.take(code);
        }
        expect(last?.parcel).toEqual(whole);
      },
    ),
    RUNS,
  );
});

test("what is far too long is refused at once", async () => {
  const long = "A".repeat(40_000_000);
  const began = performance.now();
  expect(decodeInvitation(long).ok).toBe(false);
  expect(parcelOfText(`sward-parcel-1:${long}`).ok).toBe(false);
  expect(await codesOfParcel(new Uint8Array(20_000))).toBeNull();
  expect(await collectCodes().take(`SWARD10101ABCDEF12${long}`)).toBeNull();
  expect(performance.now() - began).toBeLessThan(2_000);
});
