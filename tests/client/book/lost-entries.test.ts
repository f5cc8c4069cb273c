/** Entries that no document has: found, and looked for only where something is missing. */
import type { EntryId } from "@sward/core";
import { expect, test } from "vitest";
import { lostEntries } from "../../../packages/client/src/book/lost-entries.ts";
import type { Inside, Transport } from "../../../packages/client/src/book/transport.ts";
import type { Place } from "../../../packages/client/src/book/vault.ts";

const place = (client: number, clock: number, volume = 0): Place => ({ client, clock, ...(volume > 0 && { volume }) });

/** Under each client id this volume has the first so many places. */
const volume = (n: number, has: Record<number, number>, inside: Partial<Inside> = {}, synced = true) => ({
  volume: n,
  transport: {
    isSynced: () => synced,
    holds: ({ client, clock }: Place) => clock < (has[client] ?? 0),
    inside: () => ({ greeting: new Map([[1, 1]]), isWhole: () => false, ...inside }),
  } as unknown as Transport,
});

function holding(...places: (Place | null)[]) {
  let looks = 0;
  const all = places.map((one, n) => ({ id: `entry ${n}` as EntryId, jws: "", understood: true, place: one }));
  const entries = {
    values: function* () {
      for (const one of all) {
        looks += 1;
        yield one;
      }
    },
  };
  const unplaced = new Set(all.filter((one) => one.place === null).map(({ id }) => id));
  return { held: { entries, unplaced } as never, looks: () => looks };
}

const named = (lost: ReturnType<typeof lostEntries>) =>
  Object.fromEntries([...lost].map(([into, entries]) => [into, entries.map(({ id }) => id)]));

test("an entry that its volume lacks belongs into the one written in; into its own, where that room is empty", () => {
  const { held } = holding(place(1, 0), place(1, 1), place(2, 0, 1), place(3, 0, 2), null);
  const volumes = [volume(0, { 1: 1 }), volume(1, {}, { greeting: new Map() }), volume(2, { 3: 1 })];
  expect(named(lostEntries(volumes, 2, held))).toEqual({ 2: ["entry 1", "entry 4"], 1: ["entry 2"] });
  // Of a volume that was not read to its end nobody knows.
  expect(named(lostEntries([volume(0, {}, {}, false), volume(2, {})], 2, held))).toEqual({ 2: ["entry 3", "entry 4"] });
});

test("where nothing seen is missing, no entry is looked at; where one is in no document yet, or one volume cannot say so, all are", () => {
  const whole = { isWhole: () => true };
  const { held, looks } = holding(place(1, 0), place(2, 0, 1));
  expect(named(lostEntries([volume(0, { 1: 1 }, whole), volume(1, { 2: 1 }, whole)], 1, held))).toEqual({});
  expect(looks()).toBe(0);
  expect(named(lostEntries([volume(0, { 1: 1 }, whole), volume(1, {})], 1, held))).toEqual({ 1: ["entry 1"] });
  expect(looks()).toBe(2);
  const unplaced = holding(place(1, 0), null);
  expect(named(lostEntries([volume(0, { 1: 1 }, whole)], 0, unplaced.held))).toEqual({ 0: ["entry 1"] });
});
