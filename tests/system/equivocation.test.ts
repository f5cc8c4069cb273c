/**
 * What no single update shows: two contents in one place of the document, and copies that only look like an entry. State vectors are
 * equal, so nobody asks for anything; what one device was told is safe would be on that device alone. Told as short stories in the
 * simulator, where minutes cost nothing.
 */
import type { Draft, EntryId } from "@sward/core";
import { updateFrame } from "@sward/core";
import { expect, test } from "vitest";
import * as Y from "yjs";
import { headsText } from "../../packages/client/src/book/heads.ts";
import { seal } from "../../packages/client/src/book/seal.ts";
import { encodeSaying } from "../../packages/client/src/wire/saying.ts";
import { awarenessFrame, decodeEntry, signingInput } from "../../packages/core/src/index.ts";
import { binaryItem, block, update } from "../support/hand-made-updates.ts";
import type { Byzantine, Seat } from "./byzantine.ts";
import { createByzantine } from "./byzantine.ts";
import type { SimDevice } from "./devices.ts";
import { judge } from "./oracle.ts";
import { countCrypto } from "./quiet.ts";
import { dayAt, timestampAt } from "./schedule.ts";
import type { World } from "./world.ts";
import { bookOf, createWorld, found, playerOf } from "./world.ts";

countCrypto();

const minute = 60_000;

interface Scene {
  readonly world: World;
  readonly byzantine: Byzantine;
  /** North's room at the first relay. */
  readonly seat: Seat;
  readonly recorder: SimDevice;
}

async function scene(seed: string): Promise<Scene> {
  const world = await createWorld(seed);
  await found(world);
  const byzantine = await createByzantine(world, []);
  await world.schedule.pass(5_000);
  const seat = byzantine.seats.find(({ at, relay }) => at === world.books.north && relay === 0)!;
  expect(seat.isOpen()).toBe(true);
  return { world, byzantine, seat, recorder: world.device("north recorder") };
}

const match = (world: World, n: number): Draft => ({
  kind: "match-reported",
  body: {
    date: dayAt(0, n),
    occasion: "club-friendly",
    n: 1,
    play: "handicap",
    format: 13,
    sides: [
      [{ player: playerOf(world, world.books.north, "a"), off: 8 }],
      [{ player: playerOf(world, world.books.north, "b"), off: 8 }],
    ],
    games: [{ score: [7, 2] }],
  },
});

async function report({ world, recorder }: Scene, n: number): Promise<EntryId> {
  const saved = await world.through("a report", bookOf(recorder, world.books.north)!.append([match(world, n)]));
  if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  return saved.value[0]!;
}

const holders = ({ world }: Scene, id: EntryId): string[] =>
  world.devices.filter((device) => bookOf(device, world.books.north)?.signed(id) !== undefined).map(({ name }) => name);

const everybody = ["north root", "north handicapper", "north recorder", "north barred"];

async function end({ world, byzantine }: Scene): Promise<void> {
  byzantine.leave();
  for (const device of world.devices) device.crash();
  await world.schedule.pass(0);
}

/** Takes the place of the newest entry of a document at the relay, by something else; the device is offline and has not sent it. */
async function raced({ world, seat }: Scene, doc: Y.Doc): Promise<void> {
  const clock = Y.getState(doc.store, doc.clientID) - 1;
  const where = clock === 0 ? {} : { origin: [doc.clientID, clock - 1] as const };
  const other = await seal(seat.at.book, seat.keys, ["something else"], world.dice.bytes);
  seat.send(updateFrame(update([block(doc.clientID, clock, [binaryItem(other, where)])])));
  await world.schedule.pass(2_000);
}

test("an author whose place somebody else has taken gives up that client id at once, and hands over under another", async () => {
  const here = await scene("raced");
  const { world, recorder } = here;
  recorder.desk()!.goOffline();
  await world.schedule.pass(1_000);
  const id = await report(here, 1);
  const doc = recorder.ledgerDoc(world.books.north.book)!;
  const given = doc.clientID;
  await raced(here, doc);
  recorder.desk()!.goOnline();
  await world.schedule.pass(5_000);
  expect(doc.clientID).not.toBe(given);
  expect(holders(here, id)).toEqual(everybody);
  expect(await judge(world)).toEqual([]);
  await end(here);
});

test("an entry whose place somebody else has taken is found missing, though its author was started again since", async () => {
  const here = await scene("raced");
  const { world, recorder } = here;
  recorder.desk()!.goOffline();
  await world.schedule.pass(1_000);
  const id = await report(here, 1);
  await raced(here, recorder.ledgerDoc(world.books.north.book)!);
  recorder.stop(() => recorder.start());
  await world.schedule.pass(10_000);
  // The recorder is told that its entry is stored, since something is, in that place.
  expect(bookOf(recorder, world.books.north)!.custody(id)).toBe("relay");
  expect(holders(here, id)).toEqual(["north recorder"]);

  await world.schedule.pass(8 * minute);
  expect(holders(here, id)).toEqual(everybody);
  expect(await judge(world)).toEqual([]);
  await end(here);
});

test("a forged admission makes no stranger's entry held, before a restart or after it", async () => {
  const here = await scene("forged admission");
  const { world, seat, recorder } = here;
  const { stranger, books } = world;
  const payload = (kind: string, body: object, seq = 0) => ({
    v: 1,
    book: books.north.book,
    seq,
    prev: null,
    at: timestampAt(0),
    kind,
    body: body as Record<string, unknown>,
  });
  const admission = payload("device-admitted", { device: stranger.key, role: "handicapper" }, 90);
  const signature = (await stranger.signEntry(admission)).split(".")[2];
  const forged = `${signingInput(books.north.root.id, admission)}.${signature}`;
  const own = await stranger.signEntry(payload("match-reported", match(world, 3).body));
  const put = async (client: number, texts: string[]): Promise<void> => {
    const envelope = await seal(seat.at.book, seat.keys, texts, world.dice.bytes);
    seat.send(updateFrame(update([block(client, 0, [binaryItem(envelope)])])));
    await world.schedule.pass(3_000);
  };
  await put(71, [forged]);
  recorder.crash();
  await put(72, [own]);
  recorder.start();
  await world.schedule.pass(10_000);
  const decoded = decodeEntry(own);
  expect(decoded.ok && holders(here, decoded.value.id)).toEqual([]);

  // Admitted in earnest, what he wrote before is there for all, the one who admits him among them.
  const admit: Draft = { kind: "device-admitted", body: { device: stranger.key, role: "recorder" } };
  await world.through("an admission", bookOf(world.device("north root"), books.north)!.append([admit]));
  await world.schedule.pass(10_000);
  expect(decoded.ok && holders(here, decoded.value.id)).toEqual(everybody);
  await end(here);
});

test("who lies about what he has costs the others little", async () => {
  const here = await scene("liar");
  const { world, seat, recorder } = here;
  const before = bookOf(recorder, world.books.north)!.entries();
  const doc = recorder.ledgerDoc(world.books.north.book)!;
  const structs = (): number => [...Y.decodeStateVector(Y.encodeStateVector(doc)).values()].reduce((a, b) => a + b, 0);
  const start = structs();
  for (let times = 0; times < 120; times += 1) {
    // Each lie is told for a minute, long enough to be believed.
    const lie = world.dice.fork(`lie ${Math.floor(times / 4)}`);
    const heads = Array.from({ length: 64 }, () => Buffer.from(lie.bytes(8)).toString("base64url").slice(0, 10));
    const text = headsText("a-lying-speaker_", heads);
    const sealed = await seal(seat.at.book, seat.keys, [text], world.dice.bytes);
    seat.send(awarenessFrame(encodeSaying(7, times, sealed)));
    await world.schedule.pass(15_000);
  }
  // Half an hour, four devices, each at most once in five minutes; the few entries there are fill two envelopes.
  expect(structs() - start).toBeGreaterThan(0);
  expect(structs() - start).toBeLessThanOrEqual(4 * 7 * 2);
  expect([...bookOf(recorder, world.books.north)!.entries()].length).toBe([...before].length);
  expect(await judge(world)).toEqual([]);
  await end(here);
});
