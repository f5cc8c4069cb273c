/**
 * What a relay relies on in its store. Every implementation runs this; `open` gives the same store again after `close`, or says
 * by `lasting: false` that it forgets.
 */
import type { RoomName } from "@sward/core";
import type { RoomKey, Storage } from "@sward/relay";
import { expect, test } from "vitest";

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

  test(`${name}: replacing leaves one update, and only in that room`, () =>
    using(async (storage) => {
      await storage.append(roster("e"), [bytes(1), bytes(2)]);
      await storage.append(roster("f"), [bytes(3)]);
      await storage.replace(roster("e"), bytes(4));
      await storage.append(roster("e"), [bytes(5)]);
      await storage.replace(roster("g"), bytes(6));
      expect(await storage.load(roster("e"))).toEqual([bytes(4), bytes(5)]);
      expect(await storage.load(roster("f"))).toEqual([bytes(3)]);
      expect(await storage.load(roster("g"))).toEqual([bytes(6)]);
    }));

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
      await before.replace(roster("h"), bytes(3));
      await before.close();
      const after = await open();
      expect(after.id).toBe(before.id);
      await after.append(ledger("h"), [bytes(4)]);
      await after.append(roster("h"), [bytes(5)]);
      expect(await after.load(ledger("h"))).toEqual([bytes(1), bytes(2), bytes(4)]);
      expect(await after.load(roster("h"))).toEqual([bytes(3), bytes(5)]);
      await after.close();
    });
  }
}
