/** Rooms coming into memory and going out of it, and storage that is slow, broken or damaged. */
import { closeCodes, roomPath, updateFrame } from "@sward/core";
import type { Storage } from "@sward/relay";
import { createMemoryStorage } from "@sward/relay";
import { afterEach, expect, test } from "vitest";
import * as Y from "yjs";
import { envelope } from "../support/envelopes.ts";
import { binaryItem, block, update } from "../support/hand-made-updates.ts";
import type { TestRelay } from "../support/meeting.ts";
import { newRoom, relayWith, tokenFor, until, wired } from "../support/meeting.ts";
import { dial, enter } from "../support/plain-caller.ts";

const open: { close(): Promise<void> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close();
});
const relay = async (...given: Parameters<typeof relayWith>): Promise<TestRelay> => {
  const made = await relayWith(...given);
  open.push(made);
  return made;
};
const roomsAt = async (origin: string): Promise<number> =>
  ((await (await fetch(`${origin}/health`)).json()) as { rooms: number }).rooms;
const oneItem = (number: number, client: number) => update([block(client, 0, [binaryItem(envelope(number))])]);

function gateway(): { promise: Promise<void>; open: () => void } {
  let open = (): void => undefined;
  const promise = new Promise<void>((done) => {
    open = done;
  });
  return { promise, open };
}

/** Counts what is asked of a store, and can hold it up or make it fail. */
function watched(storage: Storage) {
  const asked = { loads: 0, appends: 0 };
  let gate: Promise<void> = Promise.resolve();
  let reading: Promise<void> = Promise.resolve();
  let failing = false;
  return {
    asked,
    /** Until the answer is called, nothing is written. */
    holdWriting: () => {
      const { promise, open } = gateway();
      gate = promise;
      return open;
    },
    holdReading: () => {
      const { promise, open } = gateway();
      reading = promise;
      return open;
    },
    fail: (now: boolean) => {
      failing = now;
    },
    storage: {
      ...storage,
      follow: async (key, listener) => {
        asked.loads += 1;
        await reading;
        return storage.follow(key, listener);
      },
      append: async (key, updates) => {
        asked.appends += 1;
        await gate;
        if (failing) throw new Error("no space left");
        await storage.append(key, updates);
      },
    } satisfies Storage,
  };
}

test("hundreds of rooms visited once, and memory holds none of them", async () => {
  const { origin } = await relay({ idleMilliseconds: 20 });
  const room = await newRoom();
  for (let visit = 0; visit < 12; visit += 1) {
    await Promise.all(
      Array.from({ length: 25 }, async () => {
        const visitor = await enter(origin, await newRoom());
        await visitor.close();
      }),
    );
  }
  await expect.poll(() => roomsAt(origin), { timeout: 5000, interval: 1100 }).toBe(0);
  const stays = await enter(origin, room);
  await new Promise((done) => setTimeout(done, 60));
  await expect.poll(() => roomsAt(origin), { timeout: 5000, interval: 1100 }).toBe(1);
  await stays.close();
});

test("callers who come together while a room is read share one reading", async () => {
  const store = watched(createMemoryStorage("shared"));
  const { origin } = await relay({}, store.storage);
  const room = await newRoom();
  const release = store.holdReading();
  const callers = [1, 2, 3, 4].map(() => enter(origin, room));
  await until("being read", () => store.asked.loads > 0);
  await new Promise((done) => setTimeout(done, 50));
  release();
  for (const caller of await Promise.all(callers)) expect(caller.closed()).toBe(null);
  expect(store.asked.loads).toBe(1);
});

test("RL6 a room whose last caller left in the middle of a write is not put away before it is written", async () => {
  const store = watched(createMemoryStorage("late"));
  const { origin } = await relay({ idleMilliseconds: 0 }, store.storage);
  const room = await newRoom();
  const writer = await enter(origin, room);
  const release = store.holdWriting();
  writer.send(updateFrame(oneItem(1, 9)));
  await until("being written", () => store.asked.appends === 1);
  await writer.close();
  await new Promise((done) => setTimeout(done, 50));
  // Comes while the room is on its way out, and the store still lacks what is being written.
  const reader = await enter(origin, room);
  release();
  await until("passed on", () => reader.frames.some(({ type }) => type === "update"));
  await until("receipted", () => reader.frames.at(-1)?.type === "receipt");
  expect(reader.frames.at(-1)).toEqual({ type: "receipt", stored: new Map([[9, 1]]) });
});

test("RL6 many updates at once are written in few writes, each receipted", async () => {
  const store = watched(createMemoryStorage("batches"));
  const { origin } = await relay({}, store.storage);
  const room = await newRoom();
  const writers = await Promise.all([1, 2, 3, 4, 5].map(() => enter(origin, room)));
  const release = store.holdWriting();
  for (const [index, writer] of writers.entries()) {
    for (let turn = 0; turn < 10; turn += 1) writer.send(updateFrame(oneItem(turn, 100 + index * 10 + turn)));
  }
  await new Promise((done) => setTimeout(done, 100));
  release();
  await until("all receipted", () => {
    const stored = new Set<number>();
    for (const frame of writers[0]!.frames)
      if (frame.type === "receipt") for (const [client] of frame.stored) stored.add(client);
    return stored.size === 50;
  });
  expect(store.asked.appends).toBeLessThan(6);
});

test("RL11 what could not be stored is neither passed on nor receipted, and comes again with the next try", async () => {
  const store = watched(createMemoryStorage("full"));
  const { origin, events } = await relay({}, store.storage);
  const room = await newRoom();
  const [north, south] = [wired(origin, room), wired(origin, room)];
  open.push(north.wire, south.wire);
  await until("live", () => north.wire.state().type === "live" && south.wire.state().type === "live");
  store.fail(true);
  north.entries.push([envelope(1)]);
  await until("told", () => events.some(({ type }) => type === "not-stored"));
  await until("closed", () => north.wire.state().type !== "live");
  expect([south.entries.length, north.wire.stored().size, south.wire.stored().size]).toEqual([0, 0, 0]);
  store.fail(false);
  await until("all is well", () => south.entries.length === 1 && north.wire.stored().get(north.doc.clientID) === 1);
});

test("RL11 a damaged room is closed to all, and the others do not notice", async () => {
  const storage = createMemoryStorage("damaged");
  const bad = await newRoom();
  await storage.append({ kind: "ledger", room: bad.name }, [oneItem(1, 9), Uint8Array.of(1, 2, 3)]);
  const { origin, events } = await relay({}, storage);
  const good = await enter(origin, await newRoom());
  for (let turn = 0; turn < 2; turn += 1) {
    const token = await tokenFor(origin, bad, "ledger");
    const caller = await dial(origin, `${roomPath("ledger", bad.name)}?token=${token}`);
    await until("closed", () => caller.closed() !== null);
    expect(caller.closed()).toEqual({ code: closeCodes.relayFault, reason: "room-unreadable" });
  }
  expect(events.filter(({ type }) => type === "room-unreadable")).toHaveLength(2);
  good.send(updateFrame(oneItem(2, 8)));
  await until("receipted", () => good.frames.some((frame) => frame.type === "receipt" && frame.stored.get(8) === 1));
});

test("RL9 a sign of life comes before y-websocket gives up, and a caller that gives none is let go", async () => {
  const { origin } = await relay({ pulseMilliseconds: 50 });
  const room = await newRoom();
  const [alive, dead] = [await enter(origin, room), await enter(origin, room)];
  // Stops reading, so pings are not answered: what a vanished network looks like.
  dead.socket.pause();
  await until("signs of life", () => alive.frames.filter(({ type }) => type === "hello").length > 5);
  expect(alive.closed()).toBe(null);
  await expect
    .poll(async () => ((await (await fetch(`${origin}/health`)).json()) as { connections: number }).connections, {
      timeout: 5000,
      interval: 300,
    })
    .toBe(1);
  dead.socket.terminate();
});

test("a caller that sends faster than can be written is held up, not remembered", async () => {
  const store = watched(createMemoryStorage("slow"));
  const { origin } = await relay({}, store.storage);
  const caller = await enter(origin, await newRoom());
  const release = store.holdWriting();
  const items = [envelope(1, 250_000), envelope(2, 250_000)];
  const long = (client: number): Uint8Array => {
    const doc = new Y.Doc();
    doc.clientID = client;
    doc.getArray("entries").push(items);
    return Y.encodeStateAsUpdate(doc);
  };
  for (let client = 1; client <= 64; client += 1) caller.send(updateFrame(long(client)));
  await new Promise((done) => setTimeout(done, 500));
  expect(caller.socket.bufferedAmount).toBeGreaterThan(10_000_000);
  release();
  const stored = new Set<number>();
  await until("all stored", () => {
    for (const frame of caller.frames)
      if (frame.type === "receipt") for (const [client] of frame.stored) stored.add(client);
    return stored.size === 64;
  });
});
