/** Relays that refuse, lie, fall silent or are none at all, and what a wire does then. */
import type { Server } from "node:http";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import type { TokenClaims } from "@sward/core";
import { askFrame, closeCodes, helloFrame, historyFrame, readFrame, receiptFrame, updateFrame } from "@sward/core";
import { createMemoryStorage } from "@sward/relay";
import { afterEach, expect, test } from "vitest";
import type { WebSocket } from "ws";
import { WebSocketServer } from "ws";
import * as Y from "yjs";
import { envelope } from "../../support/envelopes.ts";
import { binaryItem, block, bytes, update } from "../../support/hand-made-updates.ts";
import type { TestRoom } from "../../support/meeting.ts";
import { newRoom, relayWith, until, wired } from "../../support/meeting.ts";

const open: { close(): Promise<void> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close();
});
const join = (...given: Parameters<typeof wired>) => {
  const made = wired(...given);
  open.push(made.wire);
  return made;
};

/** Something that answers where a relay should be, one that knows of no challenge. */
async function stranger(parts: {
  answer?: (origin: string) => { status: number; body: string };
  onSocket?: (socket: WebSocket, count: number) => void;
}): Promise<{ origin: string; dialled: () => number }> {
  let origin = "";
  let count = 0;
  const server: Server = createServer((_request, response) => {
    const nonce = JSON.stringify({ nonce: "n".repeat(20), relay: origin, expires: 4_000_000_000 });
    const { status, body } = parts.answer?.(origin) ?? { status: 200, body: nonce };
    response.writeHead(status).end(body);
  });
  const sockets = new WebSocketServer({ server });
  sockets.on("connection", (socket, request) => {
    if (request.url?.endsWith("?challenge")) return socket.close(4401, "token-missing");
    count += 1;
    parts.onSocket?.(socket, count);
  });
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  open.push({
    close: async () => {
      for (const socket of sockets.clients) socket.terminate();
      sockets.close();
      server.closeAllConnections();
      await new Promise((done) => server.close(done));
    },
  });
  return { origin, dialled: () => count };
}

/** Signs as the room does, and notes what. */
const signInto =
  (claims: TokenClaims[], room: TestRoom) =>
  (made: TokenClaims): Promise<string> => {
    claims.push(made);
    return room.sign(made);
  };

const faultOf = ({ wire }: ReturnType<typeof wired>) => {
  const state = wire.state();
  return state.type === "connecting" ? state.fault : null;
};

test("what is no relay is told from one that is away, and tried again", async () => {
  const room = await newRoom();
  const page = await stranger({ answer: () => ({ status: 200, body: "<html>Sign in to the wireless</html>" }) });
  const absent = await stranger({ answer: () => ({ status: 503, body: "" }) });
  const [at, there] = [join(page.origin, room), join(absent.origin, room)];
  await until("told", () => faultOf(at)?.type === "not-a-relay" && faultOf(there)?.type === "http");
  expect(faultOf(there)).toEqual({ type: "http", status: 503 });
  expect(page.dialled() + absent.dialled()).toBe(0);
});

test("RL1 a relay that goes by another name gets no token", async () => {
  const signed: TokenClaims[] = [];
  const room = await newRoom();
  const rogue = await stranger({
    answer: () => ({
      status: 200,
      body: JSON.stringify({ nonce: "n".repeat(20), relay: "https://relay.example", expires: 4_000_000_000 }),
    }),
  });
  const { wire } = join(rogue.origin, { ...room, sign: signInto(signed, room) });
  await until("refused", () => wire.state().type === "refused");
  expect(wire.state()).toEqual({ type: "refused", code: closeCodes.wrongToken, reason: "relay-has-another-name" });
  expect(signed).toEqual([]);
});

test("RL2 after a final code the wire stops, until it is told to go on; after a stale token it tries again", async () => {
  const room = await newRoom();
  const strict = await stranger({ onSocket: (socket) => socket.close(4404, "no-such-room") });
  const final = join(strict.origin, room);
  await until("refused", () => final.wire.state().type === "refused");
  expect(final.wire.state()).toEqual({ type: "refused", code: 4404, reason: "no-such-room" });
  await new Promise((done) => setTimeout(done, 800));
  expect(strict.dialled()).toBe(1);
  final.wire.resume();
  await until("dialled again", () => strict.dialled() === 2);

  const forgetful = await stranger({ onSocket: (socket) => socket.close(4401, "token-stale") });
  const patient = join(forgetful.origin, room);
  await until("tried again", () => forgetful.dialled() >= 3);
  expect(patient.wire.state()).toMatchObject({ type: "connecting" });
});

test("RL1 each connection has a token of its own", async () => {
  const room = await newRoom();
  const claims: TokenClaims[] = [];
  let asked = 0;
  const busy = await stranger({
    answer: (origin) => {
      asked += 1;
      return {
        status: 200,
        body: JSON.stringify({ nonce: `nonce-nonce-nonce-${asked}`, relay: origin, expires: 4_000_000_000 }),
      };
    },
    onSocket: (socket) => socket.close(1013, "try-later"),
  });
  join(busy.origin, { ...room, sign: signInto(claims, room) });
  await until("three tries", () => busy.dialled() >= 3);
  expect(new Set(claims.map(({ nonce }) => nonce)).size).toBe(claims.length);
  expect(claims.length).toBeGreaterThanOrEqual(3);
});

test("nothing a hostile relay sends is applied but envelopes in their turn", async () => {
  const room = await newRoom();
  const sent = [
    updateFrame(update([], [[9, [[0, 100]]]])),
    updateFrame(update([block(8, 0, [bytes(0, 3)])])),
    updateFrame(update([block(8, 0, [binaryItem(envelope(1), { root: "others" })])])),
    historyFrame(
      update([block(30, 0, [binaryItem(envelope(1)), bytes(0, 5)]), block(20, 0, [binaryItem(envelope(2))])]),
    ),
    updateFrame(update([block(20, 5, [binaryItem(envelope(3))])])),
  ];
  const asked: Uint8Array[] = [];
  const hostile = await stranger({
    onSocket: (socket) => {
      socket.on("message", (data: Buffer) => asked.push(new Uint8Array(data)));
      for (const frame of [helloFrame("hostile"), receiptFrame(new Map([[9, 1]])), ...sent]) socket.send(frame);
    },
  });
  const doc = new Y.Doc();
  doc.clientID = 9;
  doc.getArray("entries").push([envelope(0)]);
  const { wire, entries } = join(hostile.origin, room, "ledger", doc);
  await until("all judged", () => wire.refusals().length === 4 && entries.length === 3);
  expect(wire.refusals().map(({ by, refusal }) => `${by} ${refusal.type}`)).toEqual([
    "us deletion",
    "us foreign-struct",
    "us foreign-parent",
    "us foreign-struct",
  ]);
  expect(new Set(entries.toJSON())).toEqual(new Set([envelope(0), envelope(1), envelope(2)]));
  expect([doc.store.pendingStructs, doc.store.pendingDs, [...doc.share.keys()]]).toEqual([null, null, ["entries"]]);
  expect(asked.map((frame) => readFrame(frame)?.type)).not.toContain("update");
  // The last one was a gap: it is asked about again.
  const question = askFrame(Y.encodeStateVector(doc));
  await until("asked", () => asked.some((frame) => Buffer.from(frame).equals(question)));
});

test("frames that are none, and a protocol of another version, end the connection", async () => {
  const room = await newRoom();
  const babbling = await stranger({ onSocket: (socket) => socket.send(Uint8Array.of(65, 200)) });
  const at = join(babbling.origin, room);
  await until("told", () => faultOf(at)?.type === "not-a-relay");
  const newer = await stranger({ onSocket: (socket) => socket.send(Uint8Array.of(64, 2, 1, 65)) });
  const there = join(newer.origin, room);
  await until("refused", () => there.wire.state().type === "refused");
  expect(there.wire.state()).toMatchObject({ reason: "protocol-version" });
});

test("a receipt that comes before the relay's name counts, also when the name is a new one", async () => {
  const room = await newRoom();
  const doc = new Y.Doc();
  const { origin } = await stranger({
    onSocket: (socket) => {
      socket.send(
        receiptFrame(
          new Map([
            [doc.clientID, 0],
            [7, 3],
          ]),
        ),
      );
      socket.send(helloFrame("its-store"));
    },
  });
  const { wire } = join(origin, room, "ledger", doc);
  await until("greeted", () => wire.storeId() === "its-store");
  expect(wire.stored().get(7)).toBe(3);
});

test("a socket that opens and says nothing is given up", async () => {
  const silent = await stranger({});
  const waits: number[] = [];
  const { wire } = join(silent.origin, await newRoom(), "ledger", new Y.Doc(), {
    setTimeout: (run, after) => {
      waits.push(after);
      return setTimeout(run, after / 100);
    },
  });
  await until("given up", () => faultOf({ wire } as ReturnType<typeof wired>)?.type === "no-answer");
  expect(waits[0]).toBe(15_000);
});

test("pauses grow, are spread by chance, and stay under the longest", async () => {
  const pausesWith = async (random: number): Promise<number[]> => {
    const absent = await stranger({ answer: () => ({ status: 500, body: "" }) });
    const pauses: number[] = [];
    const { wire } = join(absent.origin, await newRoom(), "ledger", new Y.Doc(), {
      random: () => random,
      setTimeout: (run, after) => setTimeout(run, after === 15_000 ? after : 1),
    });
    wire.subscribe(() => {
      const state = wire.state();
      if (state.type === "connecting" && state.next !== null) pauses.push(state.next);
    });
    await until("four pauses", () => pauses.length >= 4);
    return pauses.slice(0, 4);
  };
  // `wired` asks for 300 ms at most.
  expect(await pausesWith(0)).toEqual([150, 150, 150, 150]);
  expect(await pausesWith(0.999)).toEqual([300, 300, 300, 300]);
});

test("RL7 what a relay refuses is told to the device, and the connection stays", async () => {
  const relay = await relayWith({ envelopeBytes: 1024 }, createMemoryStorage("strict"));
  open.push(relay);
  const room = await newRoom();
  const { wire, entries, doc } = join(relay.origin, room);
  await until("live", () => wire.state().type === "live");
  entries.push([envelope(1, 2000)]);
  await until("told", () => wire.refusals().length > 0);
  expect(wire.refusals()[0]).toEqual({
    by: "relay",
    refusal: { type: "bad-envelope", fault: "long", bytes: 2000, client: doc.clientID, clock: 0 },
  });
  expect(wire.state().type).toBe("live");
  // The cure: the same entries in a fresh document, under a new client id.
  await wire.close();
  const again = join(relay.origin, room);
  again.entries.push([envelope(1, 900)]);
  await until("stored", () => again.wire.stored().get(again.doc.clientID) === 1);
});

test("a handler of the document that throws does not take the wire down", async () => {
  const relay = await relayWith();
  open.push(relay);
  const room = await newRoom();
  const [north, south] = [join(relay.origin, room), join(relay.origin, room)];
  await until("live", () => south.wire.state().type === "live");
  let thrown = 0;
  south.doc.on("update", () => {
    thrown += 1;
    if (thrown === 1) throw new Error("a listener of somebody else's");
  });
  north.entries.push([envelope(1)]);
  await until("seen", () => faultOf(south)?.type === "defect" || thrown > 0);
  north.entries.push([envelope(2)]);
  await until("all the same", () => south.entries.length === 2);
  await until("live", () => south.wire.state().type === "live");
});

test("a wire that is closed or paused by a listener, which then throws, stays so", async () => {
  const relay = await relayWith();
  open.push(relay);
  const room = await newRoom();
  const north = join(relay.origin, room);
  for (const end of ["close", "pause"] as const) {
    const south = join(relay.origin, room);
    await until("live", () => south.wire.state().type === "live");
    south.doc.on("update", () => {
      void south.wire[end]();
      throw new Error("after that");
    });
    north.entries.push([envelope(1)]);
    await until("ended", () => south.wire.state().type !== "live");
    await new Promise((done) => setTimeout(done, 400));
    expect(south.wire.state().type).toBe(end === "close" ? "closed" : "offline");
  }
});
