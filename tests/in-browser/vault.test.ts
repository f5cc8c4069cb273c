import type { EntryId } from "@sward/core";
import { describe, expect, test } from "vitest";
import { openIdbVault } from "../../packages/client/src/book/vault-idb.ts";
import { vaultContract } from "../support/vault-contract.ts";

const run = crypto.randomUUID();

describe("on IndexedDB", () =>
  vaultContract(
    (name) => openIdbVault(`${run}/${name}`, { givenUp: () => undefined, putBack: () => undefined }),
    true,
  ));

test("others have their turn while records are read and while they are rewritten, and what is read is the same", async () => {
  const name = `${run}/in steps`;
  const entries = Array.from({ length: 200 }, (_, n) => ({
    id: String(n).padEnd(43, "_") as EntryId,
    jws: `${n}.jws.sig`,
    understood: true,
    place: null,
  }));
  const vault = await openIdbVault(name, { givenUp: () => undefined, putBack: () => undefined });
  await vault.append({ entries });
  await vault.append({ entries: [] });
  await vault.close();
  let turns = 0;
  const breathe = (): Promise<void> => {
    turns += 1;
    // So long that the browser ends whatever transaction there was.
    return new Promise((soon) => setTimeout(soon, 5));
  };
  const again = await openIdbVault(name, { givenUp: () => undefined, putBack: () => undefined }, breathe);
  const records = await again.load();
  expect(records.map((one) => one.entries.map(({ jws }) => jws))).toEqual([entries.map(({ jws }) => jws), []]);
  expect(turns).toBeGreaterThan(4);
  const before = turns;
  await again.replace([...records, { entries: [], sealed: [] }]);
  expect(turns - before).toBe(3);
  await again.close();
  const last = await openIdbVault(name, { givenUp: () => undefined, putBack: () => undefined });
  expect(await last.load()).toEqual([...records, { entries: [], sealed: [] }]);
  await last.close();
});

/** A database as an app before this one made it. */
async function asBefore(name: string, version: number, records: readonly unknown[]): Promise<void> {
  const opening = indexedDB.open(name, version);
  await new Promise((done, failed) => {
    opening.onupgradeneeded = () => {
      opening.result.createObjectStore("records", { autoIncrement: true });
      opening.result.createObjectStore("roster");
    };
    opening.onsuccess = done;
    opening.onerror = failed;
  });
  const tx = opening.result.transaction("records", "readwrite");
  for (const record of records) tx.objectStore("records").add(record);
  await new Promise((done) => {
    tx.oncomplete = done;
  });
  opening.result.close();
}

test("a vault of the app before this one, without columns, is read and goes on", async () => {
  const name = `${run}/second form`;
  const id = "a".padEnd(43, "_") as EntryId;
  const entry = { id, jws: "a.jws.sig", understood: true, place: { client: 7, clock: 3 } };
  await asBefore(name, 2, [JSON.stringify({ v: 2, authors: [], entries: [entry] })]);
  for (const records of [1, 2]) {
    const vault = await openIdbVault(name, { givenUp: () => undefined, putBack: () => undefined });
    const held = await vault.load();
    expect(held.length).toBe(records);
    expect(held[0]?.entries.map(({ jws, place }) => ({ jws, place }))).toEqual([
      { jws: entry.jws, place: entry.place },
    ]);
    await vault.append({ entries: [], sealed: [] });
    await vault.close();
  }
  // An older app asks for it as it knows it, and must not get it: it cannot read columns.
  const older = indexedDB.open(name, 2);
  await new Promise((done) => {
    older.onerror = done;
    older.onsuccess = done;
  });
  expect(older.error?.name).toBe("VersionError");
});

test("a vault as it was first written, records as objects, is read and goes on", async () => {
  const name = `${run}/first form`;
  const id = (letter: string) => letter.padEnd(43, "_") as EntryId;
  const entry = (letter: string) => ({ id: id(letter), jws: `${letter}.jws.sig`, understood: true, place: null });
  await asBefore(name, 1, [
    { entries: [entry("a"), entry("b")] },
    { entries: [], placed: [{ id: id("a"), place: { client: 7, clock: 3 } }] },
  ]);
  for (const more of ["c", "d"]) {
    const vault = await openIdbVault(name, { givenUp: () => undefined, putBack: () => undefined });
    const records = await vault.load();
    expect(records.slice(0, 2).map(({ entries }) => entries.map(({ jws }) => jws))).toEqual([
      ["a.jws.sig", "b.jws.sig"],
      [],
    ]);
    expect(records[1]?.placed).toEqual([{ id: id("a"), place: { client: 7, clock: 3 } }]);
    expect(records.slice(2).map(({ entries }) => entries[0]?.jws)).toEqual(more === "c" ? [] : ["c.jws.sig"]);
    await vault.append({ entries: [entry(more)] });
    await vault.close();
  }
});
