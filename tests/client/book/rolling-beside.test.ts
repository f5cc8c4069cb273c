/** A closed volume that is long enough to be read in another thread: what is said in it of the volume itself is found all the same. */

import { afterEach, beforeEach, expect, test } from "vitest";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith } from "../../support/meeting.ts";
import { players, save, visitor } from "./epoch-club.ts";
import type { RollingClub } from "./rolling-club.ts";
import { rollingClub, settled } from "./rolling-club.ts";
import { threadsBeside } from "./threads-beside.ts";

let relay: TestRelay;
let club: RollingClub;
beforeEach(async () => {
  relay = await relayWith();
  club = await rollingClub(relay, { ada: "handicapper", cat: "recorder" });
});
afterEach(async () => {
  await club.close();
  await relay.close();
});

test("a newcomer reads a long closed volume in another thread, and goes on from it", async () => {
  const many = 300;
  const { book: ada } = await club.open("ada", { entriesPerBlock: 1 });
  await settled(ada);
  await save(ada, ...Array.from({ length: many }, (_, n) => visitor(n)));
  await settled(ada);
  club.setYear(2027);
  await save(ada, visitor(many));
  await settled(ada);
  expect((await club.at(relay, 0)).closings).toEqual([2027]);
  expect((await club.at(relay, 1)).entries.size).toBe(1);

  const { reads, read } = threadsBeside();
  const { book: cat, dialled } = await club.open("cat", { readsBeside: () => Promise.resolve(reads) });
  await settled(cat);
  expect(read()).toBeGreaterThan(many);
  expect(players(cat)).toBe(players(ada));
  expect(cat.digest()).toBe(ada.digest());
  expect(dialled.slice(0, 2)).toEqual([await club.room(0), await club.room(1)]);
});
