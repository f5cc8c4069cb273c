/** How a wire gets into a room: on one connection where the relay challenges, and what becomes of it where that goes wrong. */
import type { AddressInfo } from "node:net";
import type { TokenClaims } from "@sward/core";
import { challengeFrame, closeCodes, readToken } from "@sward/core";
import { afterEach, expect, test } from "vitest";
import type { WebSocket } from "ws";
import { WebSocketServer } from "ws";
import { envelope } from "../../support/envelopes.ts";
import { newRoom, relayWith, until, wireDeps, wired } from "../../support/meeting.ts";

const open: { close(): Promise<void> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close();
});
const join = (...given: Parameters<typeof wired>) => {
  const made = wired(...given);
  open.push(made.wire);
  return made;
};

/** Notes each request, and makes it. */
function noting() {
  const asked: string[] = [];
  const note = (url: Parameters<typeof fetch>[0], init?: RequestInit): Promise<Response> => {
    asked.push(String(url));
    return fetch(url, init);
  };
  return { asked, deps: { fetch: note as typeof fetch } };
}

/** A relay that only challenges; `onSocket` has each socket, and the address it dialled. */
async function challenger(onSocket: (socket: WebSocket, path: string, origin: string) => void): Promise<string> {
  const sockets = new WebSocketServer({ port: 0, host: "127.0.0.1" });
  await new Promise((listening) => sockets.once("listening", listening));
  const origin = `http://127.0.0.1:${(sockets.address() as AddressInfo).port}`;
  sockets.on("connection", (socket, request) => onSocket(socket, request.url ?? "", origin));
  open.push({
    close: () => {
      for (const socket of sockets.clients) socket.terminate();
      return new Promise((done) => sockets.close(() => done()));
    },
  });
  return origin;
}

const challengeOf = (relay: string): Uint8Array =>
  challengeFrame({ nonce: "n".repeat(20), relay, expires: 4_000_000_000 });

test("RL19 two devices meet, and neither has asked for a nonce; both come again so when the relay let them go", async () => {
  const relay = await relayWith();
  open.push(relay);
  const [room, { asked, deps }] = [await newRoom(), noting()];
  const north = join(relay.origin, room, "ledger", undefined, deps);
  north.entries.push([envelope(1)]);
  const south = join(relay.origin, room, "ledger", undefined, deps);
  south.entries.push([envelope(2)]);
  const isStored = ({ doc, wire }: typeof north): boolean => wire.stored().get(doc.clientID) === 1;
  const met = (): boolean => [north, south].every((one) => one.entries.length === 2 && isStored(one));
  await until("each has the other's", met);
  relay.letGo();
  await until("noticed", () => [north, south].every(({ wire }) => wire.state().type === "connecting"));
  north.entries.push([envelope(3)]);
  await until("in step again", () => south.entries.length === 3 && north.wire.stored().get(north.doc.clientID) === 2);
  expect(asked).toEqual([]);
});

test("RL1 RL19 a challenger that goes by another name gets no token", async () => {
  const [room, signed, told] = [await newRoom(), [] as TokenClaims[], [] as Uint8Array[]];
  const origin = await challenger((socket) => {
    socket.on("message", (data: Buffer) => told.push(new Uint8Array(data)));
    socket.send(challengeOf("https://relay.example"));
  });
  const sign = (claims: TokenClaims): Promise<string> => {
    signed.push(claims);
    return room.sign(claims);
  };
  const { wire } = join(origin, { ...room, sign });
  await until("refused", () => wire.state().type === "refused");
  expect(wire.state()).toEqual({ type: "refused", code: closeCodes.wrongToken, reason: "relay-has-another-name" });
  expect([signed, told]).toEqual([[], []]);
});

test("RL2 RL18 RL19 a code before the challenge, or for the token, is obeyed without asking for a nonce", async () => {
  const { asked, deps } = noting();
  const gone = await challenger((socket) => socket.close(4404, "no-such-room"));
  const crowded = await challenger((socket) => socket.close(1013, "relay-crowded"));
  const tokens: (string | null)[] = [];
  const strict = await challenger((socket, _path, origin) => {
    socket.on("message", (data: Buffer) => {
      if (data[0] !== 70) return;
      tokens.push(readToken(new Uint8Array(data)));
      socket.close(4403, "token-signature");
    });
    socket.send(challengeOf(origin));
  });
  const room = await newRoom();
  const [final, later, wrong] = [gone, crowded, strict].map((at) => join(at, room, "ledger", undefined, deps).wire);
  await until("refused", () => final?.state().type === "refused" && wrong?.state().type === "refused");
  expect(final?.state()).toEqual({ type: "refused", code: 4404, reason: "no-such-room" });
  expect(wrong?.state()).toEqual({ type: "refused", code: 4403, reason: "token-signature" });
  expect(tokens.map((token) => token?.split(".").length)).toEqual([3]);
  const told = (): unknown => {
    const state = later?.state();
    return state?.type === "connecting" ? state.fault : null;
  };
  await until("told to come later", () => told() !== null);
  expect(told()).toEqual({ type: "closed", code: 1013 });
  expect(asked).toEqual([]);
});

test("RL19 at a relay that knows of no challenge the wire asks for a nonce, and challenges it no more", async () => {
  const dialled: string[] = [];
  const origin = await challenger((socket, path) => {
    dialled.push(path);
    socket.close(4401, "token-missing");
  });
  const [room, asked] = [await newRoom(), [] as string[]];
  const answer = (url: Parameters<typeof fetch>[0]): Promise<Response> => {
    asked.push(String(url));
    return Promise.resolve(Response.json({ nonce: "n".repeat(20), relay: origin, expires: 4_000_000_000 }));
  };
  join(origin, room, "ledger", undefined, { fetch: answer as typeof fetch });
  await until("dialled with two tokens", () => dialled.length >= 3);
  expect(dialled.slice(0, 3).map((path) => path.replace(/^.*\?([a-z]+).*$/, "$1"))).toEqual([
    "challenge",
    "token",
    "token",
  ]);
  expect(asked.length).toBeGreaterThanOrEqual(2);
});

test("RL16 RL19 the others that a challenger names are dialled when it lets us go", async () => {
  const met: string[] = [];
  const other = await challenger((_socket, path) => met.push(path));
  const origin = await challenger((socket, _path, own) => {
    socket.on("message", () => socket.close(1011, "not-stored"));
    socket.send(challengeFrame({ nonce: "n".repeat(20), relay: own, expires: 4_000_000_000, others: [other] }));
  });
  const room = await newRoom();
  join(origin, room);
  await until("at the other", () => met.length > 0);
  expect(met[0]).toBe(`/rooms/ledger/${room.name}?challenge`);
});

test("RL19 what is no challenge is not answered", async () => {
  const heard: Uint8Array[] = [];
  const origin = await challenger((socket) => {
    socket.on("message", (data: Buffer) => heard.push(new Uint8Array(data)));
    socket.send(Uint8Array.of(64, 1, 2, 115, 49));
  });
  const { wire } = join(origin, await newRoom());
  await until("told", () => {
    const state = wire.state();
    return state.type === "connecting" && state.fault !== null;
  });
  expect(heard).toEqual([]);
});

test("RL19 paused before the challenge was answered: the connection is gone, and nothing was said", async () => {
  const [heard, ends]: [unknown[], number[]] = [[], []];
  let offered: WebSocket | null = null;
  const origin = await challenger((socket) => {
    offered = socket;
    socket.on("message", (data) => heard.push(data));
    socket.on("close", (code) => ends.push(code));
  });
  const room = await newRoom();
  let signing: (() => void) | null = null;
  const sign = (claims: TokenClaims): Promise<string> =>
    new Promise((signed) => {
      signing = () => void room.sign(claims).then(signed);
    });
  const { wire } = join(origin, { ...room, sign }, "ledger", undefined, wireDeps);
  await until("dialled", () => offered !== null);
  (offered as WebSocket | null)?.send(challengeOf(origin));
  await until("asked to sign", () => signing !== null);
  wire.pause();
  (signing as (() => void) | null)?.();
  await until("hung up", () => ends.length === 1);
  expect(heard).toEqual([]);
  expect(wire.state()).toEqual({ type: "offline" });
});
