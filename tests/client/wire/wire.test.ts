/** Wires against a real relay, over real sockets: in step, out of step, and back again. */
import { createMemoryStorage } from "@sward/relay";
import { afterEach, expect, test } from "vitest";
import * as Y from "yjs";
import type { Connection } from "../../../packages/client/src/wire/connection.ts";
import { envelope } from "../../support/envelopes.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { newRoom, relayWith, until, wired } from "../../support/meeting.ts";

const open: { close(): Promise<void> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close();
});
const relay = async (...given: Parameters<typeof relayWith>): Promise<TestRelay> => {
  const made = await relayWith(...given);
  open.push(made);
  return made;
};
const join = (...given: Parameters<typeof wired>) => {
  const made = wired(...given);
  open.push(made.wire);
  return made;
};

test("RL6 two devices exchange, and both hear what is stored", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  const north = join(origin, room);
  const south = join(origin, room);
  north.entries.push([envelope(1), envelope(2)]);
  south.entries.push([envelope(3)]);
  await until("both have three", () => north.entries.length === 3 && south.entries.length === 3);
  await until("both heard", () =>
    [north, south].every(
      ({ wire }) => wire.stored().get(north.doc.clientID) === 2 && wire.stored().get(south.doc.clientID) === 1,
    ),
  );
  expect(north.wire.state()).toEqual({ type: "live", synced: true });
  expect([north, south].map(({ wire }) => wire.refusals())).toEqual([[], []]);
});

test("what one says in a room the others hear, and so does he", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  const [north, south, elsewhere] = [join(origin, room), join(origin, room), join(origin, await newRoom())];
  const heard: string[] = [];
  for (const [name, { wire }] of Object.entries({ north, south, elsewhere })) {
    wire.onSaid((bytes) => heard.push(`${name} ${[...bytes]}`));
    await until("synced", () => wire.state().type === "live");
  }
  north.wire.say(Uint8Array.of(1, 2, 255));
  await until("both heard", () => heard.length === 2);
  expect(heard.sort()).toEqual(["north 1,2,255", "south 1,2,255"]);
});

test("states follow one another, and each is told to whoever listens", async () => {
  const { origin } = await relay();
  const { wire } = join(origin, await newRoom());
  const states: Connection[] = [wire.state()];
  const stop = wire.subscribe(() => states.push(wire.state()));
  await until("synced", () => states.at(-1)?.type === "live" && wire.state().type === "live" && states.length >= 3);
  await until("synced", () => JSON.stringify(wire.state()) === JSON.stringify({ type: "live", synced: true }));
  expect(states).toEqual([
    { type: "connecting", attempt: 1, next: null, fault: null },
    ...states.slice(1, -2),
    { type: "live", synced: false },
    { type: "live", synced: true },
  ]);
  wire.pause();
  expect(wire.state()).toEqual({ type: "offline" });
  stop();
  const heard = states.length;
  await wire.close();
  expect(wire.state()).toEqual({ type: "closed" });
  expect(states.length).toBe(heard);
  wire.resume();
  expect(wire.state()).toEqual({ type: "closed" });
});

test("both go offline, both write, both come back: all is everywhere", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  const [north, south] = [join(origin, room), join(origin, room)];
  north.entries.push([envelope(1)]);
  // The receipt is for itself: it may come after somebody else has heard.
  const stored = (): number | undefined => north.wire.stored().get(north.doc.clientID);
  await until("in step", () => south.entries.length === 1 && stored() === 1);
  north.wire.pause();
  south.wire.pause();
  north.entries.push([envelope(2)]);
  south.entries.push([envelope(3)]);
  await new Promise((done) => setTimeout(done, 100));
  expect([north.entries.length, south.entries.length]).toEqual([2, 2]);
  expect(stored()).toBe(1);
  north.wire.resume();
  south.wire.resume();
  await until("all is everywhere", () => north.entries.length === 3 && south.entries.length === 3);
  await until("stored", () => stored() === 2);
  expect(north.entries.toJSON()).toEqual(south.entries.toJSON());
});

test("the relay is away at first and again later; the wire finds it each time", async () => {
  const storage = createMemoryStorage("same");
  const first = await relayWith({}, storage);
  const { port, origin } = first;
  await first.close();
  const room = await newRoom();
  const north = join(origin, room);
  north.entries.push([envelope(1)]);
  await until("tried twice", () => {
    const state = north.wire.state();
    return state.type === "connecting" && state.attempt >= 2 && state.fault?.type === "unreachable";
  });
  const second = await relayWith({ port }, storage);
  await until("stored", () => north.wire.stored().get(north.doc.clientID) === 1);
  await second.close();
  await until("noticed", () => north.wire.state().type === "connecting");
  north.entries.push([envelope(2)]);
  await relay({ port }, storage);
  await until("stored again", () => north.wire.stored().get(north.doc.clientID) === 2);
});

test("RL9 a relay that was wiped is noticed and filled again", async () => {
  const first = await relayWith({}, createMemoryStorage("before"));
  const room = await newRoom();
  const north = join(first.origin, room);
  north.entries.push(Array.from({ length: 50 }, (_, number) => envelope(number)));
  await until("stored", () => north.wire.stored().get(north.doc.clientID) === 50);
  expect(north.wire.storeId()).toBe("before");
  const emptied: number[] = [];
  north.wire.onStored((stored) => emptied.push(stored.size));
  await first.close();
  const again = await relay({ port: first.port }, createMemoryStorage("after"));
  await until("noticed", () => north.wire.storeId() === "after");
  expect(emptied[0]).toBe(0);
  await until("stored again", () => north.wire.stored().get(north.doc.clientID) === 50);
  const south = join(again.origin, room);
  await until("passed on", () => south.entries.length === 50);
});

test("RL5 a history longer than a message goes and comes in pages, and so does one change that is too long", async () => {
  const { origin } = await relay({ messageBytes: 128 * 1024 });
  const room = await newRoom();
  const north = join(origin, room);
  await until("live", () => north.wire.state().type === "live");
  north.entries.push(Array.from({ length: 2000 }, (_, number) => envelope(number, 400)));
  await until("stored", () => north.wire.stored().get(north.doc.clientID) === 2000);
  const late = new Y.Doc();
  late.getArray("entries").push(Array.from({ length: 1000 }, (_, number) => envelope(5000 + number, 400)));
  const south = join(origin, room, "ledger", late);
  await until("all", () => south.entries.length === 3000 && north.entries.length === 3000, 20_000);
  expect([north, south].map(({ wire }) => wire.refusals())).toEqual([[], []]);
});

test("a roster's values are replaced and erased at both ends", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  const [north, south] = [join(origin, room, "roster"), join(origin, room, "roster")];
  const [here, there] = [north, south].map(({ doc }) => doc.getMap<Uint8Array>("roster")) as [
    Y.Map<Uint8Array>,
    Y.Map<Uint8Array>,
  ];
  here.set("one", envelope(1));
  here.set("two", envelope(2));
  await until("both", () => there.size === 2);
  there.set("one", envelope(3));
  there.delete("two");
  await until("replaced and erased", () => here.size === 1);
  expect(here.toJSON()).toEqual({ one: envelope(3) });
  const late = join(origin, room, "roster");
  await until("late", () => late.doc.getMap("roster").size === 1);
  expect(late.doc.getMap("roster").toJSON()).toEqual({ one: envelope(3) });
});

test("what the wire brings has the wire as its origin, and does not go back", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  const [north, south] = [join(origin, room), join(origin, room)];
  const origins: unknown[] = [];
  south.doc.on("update", (_update: Uint8Array, from: unknown) => origins.push(from));
  north.entries.push([envelope(1)]);
  await until("there", () => south.entries.length === 1);
  expect(origins).toEqual([south.wire]);
});

test("Yjs gives a document a new client id while it is on the wire, and the wire can still be closed", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  const north = join(origin, room);
  await until("live", () => north.wire.state().type === "live");
  const twin = new Y.Doc();
  twin.clientID = north.doc.clientID;
  const south = join(origin, room, "ledger", twin);
  south.entries.push([envelope(1)]);
  await until("the id changed", () => north.entries.length === 1 && north.doc.clientID !== south.doc.clientID);
  north.entries.push([envelope(2)]);
  await until("stored", () => north.wire.stored().get(north.doc.clientID) === 1);
  north.wire.pause();
  north.wire.resume();
  await until("live again", () => north.wire.state().type === "live");
});

test("wires leave no listeners or timers on the process", async () => {
  const { origin } = await relay();
  const before = process.listenerCount("exit");
  const room = await newRoom();
  const many = Array.from({ length: 15 }, () => join(origin, room));
  await until("live", () => many.every(({ wire }) => wire.state().type === "live"));
  expect(process.listenerCount("exit")).toBe(before);
});
