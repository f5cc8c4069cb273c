/** A ledger that goes on in a fresh document in a new season, or when too many have written into the old one: real sockets and stores. */
import { deriveEpoch, seal, systemRandom } from "@sward/client";
import { afterEach, beforeEach, expect, test } from "vitest";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith } from "../../support/meeting.ts";
import { until } from "../../support/two-clubs.ts";
import { players, save, visitor } from "./epoch-club.ts";
import type { RollingClub } from "./rolling-club.ts";
import { rollingClub, settled } from "./rolling-club.ts";

let relay: TestRelay;
let club: RollingClub;
beforeEach(async () => {
  relay = await relayWith();
  club = await rollingClub(relay, { ada: "handicapper", ben: "recorder", cat: "recorder" });
});
afterEach(async () => {
  await club.close();
  await relay.close();
});

const has = (texts: Set<string>, text: string | undefined): boolean => text !== undefined && texts.has(text);

test("the first who writes in a new season closes the volume, the others follow, and a newcomer reads all of it", async () => {
  const [ada, ben] = [(await club.open("ada")).book, (await club.open("ben")).book];
  await settled(ada);
  await settled(ben);
  const [before] = await save(ada, visitor(1));
  club.setYear(2027);
  const [first] = await save(ada, visitor(2));
  const [second] = await save(ada, visitor(3));
  await until("ben has them", () => players(ben) === "1 2 3");
  await settled(ben);
  const [third] = await save(ben, visitor(4));
  await settled(ben);
  await settled(ada);
  const [old, young] = [await club.at(relay, 0), await club.at(relay, 1)];
  expect(old.closings).toEqual([2027]);
  expect(young.closings).toEqual([]);
  expect([before].every((id) => has(old.entries, ada.signed(id!)))).toBe(true);
  expect([...young.entries].sort()).toEqual([first, second, third].map((id) => ada.signed(id!)).sort());
  expect(old.entries.size + young.entries.size).toBe([...ada.entries()].length);

  const { book: cat, dialled } = await club.open("cat");
  await settled(cat);
  expect(players(cat)).toBe("1 2 3 4");
  expect(cat.digest()).toBe(ada.digest());
  expect(dialled.slice(0, 2)).toEqual([await club.room(0), await club.room(1)]);
});

test("whoever would be one client id too many goes on in the next volume, and a start loads only the last two", async () => {
  const limit = { clientsPerVolume: 3 };
  for (let n = 1; n <= 9; n++) {
    const { book, open } = await club.open("ada", limit);
    await settled(book);
    await save(book, visitor(n));
    await settled(book);
    await until("older ones are let go of", () => open().length <= 2);
    await book.close();
  }
  // Volume 0 has the root's id too: 3 of 3, a fourth that closes it, and so on.
  const volumes = await Promise.all([0, 1, 2, 3].map((volume) => club.at(relay, volume)));
  expect(volumes.map(({ clients }) => clients)).toEqual([4, 4, 4, 1]);
  expect(volumes.map(({ closings }) => closings)).toEqual([[2026], [2026], [2026], []]);

  const { book, loaded, dialled } = await club.open("ada", limit);
  await settled(book);
  expect(players(book)).toBe("1 2 3 4 5 6 7 8 9");
  expect(dialled).toEqual([await club.room(2), await club.room(3)]);
  expect([...loaded.keys()]).toEqual([await club.room(2), await club.room(3)]);
  expect([...loaded.values()].every((bytes) => bytes > 300 && bytes < 10_000)).toBe(true);
  await save(book, visitor(10));
  await settled(book);
  expect((await club.at(relay, 3)).entries.size).toBe(2);
});

test("a volume with an envelope for which no key has come yet stays loaded, and is read like the last two", async () => {
  const { book: first } = await club.open("ada");
  await settled(first);
  await save(first, visitor(1));
  const later = await deriveEpoch(club.book, { epoch: 5, secret: systemRandom(32) });
  await club.put(relay, 0, await seal(club.book, later, ["a text of later"], systemRandom));
  await until("it is there", () => first.connection().type === "live");
  for (const year of [2027, 2028, 2029]) {
    club.setYear(year);
    await save(first, visitor(year - 2020));
    await settled(first);
  }
  await first.close();
  const { book, dialled, open } = await club.open("ada");
  await settled(book);
  const rooms = await Promise.all([0, 2, 3].map(club.room));
  await until("these three", () => JSON.stringify(open()) === JSON.stringify([...rooms].sort()));
  expect(dialled).toContain(rooms[0]);
});

test("what comes into a book of many volumes is heard by whoever is there, as ever, and custody is told rightly", async () => {
  const limit = { clientsPerVolume: 3 };
  for (let n = 1; n <= 6; n++) {
    const { book } = await club.open("ben", limit);
    await settled(book);
    await save(book, visitor(n));
    await settled(book);
    await book.close();
  }
  const [ada, ben] = [(await club.open("ada", limit)).book, (await club.open("ben", limit)).book];
  await settled(ada);
  await settled(ben);
  await save(ada, visitor(7));
  await save(ben, visitor(8));
  await until("both have both", () => [ada, ben].every((book) => players(book) === "1 2 3 4 5 6 7 8"));
  await settled(ada);
  expect([...ada.entries()].every(({ id }) => ada.custody(id) === "relay")).toBe(true);
  ada.goOffline();
  const [own] = await save(ada, visitor(9));
  expect(ada.custody(own!)).toBe("here");
  expect(ada.waiting()).toBe(1);
  ada.goOnline();
  await until("ben hears of it", () => players(ben) === "1 2 3 4 5 6 7 8 9");
});
