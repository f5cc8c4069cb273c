/** A closed volume that is long enough to be read in another thread: what is said in it of the volume itself is found all the same. */

import { openWire } from "@sward/client";
import { afterEach, beforeEach, expect, test } from "vitest";
import type { WireOptions } from "../../../packages/client/src/wire/connection.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith, wireDeps } from "../../support/meeting.ts";
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

test("who has nothing fetches what reads beside before its ledger is asked for; who has a record waits until there is much to read", async () => {
  const { reads } = threadsBeside();
  const dialled: string[] = [];
  const metBy: number[] = [];
  const options = {
    readsBeside: () => {
      metBy.push(dialled.length);
      return Promise.resolve(reads);
    },
    relay: {
      url: relay.origin,
      open: (given: WireOptions) => {
        if (given.room.kind === "ledger") dialled.push(given.room.name);
        return openWire(given);
      },
      deps: wireDeps,
    },
  };
  const { book: cat } = await club.open("cat", options);
  await settled(cat);
  expect(metBy).toEqual([0]);
  await cat.close();
  const { book: again } = await club.open("cat", options);
  await settled(again);
  expect(metBy).toEqual([0]);
});
