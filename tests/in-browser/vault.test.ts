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

test("a vault as it was first written, records as objects, is read and goes on", async () => {
  const name = `${run}/first form`;
  const id = (letter: string) => letter.padEnd(43, "_") as EntryId;
  const entry = (letter: string) => ({ id: id(letter), jws: `${letter}.jws.sig`, understood: true, place: null });
  const opening = indexedDB.open(name, 1);
  await new Promise((done, failed) => {
    opening.onupgradeneeded = () => {
      opening.result.createObjectStore("records", { autoIncrement: true });
      opening.result.createObjectStore("roster");
    };
    opening.onsuccess = done;
    opening.onerror = failed;
  });
  const tx = opening.result.transaction("records", "readwrite");
  tx.objectStore("records").add({ entries: [entry("a"), entry("b")] });
  tx.objectStore("records").add({ entries: [], placed: [{ id: id("a"), place: { client: 7, clock: 3 } }] });
  await new Promise((done) => {
    tx.oncomplete = done;
  });
  opening.result.close();
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
