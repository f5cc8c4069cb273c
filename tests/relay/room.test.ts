/** What a room takes, refuses and passes on, with real Yjs clients and hostile callers in the same room. */
import {
  askFrame,
  awarenessFrame,
  closeCodes,
  helloFrame,
  historyFrame,
  receiptFrame,
  roomPath,
  stateVectorBytes,
  updateFrame,
} from "@sward/core";
import { createMemoryStorage } from "@sward/relay";
import { afterEach, expect, test } from "vitest";
import { WebSocket } from "ws";
import { WebsocketProvider } from "y-websocket";
import * as Y from "yjs";
import { envelope } from "../support/envelopes.ts";
import { binaryItem, block, bytes, update } from "../support/hand-made-updates.ts";
import type { TestRelay, TestRoom } from "../support/meeting.ts";
import { newRoom, relayWith, tokenFor, until } from "../support/meeting.ts";
import type { PlainCaller } from "../support/plain-caller.ts";
import { enter } from "../support/plain-caller.ts";

const open: { close(): Promise<unknown> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close();
});
const relay = async (...given: Parameters<typeof relayWith>): Promise<TestRelay> => {
  const made = await relayWith(...given);
  open.push(made);
  return made;
};

/** What the room has, as a new caller gets it. */
async function contentOf(origin: string, room: TestRoom, kind: "ledger" | "roster" = "ledger"): Promise<Y.Doc> {
  const reader = await enter(origin, room, kind);
  reader.send(askFrame(Y.encodeStateVector(new Y.Doc())));
  await until("history", () => reader.frames.some(({ type }) => type === "history"));
  const doc = new Y.Doc();
  for (const frame of reader.frames)
    if (frame.type === "history" || frame.type === "update") Y.applyUpdate(doc, frame.update);
  await reader.close();
  return doc;
}

const refusalsOf = (caller: PlainCaller): string[] =>
  caller.frames.flatMap((frame) => (frame.type === "refusal" ? [frame.refusal.type] : []));

/** Sends one frame and waits for a refusal. */
async function refusedFor(caller: PlainCaller, frame: Uint8Array): Promise<string> {
  const before = refusalsOf(caller).length;
  caller.send(frame);
  await until("a refusal", () => refusalsOf(caller).length > before);
  return refusalsOf(caller).at(-1) ?? "";
}

const oneItem = (number: number, client = 9, clock = 0): Uint8Array =>
  update([block(client, clock, [binaryItem(envelope(number), clock > 0 ? { origin: [client, clock - 1] } : {})])]);

test("RL5 two plain y-websocket clients exchange through the relay, as they are sold", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  const provide = async (): Promise<{ doc: Y.Doc; provider: WebsocketProvider }> => {
    const doc = new Y.Doc();
    const provider = new WebsocketProvider(origin.replace("http", "ws"), roomPath("ledger", room.name).slice(1), doc, {
      params: { token: await tokenFor(origin, room, "ledger") },
      WebSocketPolyfill: WebSocket as unknown as typeof globalThis.WebSocket,
      disableBc: true,
    });
    // Frames 64 to 66 are not known to it; without this it reports each on the console.
    for (const type of [64, 65, 66]) provider.messageHandlers[type] = () => undefined;
    open.push({ close: async () => provider.destroy() });
    return { doc, provider };
  };
  const north = await provide();
  await until("north synced", () => north.provider.synced);
  const south = await provide();
  await until("south synced", () => south.provider.synced);
  north.doc.getArray("entries").push([envelope(1)]);
  south.doc.getArray("entries").push([envelope(2)]);
  await until("both have both", () => [north, south].every(({ doc }) => doc.getArray("entries").length === 2));
  expect(north.doc.getArray("entries").toJSON()).toEqual(south.doc.getArray("entries").toJSON());
  south.provider.awareness.setLocalStateField("here", true);
  await until("awareness of each other", () => north.provider.awareness.getStates().size === 2);
});

test("RL6 an update is passed on to others and receipted to all, after it is stored", async () => {
  const storage = createMemoryStorage("order");
  const order: string[] = [];
  const slow = {
    ...storage,
    append: async (...given: Parameters<typeof storage.append>) => {
      await new Promise((done) => setTimeout(done, 60));
      await storage.append(...given);
      order.push("stored");
    },
  };
  const { origin } = await relay({}, slow);
  const room = await newRoom();
  const [writer, reader] = [await enter(origin, room), await enter(origin, room)];
  for (const caller of [writer, reader]) {
    caller.socket.on("message", () => order.push(caller === writer ? "to writer" : "to reader"));
  }
  writer.send(updateFrame(oneItem(1)));
  await until("receipts", () => order.length >= 4);
  expect(order).toEqual(["stored", expect.anything(), expect.anything(), expect.anything()]);
  expect(reader.frames.slice(3)).toEqual([
    { type: "update", update: oneItem(1) },
    { type: "receipt", stored: new Map([[9, 1]]) },
  ]);
  expect(writer.frames.slice(3)).toEqual([{ type: "receipt", stored: new Map([[9, 1]]) }]);
});

test("RL7 a deletion is refused with its reason, and the room is as it was", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  const [writer, hostile] = [await enter(origin, room), await enter(origin, room)];
  writer.send(updateFrame(oneItem(1)));
  await until("stored", () => writer.frames.some((frame) => frame.type === "receipt" && frame.stored.get(9) === 1));
  expect(await refusedFor(hostile, updateFrame(update([], [[9, [[0, 1]]]])))).toBe("deletion");
  expect(hostile.frames.at(-1)).toEqual({
    type: "refusal",
    refusal: { type: "deletion", client: 9, clock: 0, length: 1 },
  });
  expect(await refusedFor(hostile, updateFrame(update([block(8, 0, [bytes(0, 3)])])))).toBe("foreign-struct");
  expect(await refusedFor(hostile, historyFrame(update([], [[9, [[0, 1]]]])))).toBe("deletion");
  expect((await contentOf(origin, room)).getArray("entries").toJSON()).toEqual([envelope(1)]);
  expect(writer.frames.filter(({ type }) => type === "update")).toEqual([]);
  expect([writer.closed(), hostile.closed()]).toEqual([null, null]);
});

test("RL7 of a partly bad page the good part is taken, stored and passed on", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  const [writer, reader] = [await enter(origin, room), await enter(origin, room)];
  const page = update([block(20, 0, [binaryItem(envelope(1)), bytes(0, 5)]), block(10, 0, [binaryItem(envelope(2))])]);
  expect(await refusedFor(writer, historyFrame(page))).toBe("foreign-struct");
  await until("passed on", () => reader.frames.some(({ type }) => type === "update"));
  expect(new Set((await contentOf(origin, room)).getArray("entries").toJSON())).toEqual(
    new Set([envelope(1), envelope(2)]),
  );
});

test("RL8 a gap is asked about; in an answer it is refused, so that nobody asks for ever", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  const caller = await enter(origin, room);
  caller.send(updateFrame(oneItem(2, 9, 1)));
  await until("asked again", () => caller.frames.filter(({ type }) => type === "ask").length === 2);
  expect(await refusedFor(caller, historyFrame(oneItem(2, 9, 1)))).toBe("unconnected");
  expect((await contentOf(origin, room)).getArray("entries").length).toBe(0);
});

test("RL7 an envelope over the limit is refused; a message over the limit ends the connection with 1009", async () => {
  const { origin } = await relay({ messageBytes: 64 * 1024, envelopeBytes: 2000 });
  const room = await newRoom();
  const caller = await enter(origin, room);
  const long = update([block(9, 0, [binaryItem(envelope(1, 2001))])]);
  expect(await refusedFor(caller, updateFrame(long))).toBe("bad-envelope");
  caller.send(new Uint8Array(70 * 1024));
  await until("closed", () => caller.closed() !== null);
  expect(caller.closed()?.code).toBe(closeCodes.tooLong);
  expect((await contentOf(origin, room)).getArray("entries").length).toBe(0);
});

test("RL7 a full room refuses what is over its limit, and says how full it is", async () => {
  const { origin } = await relay({ ledgerBytes: 1024 });
  const room = await newRoom();
  const caller = await enter(origin, room);
  for (let clock = 0; clock < 20; clock += 1) caller.send(updateFrame(oneItem(clock, 9, clock)));
  await until("refused", () => refusalsOf(caller).includes("room-full"));
  const kept = (await contentOf(origin, room)).getArray("entries").length;
  expect(kept).toBeGreaterThan(5);
  expect(kept).toBeLessThan(20);
});

test("RL12 what is no frame, or a frame only a relay sends, ends the connection with 4400", async () => {
  const { origin } = await relay();
  const frames = [
    Uint8Array.of(99),
    new Uint8Array(0),
    helloFrame("x"),
    receiptFrame(new Map()),
    Uint8Array.of(0, 7, 0),
  ];
  for (const frame of [...frames, awarenessFrame(new Uint8Array(5000)), askFrame(Uint8Array.of(5))]) {
    const caller = await enter(origin, await newRoom());
    caller.send(frame);
    await until("closed", () => caller.closed() !== null);
    expect(caller.closed()?.code).toBe(closeCodes.badMessage);
  }
  const texting = await enter(origin, await newRoom());
  texting.socket.send("text");
  await until("closed", () => texting.closed() !== null);
  expect(texting.closed()).toEqual({ code: closeCodes.badMessage, reason: "text" });
});

test("RL12 random frames never bring a room down (seed 4711)", async () => {
  const { origin, events } = await relay();
  const room = await newRoom();
  const witness = await enter(origin, room);
  let state = 4711;
  const next = (below: number): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
  let caller = await enter(origin, room);
  for (let round = 0; round < 400; round += 1) {
    if (caller.closed() !== null) caller = await enter(origin, room);
    const body = Uint8Array.from({ length: next(40) }, () => (next(4) === 0 ? next(256) : next(12)));
    const frame = [updateFrame, historyFrame, askFrame, awarenessFrame, (raw: Uint8Array) => raw][next(5)]!(body);
    if (caller.socket.readyState === WebSocket.OPEN) caller.send(frame);
    if (round % 20 === 0) await new Promise((done) => setTimeout(done, 5));
  }
  witness.send(updateFrame(oneItem(1, 77)));
  await until("the room still works", () =>
    witness.frames.some((frame) => frame.type === "receipt" && frame.stored.get(77) === 1),
  );
  expect(events.filter(({ type }) => type === "fault" || type === "not-stored")).toEqual([]);
});

test("RL5 a long history comes in pages, the last of them as the answer", async () => {
  const { origin } = await relay({ messageBytes: 64 * 1024 });
  const room = await newRoom();
  const doc = new Y.Doc();
  doc.clientID = 5;
  const writer = await enter(origin, room);
  for (let number = 0; number < 300; number += 1) {
    const before = Y.encodeStateVector(doc);
    doc.getArray("entries").push([envelope(number, 500)]);
    writer.send(updateFrame(Y.encodeStateAsUpdate(doc, before)));
  }
  await until("stored", () => writer.frames.some((frame) => frame.type === "receipt" && frame.stored.get(5) === 300));
  const reader = await enter(origin, room);
  reader.send(askFrame(stateVectorBytes(new Map([[5, 10]]))));
  await until("answered", () => reader.frames.some(({ type }) => type === "history"));
  const pages = reader.frames.filter(({ type }) => type === "history" || type === "update").map(({ type }) => type);
  expect(pages).toEqual([...Array(pages.length - 1).fill("update"), "history"]);
  expect(pages.length).toBeGreaterThan(3);
  expect((await contentOf(origin, room)).getArray("entries").toJSON()).toEqual(doc.getArray("entries").toJSON());
});

test("RL10 a roster's value is replaced and erased, and what was erased is not stored any more", async () => {
  const storage = createMemoryStorage("roster");
  const { origin } = await relay({}, storage);
  const room = await newRoom();
  const writer = await enter(origin, room, "roster");
  const doc = new Y.Doc();
  doc.on("update", (made: Uint8Array) => writer.send(updateFrame(made)));
  const names = doc.getMap<Uint8Array>("roster");
  names.set("one", envelope(1));
  names.set("two", envelope(2));
  names.set("one", envelope(3));
  names.delete("two");
  const stored = async () => (await contentOf(origin, room, "roster")).getMap("roster").toJSON();
  await expect.poll(stored, { timeout: 5000 }).toEqual({ one: envelope(3) });
  const kept = await storage.load({ kind: "roster", room: room.name });
  expect(kept).toHaveLength(1);
  expect(Buffer.from(kept[0]!).includes(Buffer.from(envelope(2)))).toBe(false);
  // The same once more is not written once more.
  writer.send(historyFrame(Y.encodeStateAsUpdate(doc)));
  await contentOf(origin, room, "roster");
  expect(await storage.load({ kind: "roster", room: room.name })).toEqual(kept);
});

test("RL5 awareness comes back to its sender too, for clients that count on it", async () => {
  const { origin } = await relay();
  const caller = await enter(origin, await newRoom());
  caller.send(awarenessFrame(Uint8Array.of(0)));
  await until("echo", () => caller.frames.some(({ type }) => type === "awareness"));
});
