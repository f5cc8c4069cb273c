/** How a relay bears those who send too fast, read too slowly, or come all at once. Real sockets; nobody honest is let go. */
import { askFrame, awarenessFrame, closeCodes, historyFrame, updateFrame } from "@sward/core";
import { createMemoryStorage } from "@sward/relay";
import { expect, test } from "vitest";
import * as Y from "yjs";
import { answerAsk } from "../../packages/relay/src/answer.ts";
import { createBudget } from "../../packages/relay/src/limits/budget.ts";
import { openRoom } from "../../packages/relay/src/room.ts";
import { envelope } from "../support/envelopes.ts";
import { newRoom, relayWith, until, wired } from "../support/meeting.ts";
import { enter } from "../support/plain-caller.ts";

/** A document of so many envelopes, and the update that says each. */
function written(many: number, bytes = 359) {
  const doc = new Y.Doc();
  const updates: Uint8Array[] = [];
  doc.on("update", (update: Uint8Array) => updates.push(update));
  for (let n = 0; n < many; n += 1) doc.getArray<Uint8Array>("entries").push([envelope(n, bytes)]);
  return { doc, updates };
}

const inRoom = (doc: Y.Doc): number => doc.getArray("entries").length;

test("RL14 a caller that floods is read as slowly as it may send, is never closed, and loses nothing", async () => {
  const relay = await relayWith({ messagesPerSecond: 250 });
  const room = await newRoom();
  const caller = await enter(relay.origin, room);
  // What the platform had read before the socket was paused is dealt with and owed: some hundred and fifty of these, each time.
  const { updates, doc } = written(3_500);
  const from = performance.now();
  for (const update of updates) caller.send(updateFrame(update));
  await until("slowed", () =>
    relay.events.some((event) => event.type === "limited" && event.limit === "connection-rate"),
  );
  const other = wired(relay.origin, room);
  await until("all there", () => other.entries.length === inRoom(doc), 40_000);
  // Ten seconds' worth at once, and four seconds for the rest; what was read last may still be owed.
  expect(performance.now() - from).toBeGreaterThan(2_000);
  expect(caller.closed()).toBeNull();
  other.wire.close();
  await caller.close();
  await relay.close();
}, 60_000);

test("RL14 a room takes so much a second, whoever sends it", async () => {
  const relay = await relayWith({ roomBytesPerSecond: 64 * 1024 });
  const room = await newRoom();
  const [one, two] = [await enter(relay.origin, room), await enter(relay.origin, room)];
  const { updates } = written(12, 60_000);
  // The same bytes twice are one content, and cost the room twice.
  for (const update of updates) {
    one.send(updateFrame(update));
    two.send(updateFrame(update));
  }
  await until("slowed", () => relay.events.some((event) => event.type === "limited" && event.limit === "room-rate"));
  expect([one.closed(), two.closed()]).toEqual([null, null]);
  one.socket.terminate();
  two.socket.terminate();
  await relay.close();
});

test("RL15 somebody slow hears no awareness first, and is then let go with a code to try later", async () => {
  const relay = await relayWith({ unsentBytes: 1024 * 1024, bytesPerSecond: 64 * 1024 * 1024 });
  const room = await newRoom();
  const [slow, fine, writer] = [
    await enter(relay.origin, room),
    await enter(relay.origin, room),
    await enter(relay.origin, room),
  ];
  slow.socket.pause();
  const { updates } = written(400, 60_000);
  const sayings = (of: typeof fine): number => of.frames.filter(({ type }) => type === "awareness").length;
  for (const [n, update] of updates.entries()) {
    writer.send(updateFrame(update));
    writer.send(awarenessFrame(new Uint8Array([n & 255])));
    await until("passed on to who reads", () => sayings(fine) === n + 1);
    if (relay.events.some((event) => event.type === "limited" && event.limit === "unsent-bytes")) break;
  }
  slow.socket.resume();
  await until("let go", () => slow.closed() !== null);
  expect(slow.closed()).toEqual({ code: closeCodes.tryLater, reason: "too-slow" });
  // It heard of less than the other, and of what it missed most was awareness.
  expect(sayings(slow)).toBeLessThan(sayings(fine));
  expect(fine.closed()).toBeNull();
  await Promise.all([fine.close(), writer.close()]);
  await relay.close();
});

async function roomOf(updates: readonly Uint8Array[]) {
  const storage = createMemoryStorage("memory");
  const key = { kind: "ledger", room: (await newRoom()).name } as const;
  if (updates.length > 0) await storage.append(key, updates);
  const limits = {
    screen: { updateBytes: 1024 * 1024, envelopeBytes: 256 * 1024, clients: 10 },
    roomBytes: { ledger: 1e9, roster: 1e9 },
    pageBytes: 64 * 1024,
  };
  return openRoom(key, storage, limits, () => undefined);
}

test("RL5 what is written while history is on its way follows it: the last page leaves nothing out and leans on nothing missing", async () => {
  const { doc, updates } = written(2_000);
  const room = await roomOf(updates);
  const writer = { send: () => undefined, close: () => undefined };
  const got = new Y.Doc();
  let ended = 0;
  let unsent = 0;
  let pages = 0;
  const take = (frame: Uint8Array, page: Uint8Array): void => {
    pages += 1;
    unsent += frame.length;
    Y.applyUpdate(got, page);
    expect(got.store.pendingStructs).toBeNull();
  };
  const later: Uint8Array[] = [];
  doc.on("update", (update: Uint8Array) => later.push(update));
  const answered = answerAsk(room, Y.encodeStateVector(new Y.Doc()), {
    budget: createBudget(1e9),
    unsent: () => unsent * 100,
    over: () => false,
    wait: async () => {
      // Between two pages somebody writes, and the caller takes what waits.
      if (later.length < 8) {
        doc.getArray<Uint8Array>("entries").push([envelope(9_000 + later.length, 359)]);
        await room.write(writer, later.at(-1)!, "whole");
      }
      unsent = 0;
    },
    post: (frame) => take(frame, pageIn(frame)),
    last: (frame) => {
      ended += 1;
      take(frame, pageIn(frame));
      expect(inRoom(got)).toBe(inRoom(doc));
    },
  });
  expect(await answered).toBe(true);
  expect([ended, later.length]).toEqual([1, 8]);
  expect(pages).toBeGreaterThan(10);
});

test("RL15 a caller that takes no page for twenty seconds is let go; one that takes a little is not", async () => {
  const room = await roomOf(written(8_000).updates);
  const run = async (drained: number) => {
    let waited = 0;
    let unsent = 0;
    const taken = await answerAsk(room, Y.encodeStateVector(new Y.Doc()), {
      budget: createBudget(1e9),
      unsent: () => unsent,
      over: () => false,
      wait: (milliseconds) => {
        waited += milliseconds;
        unsent = Math.max(0, unsent - drained);
        return Promise.resolve();
      },
      post: (frame) => {
        unsent += frame.length;
      },
      last: () => undefined,
    });
    return { taken, waited };
  };
  const stuck = await run(0);
  expect(stuck.taken).toBe(false);
  expect(stuck.waited).toBeGreaterThanOrEqual(20_000);
  expect(stuck.waited).toBeLessThan(21_000);
  const slow = await run(300);
  expect(slow.taken).toBe(true);
  expect(slow.waited).toBeGreaterThan(30_000);
});

test("RL5 a second question while the first is answered has the same answer, and after it all goes on", async () => {
  const relay = await relayWith();
  const room = await newRoom();
  const { doc } = written(6_000);
  const first = wired(relay.origin, room, "ledger", doc);
  await until("stored", () => first.wire.stored().size > 0);
  const caller = await enter(relay.origin, room);
  const nothing = askFrame(Y.encodeStateVector(new Y.Doc()));
  for (let n = 0; n < 5; n += 1) caller.send(nothing);
  const got = new Y.Doc();
  await until("answered", () => caller.frames.some(({ type }) => type === "history"));
  for (const frame of caller.frames)
    if (frame.type === "history" || frame.type === "update") Y.applyUpdate(got, frame.update);
  expect(inRoom(got)).toBe(6_000);
  caller.send(nothing);
  await until("answered again", () => caller.frames.filter(({ type }) => type === "history").length > 1);
  await caller.close();
  first.wire.close();
  await relay.close();
});

/** The page in a frame: 0, 1 or 2, then its length in one to three bytes. */
function pageIn(frame: Uint8Array): Uint8Array {
  let at = 2;
  while ((frame[at] ?? 0) > 127) at += 1;
  const page = frame.subarray(at + 1);
  const again = frame[1] === 1 ? historyFrame(page) : updateFrame(page);
  expect(Buffer.from(again).equals(frame)).toBe(true);
  return page;
}
