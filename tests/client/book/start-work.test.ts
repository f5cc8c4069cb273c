/** What a start goes through of a long record, counted and not timed: it must not make something for each entry only to look at it. */
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { KeptEntry } from "../../../packages/client/src/book/kept-entry.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith } from "../../support/meeting.ts";
import { save, visitor } from "./epoch-club.ts";
import type { RollingClub } from "./rolling-club.ts";
import { rollingClub, settled } from "./rolling-club.ts";

let relay: TestRelay;
let club: RollingClub;
beforeEach(async () => {
  relay = await relayWith();
  club = await rollingClub(relay, { ada: "handicapper" });
});
afterEach(async () => {
  vi.restoreAllMocks();
  await club.close();
  await relay.close();
});

/** Places put together from the opening until everything is in step and it is known that nothing waits. */
async function placesMade(entries: number): Promise<number> {
  const { book: before } = await club.open("ada");
  await settled(before);
  await save(before, ...Array.from({ length: entries }, () => visitor(7)));
  await settled(before);
  await before.close();
  // Where they lie is found by the next start, and kept.
  const { book: finding } = await club.open("ada");
  await settled(finding);
  await finding.close();
  const made = vi.spyOn(KeptEntry.prototype, "place", "get");
  const { book } = await club.open("ada");
  await settled(book);
  expect(book.unstored().size).toBe(0);
  await book.settled();
  await book.close();
  const count = made.mock.calls.length;
  made.mockRestore();
  return count;
}

test("a start in step puts no place together: of the season that is written in, and with one before it", async () => {
  expect(await placesMade(100)).toBe(0);
  club.setYear(2027);
  expect(await placesMade(10)).toBe(0);
});
