/**
 * What every vault must do, run by each of them: in Node by the one in memory and the one on LevelDB, in a real browser by the one
 * on IndexedDB.
 */

import type { Vault, VaultRecord } from "@sward/client";
import type { EntryId } from "@sward/core";
import { expect, test } from "vitest";

const id = (name: string): EntryId => name.padEnd(43, "_") as EntryId;

const record = (...names: string[]): VaultRecord => ({
  entries: names.map((name) => ({ id: id(name), jws: `${name}.jws.sig`, understood: true, place: null })),
});

/** `open(name)` gives the same store again for the same name; `durable` is false for the one that forgets. */
export function vaultContract(open: (name: string) => Promise<Vault>, durable: boolean): void {
  test("records come back in the order written", async () => {
    const vault = await open("order");
    await vault.append(record("b"));
    await vault.append({ ...record("a"), unchecked: [{ jws: "u.u.u", place: { client: 7, clock: 3 } }] });
    await vault.append({ entries: [], placed: [{ id: id("b"), place: { client: 1, clock: 0 } }] });
    const records = await vault.load();
    expect(records.map(({ entries }) => entries.map((entry) => entry.id))).toEqual([[id("b")], [id("a")], []]);
    expect(records[1]?.unchecked).toEqual([{ jws: "u.u.u", place: { client: 7, clock: 3 } }]);
    expect(records[2]?.placed).toEqual([{ id: id("b"), place: { client: 1, clock: 0 } }]);
    await vault.close();
  });

  test("many writes at once are all kept, in order", async () => {
    const vault = await open("many");
    const names = Array.from({ length: 50 }, (_, n) => `n${n}`);
    await Promise.all(names.map((name) => vault.append(record(name))));
    const records = await vault.load();
    expect(records.map(({ entries }) => entries[0]?.id)).toEqual(names.map(id));
    await vault.close();
  });

  test("records small and large, in whatever pieces they are read, come back whole and in order", async () => {
    const vault = await open("pieces");
    const sizes = [...Array<number>(90).fill(1), 600, 700, 1, 0, 2_000, 500, ...Array<number>(70).fill(2)];
    const names = sizes.map((size, n) => Array.from({ length: size }, (_, at) => `${n}.${at}`));
    for (const some of names) await vault.append(record(...some));
    const records = await vault.load();
    expect(records.map(({ entries }) => entries.map((entry) => entry.id))).toEqual(names.map((some) => some.map(id)));
    await vault.close();
  });

  test("more records than are fetched in one go come back in order", async () => {
    const vault = await open("thousands");
    const names = Array.from({ length: 2_500 }, (_, n) => `n${n}`);
    await vault.replace(names.map((name) => record(name)));
    const records = await vault.load();
    expect(records.map(({ entries }) => entries[0]?.id)).toEqual(names.map(id));
    await vault.close();
  });

  test("a rewrite takes the place of everything, and writing goes on after it", async () => {
    const vault = await open("rewrite");
    await vault.append(record("a"));
    await vault.append(record("b"));
    await vault.replace([record("a", "b")]);
    await vault.append(record("c"));
    const records = await vault.load();
    expect(records.map(({ entries }) => entries.map((entry) => entry.id))).toEqual([[id("a"), id("b")], [id("c")]]);
    await vault.close();
  });

  test("the roster copy keeps the last value of each subject, byte for byte", async () => {
    const vault = await open("roster");
    await vault.saveRoster(
      new Map([
        ["p", Uint8Array.of(1, 2)],
        ["q", Uint8Array.of(0, 255)],
      ]),
    );
    await vault.saveRoster(new Map([["p", Uint8Array.of(3)]]));
    const roster = await vault.loadRoster();
    expect([...roster].map(([about, bytes]) => [about, [...bytes]]).sort()).toEqual([
      ["p", [3]],
      ["q", [0, 255]],
    ]);
    await vault.close();
  });

  test("what is gone from the roster copy is gone, in one write with what takes its place; the rest stays", async () => {
    const vault = await open("gone");
    const values = (roster: ReadonlyMap<string, Uint8Array>) => [...roster].map(([k, v]) => [k, [...v]]).sort();
    await vault.saveRoster(new Map(["p", "q", "r"].map((about, at) => [about, Uint8Array.of(at)])));
    await vault.saveRoster(new Map([["erased/p", Uint8Array.of(7)]]), ["p", "r", "never-there"]);
    const left = [
      ["erased/p", [7]],
      ["q", [1]],
    ];
    expect(values(await vault.loadRoster())).toEqual(left);
    await vault.saveRoster(new Map([["s", Uint8Array.of(4)]]));
    await vault.saveRoster(new Map(), ["s"]);
    expect(values(await vault.loadRoster())).toEqual(left);
    await vault.close();
    if (!durable) return;
    const again = await open("gone");
    expect(values(await again.loadRoster())).toEqual(left);
    await again.close();
  });

  if (durable) {
    test("what was written is there after closing and opening again", async () => {
      const vault = await open("again");
      await vault.append(record("a"));
      await vault.saveRoster(new Map([["p", Uint8Array.of(9)]]));
      await vault.close();
      const again = await open("again");
      await again.append(record("b"));
      expect((await again.load()).map(({ entries }) => entries[0]?.id)).toEqual([id("a"), id("b")]);
      expect([...(await again.loadRoster())].map(([, bytes]) => [...bytes])).toEqual([[9]]);
      await again.close();
    });

    test("writing to a closed vault is refused, never lost in silence", async () => {
      const vault = await open("closed");
      await vault.close();
      await expect(vault.append(record("a"))).rejects.toThrow();
    });
  }
}
