/** Whatever is shown at the door: turned away with a code of the list, nothing thrown, and nobody else's way in is spent by it. */
import { randomBytes } from "node:crypto";
import { closeCodes, tokenSeconds } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { RoomKey } from "../../packages/relay/src/storage.ts";
import { createDoorkeeper } from "../../packages/relay/src/token.ts";
import { newRoom } from "../support/meeting.ts";
import { anyText, spoiltText } from "../support/spoilt.ts";

/** Idle bits and line ends in base64url make another text of the same token: the same in all that is signed and checked. */
const meaning = (token: string): string =>
  token
    .split(".")
    .map((part) => Buffer.from(part, "base64url").toString("hex"))
    .join(".");

const SEED = 60_413;
const origin = "https://relay.example";
const now = 1_800_000_000_000;

test(`RL1 RL2 RL3 tokens of noise, and good ones a little changed, open nothing and spend nothing (seed ${SEED})`, async () => {
  console.info(`seed ${SEED}`);
  const door = createDoorkeeper({ now: () => now, random: (count) => new Uint8Array(randomBytes(count)) });
  const room = await newRoom();
  const key: RoomKey = { kind: "ledger", room: room.name };
  const { nonce, expires } = door.nonce(key);
  const good = await room.sign({ aud: origin, room: room.name, kind: "ledger", nonce, exp: expires });
  const claims = fc
    .record({
      aud: fc.oneof(fc.constant(origin), fc.string()),
      room: fc.oneof(fc.constant(room.name), fc.string()),
      kind: fc.constantFrom("ledger", "roster", "", null),
      nonce: fc.oneof(fc.constant(nonce), spoiltText(nonce)),
      exp: fc.oneof(fc.constant(expires), fc.integer(), fc.double(), fc.constant(null)),
    })
    .map((said) =>
      [good.split(".")[0], Buffer.from(JSON.stringify(said)).toString("base64url"), good.split(".")[2]].join("."),
    );
  const codes = new Set<number>();
  await fc.assert(
    fc.asyncProperty(fc.oneof(spoiltText(good), anyText, claims), async (token) => {
      fc.pre(meaning(token) !== meaning(good));
      const turned = await door.check(token, key, [origin]);
      if (turned === null) throw new Error(`let in with ${token}`);
      codes.add(turned.code);
      expect([closeCodes.staleToken, closeCodes.wrongToken]).toContain(turned.code);
    }),
    { seed: SEED, numRuns: 1_500 },
  );
  expect(codes.size).toBe(2);
  expect(await door.check(good, key, [origin])).toBe(null);
  expect(await door.check(good, key, [origin])).toMatchObject({ code: closeCodes.staleToken });
});

test("RL2 a token of ten million characters is not read", async () => {
  const door = createDoorkeeper({ now: () => now, random: (count) => new Uint8Array(randomBytes(count)) });
  const room = await newRoom();
  const key: RoomKey = { kind: "ledger", room: room.name };
  const { nonce } = door.nonce(key);
  const claims = { aud: origin, room: room.name, kind: "ledger", nonce, exp: now / 1000 + tokenSeconds } as const;
  const long = `${await room.sign(claims)}${"A".repeat(10_000_000)}`;
  expect(await door.check(long, key, [origin])).toMatchObject({ reason: "token-unreadable" });
});
