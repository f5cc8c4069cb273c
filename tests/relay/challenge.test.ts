/** Entering with no request before it, over real sockets: what a challenge opens, and what it does not. */
import type { RoomKind } from "@sward/core";
import { askFrame, closeCodes, readChallenge, readFrame, roomPath, tokenFrame } from "@sward/core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { WebSocket } from "ws";
import type { TestRelay, TestRoom } from "../support/meeting.ts";
import { newRoom, relayWith, tokenFor, until } from "../support/meeting.ts";
import { ending, enter } from "../support/plain-caller.ts";

let relay: TestRelay;
let room: TestRoom;
beforeAll(async () => {
  [relay, room] = [await relayWith(), await newRoom()];
});
afterAll(() => relay.close());

const nothing = Uint8Array.of(0);

/** A caller that asks to be challenged, and all that it is sent, as it comes. */
function challenged(origin: string, path = `${roomPath("ledger", room.name)}?challenge`) {
  const socket = new WebSocket(origin.replace("http", "ws") + path);
  const heard: Uint8Array[] = [];
  const closed: { code: number; reason: string }[] = [];
  socket.on("message", (data: Buffer) => heard.push(new Uint8Array(data)));
  socket.on("error", () => undefined);
  socket.on("close", (code, reason) => closed.push({ code, reason: reason.toString() }));
  const come = (many: number): Promise<void> => until(`${many} frames`, () => heard.length >= many);
  return {
    socket,
    heard,
    come,
    ended: async () => {
      await until("closed", () => closed.length > 0);
      return closed[0];
    },
    /** A good token, or one of other claims, for the challenge that came. */
    token: async (claims: object = {}, signer: TestRoom = room, kind: RoomKind = "ledger") => {
      await come(1);
      const asked = readChallenge(heard[0] ?? nothing);
      if (asked === null) throw new Error("no challenge");
      const { nonce, expires: exp, relay: aud } = asked;
      return signer.sign({ aud, room: signer.name, kind, nonce, exp, ...claims });
    },
  };
}

test("RL19 a token for the challenge opens the room, and what was sent behind it is answered", async () => {
  const caller = challenged(relay.origin);
  const token = await caller.token();
  expect(readChallenge(caller.heard[0] ?? nothing)?.relay).toBe(relay.origin);
  caller.socket.send(tokenFrame(token));
  caller.socket.send(askFrame(nothing));
  await caller.come(5);
  expect(caller.heard.slice(1).map((frame) => readFrame(frame)?.type)).toEqual(["hello", "ask", "receipt", "history"]);
  // A token is no frame to somebody who is in.
  caller.socket.send(tokenFrame(token));
  expect((await caller.ended())?.code).toBe(closeCodes.badMessage);
});

test("RL2 RL19 until its token came a caller is told nothing, while others in the room are", async () => {
  const inside = await enter(relay.origin, room);
  const caller = challenged(relay.origin);
  await caller.come(1);
  inside.send(Uint8Array.of(1, 1, 7));
  await until("said to who is inside", () => inside.frames.some(({ type }) => type === "awareness"));
  expect(caller.heard).toHaveLength(1);
  caller.socket.send(tokenFrame(await caller.token()));
  await caller.come(4);
  await Promise.all([inside.close(), caller.socket.close()]);
});

test("RL1 RL19 the nonce of a challenge is good once, whichever way the token comes", async () => {
  const stale = { code: closeCodes.staleToken, reason: "token-stale" };
  const first = challenged(relay.origin);
  const token = await first.token();
  first.socket.send(tokenFrame(token));
  await first.come(4);
  const second = challenged(relay.origin);
  await second.come(1);
  second.socket.send(tokenFrame(token));
  expect(await second.ended()).toEqual(stale);
  expect(second.heard).toHaveLength(1);
  expect(await ending(relay.origin, `${roomPath("ledger", room.name)}?token=${token}`)).toEqual(stale);
  first.socket.close();
});

test("RL1 RL19 tokens for another relay, room or kind, by another key, or with another nonce", async () => {
  const neighbour = await newRoom();
  const forged = { ...neighbour, name: room.name };
  const cases: readonly (readonly [object, TestRoom, RoomKind, number, string])[] = [
    [{ aud: "https://relay.example" }, room, "ledger", closeCodes.wrongToken, "token-for-another-relay"],
    [{}, neighbour, "ledger", closeCodes.wrongToken, "token-for-another-room"],
    [{}, room, "roster", closeCodes.wrongToken, "token-for-another-room"],
    [{}, forged, "ledger", closeCodes.wrongToken, "token-signature"],
    [{ nonce: "n".repeat(30) }, room, "ledger", closeCodes.staleToken, "token-stale"],
  ];
  for (const [claims, signer, kind, code, reason] of cases) {
    const caller = challenged(relay.origin);
    caller.socket.send(tokenFrame(await caller.token(claims, signer, kind)));
    caller.socket.send(askFrame(nothing));
    expect(await caller.ended()).toEqual({ code, reason });
    expect(caller.heard).toHaveLength(1);
  }
});

test("RL3 RL19 a failed try does not spend the nonce", async () => {
  const caller = challenged(relay.origin);
  const token = await caller.token();
  caller.socket.send(tokenFrame(`${token.split(".").slice(0, 2).join(".")}.AAAA`));
  expect((await caller.ended())?.reason).toBe("token-signature");
  const again = challenged(relay.origin);
  await again.come(1);
  again.socket.send(tokenFrame(token));
  await again.come(4);
  again.socket.close();
});

test("RL12 RL19 a first frame that is no token, and one that is too long to be one", async () => {
  for (const frame of [askFrame(nothing), Uint8Array.of(), Uint8Array.of(70), tokenFrame("a".repeat(2001)), "text"]) {
    const caller = challenged(relay.origin);
    await caller.come(1);
    caller.socket.send(frame);
    expect((await caller.ended())?.code).toBe(closeCodes.badMessage);
    expect(caller.heard).toHaveLength(1);
  }
});

test("RL19 what would be a long message is not gathered: the connection is cut before it is whole", async () => {
  const caller = challenged(relay.origin);
  await caller.come(1);
  let sent = 0;
  // The head of one binary message of a million bytes, and then never more than a part of it.
  caller.socket.once("close", () => undefined);
  const raw = (caller.socket as unknown as { _socket: { write(bytes: Uint8Array): void } })._socket;
  raw.write(Uint8Array.from([0x82, 0xff, 0, 0, 0, 0, 0, 0x0f, 0x42, 0x40, 0, 0, 0, 0]));
  while (caller.socket.readyState === WebSocket.OPEN && sent < 900_000) {
    raw.write(new Uint8Array(1000));
    sent += 1000;
    await new Promise((done) => setImmediate(done));
  }
  expect((await caller.ended())?.code).toBe(1006);
  expect(sent).toBeLessThan(900_000);
});

test("RL19 no token in time", async () => {
  const caller = challenged(relay.origin);
  expect(await caller.ended()).toEqual({ code: closeCodes.staleToken, reason: "token-missing" });
  expect(caller.heard).toHaveLength(1);
});

test("RL4 RL19 who is challenged counts among callers, and a challenge among the nonces of an address", async () => {
  const small = await relayWith({ connections: 1, addressDials: 2 });
  const first = challenged(small.origin);
  await first.come(1);
  expect(await ending(small.origin, `${roomPath("ledger", room.name)}?challenge`)).toEqual({
    code: closeCodes.tryLater,
    reason: "relay-crowded",
  });
  expect(await challenged(small.origin).ended()).toEqual({ code: closeCodes.tryLater, reason: "address-crowded" });
  expect((await fetch(`${small.origin}${roomPath("ledger", room.name)}/nonce`)).status).toBe(429);
  first.socket.send(tokenFrame(await first.token()));
  await first.come(4);
  await small.close();
  expect((await first.ended())?.code).toBe(closeCodes.goingAway);
});

test("RL19 who waits with its token is let go when the relay stops, and its place is free when it goes by itself", async () => {
  const small = await relayWith({ connections: 1 });
  const first = challenged(small.origin);
  await first.come(1);
  first.socket.close();
  await first.ended();
  const second = challenged(small.origin);
  await second.come(1);
  await small.close();
  expect(await second.ended()).toEqual({ code: closeCodes.goingAway, reason: "relay-stopping" });
});

test("RL1 RL19 a token in the address comes first; rooms that are none are told apart as ever", async () => {
  const path = roomPath("ledger", room.name);
  const both = challenged(relay.origin, `${path}?challenge&token=${await tokenFor(relay.origin, room, "ledger")}`);
  await both.come(3);
  expect(both.heard.map((frame) => readFrame(frame)?.type)).toEqual(["hello", "ask", "receipt"]);
  both.socket.close();
  const none = { code: closeCodes.noSuchRoom, reason: "no-such-room" };
  expect(await ending(relay.origin, "/rooms/ledger/abc?challenge")).toEqual(none);
  expect((await challenged(relay.origin, "/?challenge").ended())?.code).toBe(1006);
});
