/** What is not stored at the relay, kept from question to question: always what going through all entries would find. */
import type { EntryId } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { openHoldings } from "../../../packages/client/src/book/holdings.ts";
import { createUnstored } from "../../../packages/client/src/book/unstored.ts";
import type { Place } from "../../../packages/client/src/book/vault.ts";
import { createMemoryVault } from "../../../packages/client/src/book/vault-memory.ts";

const SEED = 20261126;
const CLIENTS = 3;

const jws = (n: number): string => `e30.${n}.s`;
const place = fc
  .record({ client: fc.nat(CLIENTS - 1), clock: fc.nat(9) })
  .chain(({ client, clock }) => fc.constantFrom<Place>({ client, clock }, { client, clock, volume: 1 }));
const step = fc.oneof(
  fc.record({ what: fc.constant("comes" as const), place: fc.option(place) }),
  fc.record({ what: fc.constant("is put" as const), which: fc.nat(20), place }),
  fc.record({ what: fc.constant("relay" as const), of: place, upTo: fc.nat(10) }),
  fc.record({ what: fc.constant("is asked" as const) }),
);

/** As a phone would have to do it that keeps nothing. */
const counted = (
  entries: Iterable<{ readonly id: EntryId; readonly place: Place | null }>,
  upTo: (of: Place) => number,
) => [...entries].filter(({ place }) => place === null || place.clock >= upTo(place)).map(({ id }) => id);

test(`entries come, are put elsewhere, and are stored or lost at the relay, in any order (seed ${SEED})`, async () => {
  const steps = fc.array(step, { minLength: 1, maxLength: 40 });
  await fc.assert(
    fc.asyncProperty(steps, async (all) => {
      const holdings = await openHoldings(createMemoryVault(), () => undefined);
      const relay = new Map<string, number>();
      const under = ({ client, volume = 0 }: Place): string => `${volume}/${client}`;
      const storedUpTo = (of: Place): number => relay.get(under(of)) ?? 0;
      const unstored = createUnstored({ holdings, storedUpTo });
      const ids: EntryId[] = [];
      for (const one of [...all, { what: "is asked" as const }]) {
        if (one.what === "comes") {
          const id = `entry-${ids.length}` as EntryId;
          ids.push(id);
          const entry = { id, jws: jws(ids.length), understood: true, place: one.place };
          expect(await holdings.keep({ entries: [entry] }, "append")).toBe(true);
        } else if (one.what === "is put") {
          const id = ids[one.which % Math.max(1, ids.length)];
          if (id !== undefined) holdings.put(id, one.place);
        } else if (one.what === "relay") relay.set(under(one.of), one.upTo);
        else expect([...unstored()].sort()).toEqual(counted(holdings.entries.values(), storedUpTo).sort());
      }
    }),
    { seed: SEED, numRuns: 300 },
  );
});

test("more than can be named came at once: all are looked at, and after that only those that moved", async () => {
  const holdings = await openHoldings(createMemoryVault(), () => undefined);
  const unstored = createUnstored({ holdings, storedUpTo: () => 5 });
  expect(unstored().size).toBe(0);
  const many = 2_000;
  const entries = Array.from({ length: many }, (_, n) => ({
    id: `entry-${n}` as EntryId,
    jws: jws(n),
    understood: true,
    place: { client: 1, clock: n },
  }));
  await holdings.keep({ entries }, "arrive");
  expect(unstored().size).toBe(many - 5);
  holdings.put("entry-1999" as EntryId, { client: 1, clock: 0 });
  expect(unstored().size).toBe(many - 6);
});

test("a relay that has less than it had is asked of all entries again: what it took in the meantime is not left among those that wait", async () => {
  const holdings = await openHoldings(createMemoryVault(), () => undefined);
  const upTo = new Map([[2, 1]]);
  const unstored = createUnstored({ holdings, storedUpTo: ({ client }) => upTo.get(client) ?? 0 });
  const entries = [1, 2].map((client) => ({
    id: `entry-${client}` as EntryId,
    jws: jws(client),
    understood: true,
    place: { client, clock: 0 },
  }));
  await holdings.keep({ entries }, "arrive");
  expect([...unstored()]).toEqual(["entry-1"]);
  upTo.set(1, 1).set(2, 0);
  expect([...unstored()]).toEqual(["entry-2"]);
});
