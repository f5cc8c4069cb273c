/** A vault of many small records is put in order when it is opened, and only then: a large book is not written anew at every start. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { HeldEntry, Vault, VaultRecord } from "@sward/client";
import { createMemoryVault } from "@sward/client";
import { openLevelVault } from "@sward/client/node";
import type { EntryId } from "@sward/core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { openHoldings } from "../../../packages/client/src/book/holdings.ts";

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "sward-scattered-"));
});
afterAll(() => rm(folder, { recursive: true }));

const entry = (n: number): HeldEntry => ({
  id: String(n).padStart(43, "e") as EntryId,
  jws: `text ${n}`,
  understood: false,
  place: { client: 1, clock: n },
});

/** Records of so many entries each. */
function recordsOf(...sizes: readonly number[]): VaultRecord[] {
  let n = 0;
  return sizes.map((size) => ({ entries: Array.from({ length: size }, () => entry(n++)) }));
}

const ones = (many: number): number[] => new Array<number>(many).fill(1);
const large = (many: number): number[] => new Array<number>(many).fill(500);

/** Opens it, and says how many records it then has, and whether all was written anew for that. */
async function opened(vault: Vault) {
  let isRewritten = false;
  const watched: Vault = {
    ...vault,
    replace(records) {
      isRewritten = true;
      return vault.replace(records);
    },
  };
  const { entries } = await openHoldings(watched, () => undefined);
  return { ids: [...entries.keys()], records: (await vault.load()).length, isRewritten };
}

test.each([
  ["a few small ones stay", ones(200), 200, false],
  ["many small ones become one", ones(250), 1, true],
  ["a large book has many records and is left as it is", large(300), 300, false],
  ["a few games in a large book are no reason to write all of it", [...large(300), ...ones(300)], 600, false],
  ["with many more it is put in order", [...large(300), ...ones(360)], 301, true],
])("%s", async (_what, sizes, after, isRewritten) => {
  const vault = createMemoryVault();
  const records = recordsOf(...sizes);
  for (const record of records) await vault.append(record);
  expect(await opened(vault)).toEqual({
    ids: records.flatMap(({ entries }) => entries.map(({ id }) => id)),
    records: after,
    isRewritten,
  });
});

test("on LevelDB more records than are read together come in their order", async () => {
  const vault = await openLevelVault(join(folder, "vault"));
  const records = recordsOf(...ones(1_300), 700, ...ones(1_100));
  await vault.replace(records);
  const ids = records.flatMap(({ entries }) => entries.map(({ id }) => id));
  expect((await vault.load()).flatMap(({ entries }) => entries.map(({ id }) => id))).toEqual(ids);
  expect(await opened(vault)).toEqual({ ids, records: 7, isRewritten: true });
  await vault.close();
});
