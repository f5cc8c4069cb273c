/** How many entries wait for the relay changes without any entry being new: whoever shows it is told of that too. */
import { afterEach, beforeEach, expect, test } from "vitest";
import { createMemoryDocStore } from "../../../packages/client/src/book/doc-store.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith } from "../../support/meeting.ts";
import { save, visitor } from "./epoch-club.ts";
import type { RollingClub } from "./rolling-club.ts";
import { rollingClub, settled } from "./rolling-club.ts";

let relay: TestRelay;
let club: RollingClub;
beforeEach(async () => {
  relay = await relayWith();
  club = await rollingClub(relay, { ben: "recorder" });
});
afterEach(async () => {
  await club.close();
  await relay.close();
});

test("a device finds at the relay what it wrote before it was started again: it says that nothing waits, and tells so", async () => {
  const { book: before } = await club.open("ben", { ledgerStore: createMemoryDocStore() });
  await settled(before);
  await save(before, visitor(1), visitor(2));
  await settled(before);
  await before.close();

  const { book } = await club.open("ben", { ledgerStore: createMemoryDocStore() });
  let told = book.waiting();
  expect(told).toBeGreaterThan(0);
  book.subscribe(() => {
    told = book.waiting();
  });
  await settled(book);
  await book.settled();
  expect(told).toBe(0);
});
