/** Who gets into a room, over real sockets. */
import { closeCodes, roomPath } from "@sward/core";
import { CompactSign, calculateJwkThumbprint, exportJWK, generateKeyPair } from "jose";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { TestRelay, TestRoom } from "../support/meeting.ts";
import { newRoom, relayWith, tokenFor, until } from "../support/meeting.ts";
import { dial, ending, enter } from "../support/plain-caller.ts";

let relay: TestRelay;
let other: TestRelay;
let room: TestRoom;
beforeAll(async () => {
  [relay, other, room] = [await relayWith(), await relayWith(), await newRoom()];
});
afterAll(async () => {
  await relay.close();
  await other.close();
});

const path = (token?: string): string => roomPath("ledger", room.name) + (token === undefined ? "" : `?token=${token}`);
const stale = { code: closeCodes.staleToken, reason: "token-stale" };

test("RL1 a good token opens the room once", async () => {
  const token = await tokenFor(relay.origin, room, "ledger");
  const caller = await dial(relay.origin, path(token));
  await until("greeted", () => caller.frames.length >= 3);
  expect(caller.frames.map(({ type }) => type)).toEqual(["hello", "ask", "receipt"]);
  expect(await ending(relay.origin, path(token))).toEqual(stale);
  await caller.close();
});

test("RL2 no token, and tokens that are nothing", async () => {
  expect(await ending(relay.origin, path())).toEqual({ code: closeCodes.staleToken, reason: "token-missing" });
  for (const token of ["x", "a.b.c", "..", "a".repeat(5000), Buffer.from("{}").toString("base64url")]) {
    expect(await ending(relay.origin, path(token))).toEqual({
      code: closeCodes.wrongToken,
      reason: "token-unreadable",
    });
  }
});

test("RL1 a token for another relay, passed on by it", async () => {
  const claims = { aud: other.origin };
  const asked = await tokenFor(relay.origin, room, "ledger", claims);
  expect(await ending(relay.origin, path(asked))).toEqual({
    code: closeCodes.wrongToken,
    reason: "token-for-another-relay",
  });
  expect(await ending(relay.origin, path(await tokenFor(other.origin, room, "ledger", { aud: relay.origin })))).toEqual(
    stale,
  );
});

test("RL1 a token for another room, or for the same room of the other kind", async () => {
  const wrong = { code: closeCodes.wrongToken, reason: "token-for-another-room" };
  const neighbour = await newRoom();
  expect(await ending(relay.origin, path(await tokenFor(relay.origin, neighbour, "ledger")))).toEqual(wrong);
  expect(await ending(relay.origin, path(await tokenFor(relay.origin, room, "roster")))).toEqual(wrong);
});

test("RL1 a nonce for another room, and one of nobody", async () => {
  const neighbour = await newRoom();
  const asked = await fetch(`${relay.origin}${roomPath("ledger", neighbour.name)}/nonce`);
  const { nonce } = (await asked.json()) as { nonce: string };
  expect(await ending(relay.origin, path(await tokenFor(relay.origin, room, "ledger", { nonce })))).toEqual(stale);
  for (const made of ["", "1.2.3", `${2 ** 40}.a.b`]) {
    expect(await ending(relay.origin, path(await tokenFor(relay.origin, room, "ledger", { nonce: made })))).toEqual(
      stale,
    );
  }
});

test("RL1 a token that has run out, and one that would last too long", async () => {
  const now = Math.floor(Date.now() / 1000);
  expect(await ending(relay.origin, path(await tokenFor(relay.origin, room, "ledger", { exp: now })))).toEqual(stale);
  expect(await ending(relay.origin, path(await tokenFor(relay.origin, room, "ledger", { exp: now + 90 })))).toEqual({
    code: closeCodes.wrongToken,
    reason: "token-lasts-too-long",
  });
});

test("RL1 a token signed by another key, of another type, without a signature, or with a byte changed", async () => {
  const wrong = { code: closeCodes.wrongToken, reason: "token-signature" };
  const { privateKey, publicKey } = await generateKeyPair("EdDSA", { crv: "Ed25519" });
  const sign = async (claims: object, typ: string, kid: string) =>
    new CompactSign(new TextEncoder().encode(JSON.stringify(claims)))
      .setProtectedHeader({ alg: "EdDSA", typ, kid })
      .sign(privateKey);
  const kidOf = (x: string) => calculateJwkThumbprint({ kty: "OKP", crv: "Ed25519", x });
  const forged = { ...room, sign: async (claims: object) => sign(claims, "sward-token", await kidOf(room.name)) };
  expect(await ending(relay.origin, path(await tokenFor(relay.origin, forged, "ledger")))).toEqual(wrong);

  const own = (await exportJWK(publicKey)).x as TestRoom["name"];
  const mistyped = { name: own, sign: async (claims: object) => sign(claims, "JWT", await kidOf(own)) };
  const misnamed = { name: own, sign: async (claims: object) => sign(claims, "sward-token", await kidOf(room.name)) };
  for (const made of [mistyped, misnamed]) {
    const token = await tokenFor(relay.origin, made, "ledger");
    expect(await ending(relay.origin, `${roomPath("ledger", own)}?token=${token}`)).toEqual(wrong);
  }

  const [head = "", body = "", signature = ""] = (await tokenFor(relay.origin, room, "ledger")).split(".");
  const none = Buffer.from(JSON.stringify({ alg: "none", typ: "sward-token" })).toString("base64url");
  const changed = signature.replace(/^./, (first) => (first === "A" ? "B" : "A"));
  for (const token of [`${none}.${body}.`, `${head}.${body}.`, `${head}.${body}.${changed}`]) {
    expect(await ending(relay.origin, path(token))).toEqual(wrong);
  }
});

test("RL3 a failed try does not spend the nonce of an honest caller", async () => {
  const token = await tokenFor(relay.origin, room, "ledger");
  const [head = "", body = ""] = token.split(".");
  await ending(relay.origin, path(`${head}.${body}.AAAA`));
  const caller = await dial(relay.origin, path(token));
  await until("greeted", () => caller.frames.length >= 3);
  await caller.close();
});

test("RL2 addresses that are no rooms", async () => {
  const none = { code: closeCodes.noSuchRoom, reason: "no-such-room" };
  for (const address of [
    "/rooms/ledger/",
    "/rooms/ledger/abc",
    `/rooms/diary/${room.name}`,
    "/rooms/",
    `${path()}/more`,
    `${path()}x`,
  ]) {
    expect(await ending(relay.origin, address), address).toEqual(none);
  }
  expect((await fetch(`${relay.origin}/rooms/ledger/abc/nonce`)).status).toBe(404);
});

test("RL1 the relay's name in a nonce is the one it was called by, if it has that name", async () => {
  const named = await relayWith({ origins: ["https://relay.example", "http://127.0.0.1:1"] });
  const asked = await fetch(`http://127.0.0.1:${named.port}${roomPath("ledger", room.name)}/nonce`);
  expect(await asked.json()).toMatchObject({ relay: "https://relay.example" });
  await named.close();
  const local = await fetch(`http://localhost:${relay.port}${roomPath("ledger", room.name)}/nonce`);
  expect(await local.json()).toMatchObject({ relay: `http://localhost:${relay.port}` });
});

test("RL1 a relay that listens on every address is reached by its local name", async () => {
  const open = await relayWith({ host: "0.0.0.0" });
  expect(open.url).toBe(`http://localhost:${open.port}`);
  await (await enter(open.url, await newRoom())).close();
  await open.close();
});

test("RL4 too many callers are told to try later; those inside stay", async () => {
  const small = await relayWith({ connections: 3, roomConnections: 2 });
  const crowd = await newRoom();
  const inside = [await enter(small.origin, crowd), await enter(small.origin, crowd)];
  const later = await dial(
    small.origin,
    `${roomPath("ledger", crowd.name)}?token=${await tokenFor(small.origin, crowd, "ledger")}`,
  );
  await until("told", () => later.closed() !== null);
  expect(later.closed()).toEqual({ code: closeCodes.tryLater, reason: "room-crowded" });
  const elsewhere = await enter(small.origin, await newRoom());
  const token = await tokenFor(small.origin, crowd, "ledger");
  expect(await ending(small.origin, `${roomPath("ledger", crowd.name)}?token=${token}`)).toMatchObject({
    reason: "relay-crowded",
  });
  expect([...inside, elsewhere].map((caller) => caller.closed())).toEqual([null, null, null]);
  await small.close();
});

test("no event for the operator holds a token or a nonce", async () => {
  const token = await tokenFor(relay.origin, room, "ledger");
  await ending(relay.origin, path(`${token}x`));
  const [, body = ""] = token.split(".");
  expect(JSON.stringify(relay.events)).not.toContain(body);
  expect(relay.events).toContainEqual(expect.objectContaining({ type: "turned-away", reason: "token-signature" }));
});
