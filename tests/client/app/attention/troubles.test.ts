/** What is wrong with a device itself, from how its books stand. */
import type { BookId } from "@sward/core";
import { expect, test } from "vitest";
import { countPressing, groupMatters } from "../../../../packages/client/src/app/attention/groups.ts";
import type { TroubledBook } from "../../../../packages/client/src/app/attention/troubles.ts";
import { troublesOf } from "../../../../packages/client/src/app/attention/troubles.ts";
import type { Connection } from "../../../../packages/client/src/wire/connection.ts";
import { clubs } from "../../../support/cast.ts";

const noSignal: Connection = { type: "connecting", attempt: 4, next: 30_000, fault: { type: "unreachable" } };
const live: Connection = { type: "live", synced: true };

interface Standing {
  readonly connection?: Connection;
  readonly waiting?: number;
  readonly halted?: ReturnType<TroubledBook["halted"]>;
  readonly trouble?: ReturnType<TroubledBook["trouble"]>;
}

const book = (id: string, stands: Standing = {}): TroubledBook => ({
  id: id as BookId,
  connection: () => stands.connection ?? live,
  waiting: () => stands.waiting ?? 0,
  halted: () => stands.halted ?? null,
  trouble: () => stands.trouble ?? null,
});

test("entries that wait are asked about after three days without the relay, and at once where it never was met", () => {
  const waits = [book("club", { connection: noSignal, waiting: 2 }), book("league", { waiting: 1 })];
  expect(troublesOf(waits, "2026-06-28", "2026-06-30")).toEqual([]);
  expect(troublesOf(waits, "2026-06-27", "2026-06-30")).toEqual([{ about: "not-met", waiting: 3, days: 3 }]);
  expect(troublesOf(waits, null, "2026-06-30")).toEqual([{ about: "not-met", waiting: 3, days: null }]);
  expect(troublesOf([book("club", { connection: noSignal })], "2026-01-01", "2026-06-30")).toEqual([]);
  const first: Connection = { type: "connecting", attempt: 0, next: null, fault: null };
  expect(troublesOf([book("club", { connection: first, waiting: 2 })], null, "2026-06-30")).toEqual([]);
  expect(troublesOf([book("club", { connection: { type: "offline" }, waiting: 2 })], null, "2026-06-30")).toHaveLength(
    1,
  );
});

test("the same trouble of several books is one matter; storage, key and relay each their own; a fork is the record's", () => {
  const refused = { type: "refused", code: 4003, reason: "room is full" } as const;
  const trouble = { during: "append", cause: "QuotaExceededError" } as const;
  const found = troublesOf(
    [
      book("club", { halted: { type: "used-elsewhere" }, connection: refused, trouble }),
      book("league", { halted: { type: "used-elsewhere" }, connection: refused, trouble }),
      book("third", { halted: { type: "forked", seq: 3 } }),
      book("fourth", { halted: { type: "not-caught-up" } }),
    ],
    "2026-06-30",
    "2026-06-30",
  );
  expect(found).toEqual([
    { about: "storage-trouble", book: "club", trouble },
    { about: "may-not-write", book: "club", why: "used-elsewhere" },
    { about: "relay-refuses", book: "club", connection: refused },
    { about: "may-not-write", book: "fourth", why: "not-caught-up" },
  ]);
});

test("the device's own trouble comes first and is counted", () => {
  const { north } = clubs("north");
  north.handicapper.joins("moss");
  const desk = { club: { id: north.id, device: north.handicapper.id, state: () => north.state() }, leagues: [] };
  const groups = groupMatters(desk, "2026-06-30", [{ about: "not-met", waiting: 3, days: 9 }]);
  expect(groups.map(({ name }) => name)).toEqual(["device", "starts"]);
  expect(countPressing(groups)).toBe(2);
});
