/** Entries that came after the first so many, of a record that is read again and goes on. */
import type { EntryId } from "@sward/core";
import { expect, test } from "vitest";
import type { Holdings } from "../../../packages/client/src/book/holdings.ts";
import { openHoldings } from "../../../packages/client/src/book/holdings.ts";
import type { HeldEntry, Place } from "../../../packages/client/src/book/vault.ts";
import { createMemoryVault } from "../../../packages/client/src/book/vault-memory.ts";

const entry = (n: number, place: Place | null = null): HeldEntry => ({
  id: `entry ${n}` as EntryId,
  jws: `e30.${n}.s`,
  understood: true,
  place,
});

const numbers = (holdings: Holdings, many: number): number[] =>
  holdings.since(many).map(({ id }) => Number(id.split(" ")[1]));

test("each once and in the order in which they came, wherever they lie; those that were read at the start too", async () => {
  const vault = createMemoryVault();
  await vault.append({ entries: [entry(0), entry(1), entry(2)] });
  const holdings = await openHoldings(vault, () => undefined);
  expect(numbers(holdings, 3)).toEqual([]);
  await holdings.keep({ entries: [entry(3), entry(4)] }, "append");
  // Came once more, now out of the document.
  await holdings.keep({ entries: [entry(3, { client: 1, clock: 0 }), entry(5)] }, "arrive");
  holdings.put("entry 1" as EntryId, { client: 1, clock: 1 });
  expect([0, 2, 3, 4, 6].map((many) => numbers(holdings, many))).toEqual([
    [0, 1, 2, 3, 4, 5],
    [2, 3, 4, 5],
    [3, 4, 5],
    [4, 5],
    [],
  ]);
  expect(holdings.since(3)[0]?.place).toEqual({ client: 1, clock: 0 });
});
