/**
 * What a relay relies on in its store. Every implementation runs this; `open` gives the same store again after `close`, or says
 * by `lasting: false` that it forgets.
 */
import type { RoomName } from "@sward/core";
import type { RoomKey, Storage } from "@sward/relay";
import { roomKeyText } from "@sward/relay";
import { expect, test } from "vitest";
import * as Y from "yjs";
import { checkStore } from "../../packages/relay/src/keeping/check.ts";
import { compareReports } from "../../packages/relay/src/keeping/compare.ts";
import { envelope } from "./envelopes.ts";
import { random } from "./meeting.ts";

export interface StorageUnderTest {
  readonly name: string;
  readonly lasting: boolean;
  /** A store nobody has used, and the way to open it again. */
  fresh(): Promise<() => Promise<Storage>>;
}

const room = (letter: string): RoomName => letter.repeat(43) as RoomName;
const ledger = (letter: string): RoomKey => ({ kind: "ledger", room: room(letter) });
const roster = (letter: string): RoomKey => ({ kind: "roster", room: room(letter) });
const bytes = (...values: number[]): Uint8Array => Uint8Array.from(values);

/** Follows a room and writes down what it hears. */
async function heard(storage: Storage, key: RoomKey) {
  const updates: (readonly Uint8Array[])[] = [];
  const said: Uint8Array[] = [];
  let now = -1;
  const note = (written: readonly Uint8Array[], at: number): void => {
    expect(at).toBeGreaterThan(now);
    updates.push(written);
    now = at;
  };
  const stop = await storage.follow(key, { history: note, stored: note, said: (state) => said.push(state) });
  return { updates: () => updates, said: () => said, at: () => now, stop };
}

/** One update a write of one device; `client` is the same for two devices where one pretends to be the other. */
function writes(client: number, numbers: readonly number[], kind: "ledger" | "roster"): Uint8Array[] {
  const doc = new Y.Doc();
  doc.clientID = client;
  const made: Uint8Array[] = [];
  doc.on("update", (update: Uint8Array) => made.push(update));
  for (const number of numbers) {
    if (kind === "ledger") doc.getArray("entries").push([envelope(number)]);
    else doc.getMap("roster").set(`p${client}-${number % 2}`, envelope(number));
  }
  return made;
}

export function keepsStorageContract({ name, lasting, fresh }: StorageUnderTest): void {
  const using = async (use: (storage: Storage) => Promise<void>): Promise<void> => {
    const storage = await (await fresh())();
    await use(storage);
    await storage.close();
  };

  test(`${name}: a room never seen is empty`, () =>
    using(async (storage) => {
      expect(await storage.load(ledger("a"))).toEqual([]);
    }));

  test(`${name}: updates come back whole and in order, each room by itself`, () =>
    using(async (storage) => {
      await storage.append(ledger("a"), [bytes(1), bytes()]);
      await storage.append(ledger("b"), [bytes(2)]);
      await storage.append(roster("a"), [bytes(3)]);
      await storage.append(ledger("a"), [bytes(4, 255, 0)]);
      expect(await storage.load(ledger("a"))).toEqual([bytes(1), bytes(), bytes(4, 255, 0)]);
      expect(await storage.load(ledger("b"))).toEqual([bytes(2)]);
      expect(await storage.load(roster("a"))).toEqual([bytes(3)]);
    }));

  test(`${name}: a thousand updates keep their order, written at the same time or not`, () =>
    using(async (storage) => {
      const writes: Promise<void>[] = [];
      for (let number = 0; number < 1000; number += 1)
        writes.push(storage.append(ledger("c"), [bytes(number >> 8, number & 255)]));
      await Promise.all(writes);
      const numbers = (await storage.load(ledger("c"))).map(([high = 0, low = 0]) => high * 256 + low);
      expect(numbers).toEqual(Array.from({ length: 1000 }, (_, number) => number));
    }));

  test(`${name}: what was given or got may be changed without changing the store`, () =>
    using(async (storage) => {
      const given = bytes(1, 2, 3);
      await storage.append(ledger("d"), [given]);
      given.fill(9);
      (await storage.load(ledger("d")))[0]?.fill(8);
      const [kept] = await storage.load(ledger("d"));
      expect(kept).toEqual(bytes(1, 2, 3));
      // Yjs takes a Buffer for something else than bytes.
      expect(kept?.constructor).toBe(Uint8Array);
    }));

  test(`RL10 ${name}: replacing leaves what was given, and only in that room`, () =>
    using(async (storage) => {
      await storage.append(roster("e"), [bytes(1), bytes(2)]);
      await storage.append(roster("f"), [bytes(3)]);
      expect(await storage.replace(roster("e"), [bytes(4)], (await heard(storage, roster("e"))).at())).toBe(true);
      await storage.append(roster("e"), [bytes(5)]);
      expect(await storage.replace(roster("g"), [bytes(6), bytes(7)], 0)).toBe(true);
      expect(await storage.load(roster("e"))).toEqual([bytes(4), bytes(5)]);
      expect(await storage.load(roster("f"))).toEqual([bytes(3)]);
      expect(await storage.load(roster("g"))).toEqual([bytes(6), bytes(7)]);
    }));

  test(`${name}: replacing what has moved on changes nothing, and of many at once one succeeds`, () =>
    using(async (storage) => {
      const room = await heard(storage, roster("m"));
      await storage.append(roster("m"), [bytes(1)]);
      expect(await storage.replace(roster("m"), [bytes(2)], 0)).toBe(false);
      expect(await storage.load(roster("m"))).toEqual([bytes(1)]);
      const over = room.at();
      const tries = await Promise.all([3, 4, 5, 6].map((value) => storage.replace(roster("m"), [bytes(value)], over)));
      expect(tries.filter((done) => done)).toHaveLength(1);
      // Whoever was late has heard by now, and succeeds with the next try.
      expect(room.updates().at(-1)).toEqual([bytes(3 + tries.indexOf(true))]);
      expect(await storage.replace(roster("m"), [bytes(7)], room.at())).toBe(true);
      expect(await storage.load(roster("m"))).toEqual([bytes(7)]);
    }));

  test(`${name}: who follows a room hears all of it once, in the store's order, before each write resolves`, () =>
    using(async (storage) => {
      const number = (value: number): Uint8Array => bytes(value >> 8, value & 255);
      await storage.append(ledger("n"), [number(0), number(1)]);
      const writing: Promise<void>[] = [];
      for (let value = 2; value < 200; value += 2) {
        writing.push(storage.append(ledger("n"), [number(value), number(value + 1)]));
        writing.push(storage.append(ledger("o"), [number(value)]));
      }
      // In the middle of writing: what is read and what is heard must meet without a gap.
      const [early, late] = await Promise.all([
        heard(storage, ledger("n")),
        Promise.all(writing.slice(0, 50)).then(() => heard(storage, ledger("n"))),
      ]);
      await Promise.all(writing);
      const all = Array.from({ length: 200 }, (_, value) => number(value));
      for (const room of [early, late]) expect(room.updates().flat()).toEqual(all);
      expect(await storage.load(ledger("n"))).toEqual(all);
      early.stop();
      await storage.append(ledger("n"), [number(999)]);
      expect(late.updates().flat().at(-1)).toEqual(number(999));
      expect(early.updates().flat()).toHaveLength(200);
      expect(late.at()).toBeGreaterThan(early.at());
    }));

  test(`${name}: a history that the listener will not have is a rejection, and nothing follows it`, () =>
    using(async (storage) => {
      let told = 0;
      const listener = {
        history: () => {
          throw new Error("not what it should be");
        },
        stored: () => {
          told += 1;
        },
        said: () => undefined,
      };
      await expect(storage.follow(ledger("p"), listener)).rejects.toThrow("not what it should be");
      await storage.append(ledger("p"), [bytes(1)]);
      expect(told).toBe(0);
    }));

  test(`${name}: what is said is heard by all who follow that room, and kept nowhere`, () =>
    using(async (storage) => {
      const [one, two, other] = [
        await heard(storage, ledger("q")),
        await heard(storage, ledger("q")),
        await heard(storage, roster("q")),
      ];
      storage.say(ledger("q"), bytes(1, 2));
      await expect.poll(() => [one.said(), two.said()]).toEqual([[bytes(1, 2)], [bytes(1, 2)]]);
      expect(other.said()).toEqual([]);
      expect(await storage.load(ledger("q"))).toEqual([]);
    }));

  test(`${name}: an update as long as a relay takes comes back whole, beside short ones`, () =>
    using(async (storage) => {
      const long = random(1024 * 1024);
      const [state] = [random(8 * 1024 * 1024)];
      await storage.append(ledger("s"), [bytes(1), long, bytes(2)]);
      expect(await storage.replace(roster("s"), [state], 0)).toBe(true);
      const [first, second, third, ...rest] = await storage.load(ledger("s"));
      expect([first, third, rest.length]).toEqual([bytes(1), bytes(2), 0]);
      expect(Buffer.from(second ?? []).equals(long)).toBe(true);
      const [kept, ...more] = await storage.load(roster("s"));
      expect([more.length, Buffer.from(kept ?? []).equals(state)]).toEqual([0, true]);
    }));

  test(`${name}: the same update again is there at least once, in each room by itself`, () =>
    using(async (storage) => {
      for (const key of [ledger("t"), ledger("t"), ledger("u")]) await storage.append(key, [bytes(7, 7)]);
      const [first, ...again] = await storage.load(ledger("t"));
      expect(first).toEqual(bytes(7, 7));
      for (const update of again) expect(update).toEqual(first);
      expect(await storage.load(ledger("u"))).toEqual([bytes(7, 7)]);
    }));

  test(`${name}: every room that has something is on the list, with what it has`, () =>
    using(async (storage) => {
      await storage.append(ledger("v"), [bytes(1)]);
      await storage.append(ledger("v"), [bytes(2), bytes(3)]);
      await storage.replace(roster("v"), [bytes(4)], 0);
      await storage.append(ledger("w"), [bytes(5)]);
      await storage.probe();
      const list = new Map<string, readonly Uint8Array[]>();
      for await (const { key, updates } of storage.rooms()) list.set(roomKeyText(key), updates);
      expect([...list].sort(([a], [b]) => (a < b ? -1 : 1))).toEqual([
        [roomKeyText(ledger("v")), [bytes(1), bytes(2), bytes(3)]],
        [roomKeyText(ledger("w")), [bytes(5)]],
        [roomKeyText(roster("v")), [bytes(4)]],
      ]);
    }));

  test(`RL17 ${name}: stores that hold the same say the same of each room, and of a place claimed twice they do not`, async () => {
    const [here, there] = [await (await fresh())(), await (await fresh())()];
    const honest = [writes(7, [1, 2, 3], "ledger"), writes(8, [4], "ledger")];
    await here.append(ledger("x"), honest.flat());
    for (const one of honest.toReversed()) await there.append(ledger("x"), one);
    const names = writes(7, [1, 2, 3], "roster");
    const doc = new Y.Doc();
    for (const one of names) Y.applyUpdate(doc, one);
    // One store was written update by update, the other holds the state alone, as a relay leaves it.
    await here.append(roster("x"), names);
    await there.replace(roster("x"), [Y.encodeStateAsUpdate(doc)], 0);
    await here.append(ledger("y"), writes(9, [1, 2], "ledger"));
    await there.append(ledger("y"), writes(9, [1, 3], "ledger"));
    await here.append(ledger("z"), writes(9, [1, 2], "ledger"));
    await there.append(ledger("z"), writes(9, [1], "ledger"));
    const [one, other] = [await checkStore(here), await checkStore(there)];
    expect(compareReports(one, other)).toEqual({
      here: here.id,
      there: there.id,
      same: 2,
      diverged: [roomKeyText(ledger("y"))],
      behind: [roomKeyText(ledger("z"))],
    });
    expect(Object.values(one.contents).every(({ digest }) => /^[\w-]{43}$/.test(digest))).toBe(true);
    await here.close();
    await there.close();
  });

  test(`${name}: two stores have two ids`, async () => {
    const [one, two] = [await (await fresh())(), await (await fresh())()];
    expect(one.id).not.toBe(two.id);
    expect(one.id).toMatch(/^[\x20-\x7e]{1,64}$/);
    await one.close();
    await two.close();
  });

  test(`${name}: a probe of a store that works resolves`, () => using((storage) => storage.probe()));

  if (lasting) {
    test(`${name}: opened again it has the same id, all it had, and goes on behind it`, async () => {
      const open = await fresh();
      const before = await open();
      await before.append(ledger("h"), [bytes(1), bytes(2)]);
      await before.replace(roster("h"), [bytes(3)], 0);
      const stood = (await heard(before, roster("h"))).at();
      await before.close();
      const after = await open();
      expect(after.id).toBe(before.id);
      expect((await heard(after, roster("h"))).at()).toBe(stood);
      await after.append(ledger("h"), [bytes(4)]);
      await after.append(roster("h"), [bytes(5)]);
      expect(await after.load(ledger("h"))).toEqual([bytes(1), bytes(2), bytes(4)]);
      expect(await after.load(roster("h"))).toEqual([bytes(3), bytes(5)]);
      await after.close();
    });
  }
}
