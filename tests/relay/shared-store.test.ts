/** Several relays on one NATS JetStream: what one stores the others tell, whatever is lost in between. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { jetstream, jetstreamManager } from "@nats-io/jetstream";
import type { RoomName } from "@sward/core";
import { awarenessFrame, updateFrame } from "@sward/core";
import { connectNats } from "@sward/relay";
import { afterAll, afterEach, expect, test } from "vitest";
import type * as Y from "yjs";
import { encodeRecord } from "../../packages/relay/src/log-record.ts";
import { envelope, numberOf } from "../support/envelopes.ts";
import { temporaryFolders } from "../support/folders.ts";
import { binaryItem, block, update } from "../support/hand-made-updates.ts";
import type { TestRelay } from "../support/meeting.ts";
import { newRoom, random, relayWith, until, wired } from "../support/meeting.ts";
import type { NatsNode } from "../support/nats-server.ts";
import { openShared, startNats } from "../support/nats-server.ts";
import { enter } from "../support/plain-caller.ts";

const folder = temporaryFolders();
const open: { close(): Promise<unknown> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close();
});
const nodes: NatsNode[] = [];
afterAll(async () => {
  for (const node of nodes) await node.kill();
});
const nats = async (at = folder()): Promise<NatsNode> => {
  const node = await startNats(at);
  nodes.push(node);
  return node;
};
const shared = nats();
const freshName = (): string => `n${Buffer.from(random(8)).toString("hex")}`;
const relayOn = async (node: NatsNode, name: string): Promise<TestRelay> => {
  const relay = await relayWith({}, await openShared([node.url], name));
  open.push(relay);
  return relay;
};
const key = (kind: "ledger" | "roster", letter: string) => ({ kind, room: letter.repeat(43) as RoomName });
const numbersIn = (entries: Y.Array<Uint8Array>): number[] =>
  entries
    .toArray()
    .map(numberOf)
    .sort((a, b) => a - b);
const below = (count: number): number[] => Array.from({ length: count }, (_, number) => number);

test("RL6 three relays, one room: what is written at any of them is at all, receipted, and heard alike", async () => {
  const [node, name, room] = [await shared, freshName(), await newRoom()];
  const relays = [await relayOn(node, name), await relayOn(node, name), await relayOn(node, name)];
  const devices = relays.map(({ origin }) => wired(origin, room));
  for (const { wire } of devices) open.push(wire);
  await until("all live", () => devices.every(({ wire }) => wire.state().type === "live"));
  expect(new Set(devices.map(({ wire }) => wire.storeId())).size).toBe(1);
  for (const number of below(60)) devices[number % 3]?.entries.push([envelope(number)]);
  await until("everything everywhere", () => devices.every(({ entries }) => entries.length === 60));
  for (const { entries } of devices) expect(numbersIn(entries)).toEqual(below(60));
  await until("receipted everywhere", () =>
    devices.every(({ wire }) => devices.every(({ doc }) => wire.stored().get(doc.clientID) === 20)),
  );
  // A relay that starts now knows nothing but what the log says.
  const late = wired((await relayOn(node, name)).origin, room);
  open.push(late.wire);
  await until("the late one has all", () => late.entries.length === 60);
  expect(late.entries.toArray().map(numberOf)).toEqual(devices[0]?.entries.toArray().map(numberOf));
});

test("RL5 a roster changed at two relays at the same time keeps both changes, at both and in the store", async () => {
  const [node, name, room] = [await shared, freshName(), await newRoom()];
  const relays = [await relayOn(node, name), await relayOn(node, name)];
  const devices = relays.map(({ origin }) => wired(origin, room, "roster"));
  for (const { wire } of devices) open.push(wire);
  await until("live", () => devices.every(({ wire }) => wire.state().type === "live"));
  const rosters = devices.map(({ doc }) => doc.getMap<Uint8Array>("roster"));
  for (const turn of below(20)) {
    for (const [place, roster] of rosters.entries()) roster.set(`p${place}-${turn}`, envelope(place * 100 + turn));
    if (turn % 5 === 4) await pause(20);
  }
  await until("both have both", () => rosters.every(({ size }) => size === 40));
  const late = wired((await relayOn(node, name)).origin, room, "roster");
  open.push(late.wire);
  await until("and so has the store", () => late.doc.getMap("roster").size === 40);
});

test("RL5 what is said at one relay is heard at the other", async () => {
  const [node, name, room] = [await shared, freshName(), await newRoom()];
  const [north, south] = [await relayOn(node, name), await relayOn(node, name)];
  const [one, two] = [await enter(north.origin, room), await enter(south.origin, room)];
  one.send(awarenessFrame(Uint8Array.of(1, 2, 3)));
  await until("heard by both", () => [one, two].every(({ frames }) => frames.some(({ type }) => type === "awareness")));
  for (const { frames } of [one, two]) expect(frames.filter(({ type }) => type === "awareness")).toHaveLength(1);
});

test("RL6 two who claim one place: the first in the log has it, at every relay, and after a restart too", async () => {
  const [node, name, room] = [await shared, freshName(), await newRoom()];
  const relays = [await relayOn(node, name), await relayOn(node, name)];
  for (const turn of below(10)) {
    const item = (number: number) => update([block(500 + turn, 0, [binaryItem(envelope(number))])]);
    const callers = await Promise.all(relays.map(({ origin }) => enter(origin, room)));
    for (const [place, caller] of callers.entries()) caller.send(updateFrame(item(1000 + turn * 2 + place)));
    const isReceipted = ({ frames }: (typeof callers)[number]): boolean =>
      frames.some((frame) => frame.type === "receipt" && frame.stored.get(500 + turn) === 1);
    await until("receipted", () => callers.every(isReceipted));
    for (const caller of callers) await caller.close();
  }
  const readers = [...relays, await relayOn(node, name)].map(({ origin }) => wired(origin, room));
  for (const { wire } of readers) open.push(wire);
  await until("read", () => readers.every(({ entries }) => entries.length === 10));
  const [first, ...others] = readers.map(({ entries }) => numbersIn(entries));
  for (const other of others) expect(other).toEqual(first);
});

test("RL6 the same write again, long after the server has forgotten its id, changes no document", async () => {
  const [node, name, room] = [await shared, freshName(), await newRoom()];
  const storage = await openShared([node.url], name);
  const connection = await connectNats({ servers: [node.url] });
  open.push(storage, connection);
  const manager = await jetstreamManager(connection);
  await manager.streams.update(`${name}-ledger`, { duplicate_window: 100_000_000 });
  const at = { kind: "ledger", room: room.name } as const;
  const [once, next] = [0, 1].map((clock) =>
    update([block(9, clock, [binaryItem(envelope(clock), clock > 0 ? { origin: [9, clock - 1] } : {})])]),
  ) as [Uint8Array, Uint8Array];
  for (const turn of below(3)) {
    await storage.append(at, [once]);
    if (turn === 0) await storage.append(at, [next]);
    await pause(400);
  }
  // Without this the test would show nothing: it is in the log more than once.
  expect((await storage.load(at)).length).toBeGreaterThan(2);
  const reader = wired((await relayOn(node, name)).origin, room);
  open.push(reader.wire);
  await until("read", () => reader.wire.state().type === "live" && reader.entries.length > 0);
  expect(reader.entries.toArray().map(numberOf)).toEqual([0, 1]);
});

test("RL10 JetStream: what was replaced is gone from the disk", async () => {
  const at = folder();
  const node = await nats(at);
  const storage = await openShared([node.url], "erasing");
  open.push(storage);
  const secret = Buffer.from("nobody-should-find-this-any-more");
  const files = (): string[] =>
    readdirSync(at, { recursive: true, withFileTypes: true })
      .filter((file) => file.isFile())
      .map((file) => join(file.parentPath, file.name));
  const onDisk = (): boolean => files().some((file) => readFileSync(file).includes(secret));
  let stands = 0;
  await storage.follow(key("roster", "r"), {
    history: (_updates, now) => {
      stands = now;
    },
    stored: (_updates, now) => {
      stands = now;
    },
    said: () => undefined,
  });
  await storage.replace(key("roster", "r"), [new Uint8Array(Buffer.concat([secret, random(2000)]))], 0);
  await expect.poll(onDisk, { timeout: 10_000 }).toBe(true);
  expect(await storage.replace(key("roster", "r"), [Uint8Array.of(1)], stands)).toBe(true);
  expect(await storage.load(key("roster", "r"))).toEqual([Uint8Array.of(1)]);
  await expect.poll(onDisk, { timeout: 10_000 }).toBe(false);
});

test("RL6 half a write that its relay did not live to finish counts for nothing, and what follows it stands", async () => {
  const [node, name] = [await shared, freshName()];
  const storage = await openShared([node.url], name);
  const connection = await connectNats({ servers: [node.url] });
  open.push(storage, connection);
  const halves = encodeRecord({ form: "adds", over: 0, updates: [random(100_000)] }, 60_000);
  expect(halves).toHaveLength(2);
  await storage.append(key("ledger", "h"), [Uint8Array.of(1)]);
  await jetstream(connection).publish(`${name}.ledger.${"h".repeat(43)}`, halves[0] ?? new Uint8Array());
  await storage.append(key("ledger", "h"), [Uint8Array.of(2)]);
  expect(await storage.load(key("ledger", "h"))).toEqual([Uint8Array.of(1), Uint8Array.of(2)]);
  // In a roster too, where the next write must stand over the half one.
  await storage.replace(key("roster", "h"), [Uint8Array.of(3)], 0);
  await jetstream(connection).publish(`${name}.roster.${"h".repeat(43)}`, halves[0] ?? new Uint8Array());
  const again = await openShared([node.url], name);
  open.push(again);
  let stands = 0;
  const stood = (_updates: readonly Uint8Array[], now: number): void => {
    stands = now;
  };
  await again.follow(key("roster", "h"), { history: stood, stored: stood, said: () => undefined });
  expect(await again.replace(key("roster", "h"), [Uint8Array.of(4)], stands)).toBe(true);
  expect(await again.load(key("roster", "h"))).toEqual([Uint8Array.of(4)]);
});

test("RL11 the server stopped: nothing is receipted; started again: nothing that was receipted is lost, and all goes on", async () => {
  const node = await nats();
  const room = await newRoom();
  const relay = await relayOn(node, "stopping");
  const device = wired(relay.origin, room);
  open.push(device.wire);
  await until("live", () => device.wire.state().type === "live");
  for (const number of below(50)) device.entries.push([envelope(number)]);
  await until("receipted", () => device.wire.stored().get(device.doc.clientID) === 50);
  await node.kill();
  for (const number of below(20)) device.entries.push([envelope(50 + number)]);
  await pause(1500);
  expect(device.wire.stored().get(device.doc.clientID)).toBe(50);
  await node.start();
  await until("receipted again", () => device.wire.stored().get(device.doc.clientID) === 70, 25_000);
  const late = wired((await relayOn(node, "stopping")).origin, room);
  open.push(late.wire);
  await until("all there", () => late.entries.length === 70);
  expect(numbersIn(late.entries)).toEqual(below(70));
}, 60_000);

test("RL9 the store exchanged under a running relay is noticed: it knows nothing that still holds", async () => {
  const [before, after] = [folder(), folder()];
  const node = await nats(before);
  const port = new URL(node.url).port;
  const causes: string[] = [];
  const storage = await openShared([node.url], "exchanged", { gone: (cause) => causes.push(cause) });
  open.push(storage);
  await node.kill();
  await node.start();
  await pause(2500);
  expect(causes).toEqual([]);
  await node.kill();
  const other = await startNats(after, "", Number(port));
  nodes.push(other);
  await until("noticed", () => causes.length > 0, 20_000);
  expect((await openShared([other.url], "exchanged")).id).not.toBe(storage.id);
}, 60_000);

test("a stream that is set to forget is not used, and the relay says so", async () => {
  const [node, name] = [await shared, freshName()];
  const connection = await connectNats({ servers: [node.url] });
  open.push(connection);
  const manager = await jetstreamManager(connection);
  await manager.streams.add({ name: `${name}-ledger`, subjects: [`${name}.ledger.*`], max_age: 1_000_000_000 });
  await expect(openShared([node.url], name)).rejects.toThrow(`the stream ${name}-ledger is there, but set to forget`);
});
