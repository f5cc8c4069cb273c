/** Who was away while volumes were closed, who closes one at the same time as somebody else, and who is cut off in the middle of it. */
import type { Book, Vault } from "@sward/client";
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

/** One writes something in each of these seasons; then nobody but he has been there. */
async function seasons(book: Book, years: readonly number[], from: number): Promise<void> {
  for (const [n, year] of years.entries()) {
    club.setYear(year);
    await save(book, visitor(from + n));
    await settled(book);
  }
}

for (const restarted of [false, true]) {
  test(`what somebody writes into a volume that others closed twice over is heard by all (${restarted ? "he was started anew" : "he had gone offline"})`, async () => {
    const { book: first } = await club.open("ben");
    await settled(first);
    first.goOffline();
    await save(first, visitor(50));
    if (restarted) await first.close();

    const { book: writer, open } = await club.open("ada");
    await settled(writer);
    await seasons(writer, [2027, 2028, 2029], 1);
    await until("older ones are let go of", () => open().length === 2);
    await writer.close();
    const { book: ada, dialled } = await club.open("ada");
    await settled(ada);
    expect(dialled).toEqual([await club.room(2), await club.room(3)]);

    let ben = first;
    if (restarted) ben = (await club.open("ben")).book;
    else ben.goOnline();
    await until("ada hears what ben wrote in 2026", () => players(ada) === "1 2 3 50");
    await until("and ben what she did", () => players(ben) === "1 2 3 50");
    await settled(ben);
    expect(dialled).toEqual([await club.room(2), await club.room(3)]);
    expect(ben.digest()).toBe(ada.digest());
    const { book: cat } = await club.open("cat");
    await settled(cat);
    expect(cat.digest()).toBe(ada.digest());
  });
}

test("two who close the same volume at the same time meet in the next", async () => {
  const [ada, ben] = [(await club.open("ada")).book, (await club.open("ben")).book];
  await settled(ada);
  await settled(ben);
  ada.goOffline();
  ben.goOffline();
  club.setYear(2027);
  await save(ada, visitor(1));
  await save(ben, visitor(2));
  ada.goOnline();
  ben.goOnline();
  await until("each has both", () => [ada, ben].every((book) => players(book) === "1 2"));
  await settled(ada);
  await settled(ben);
  expect((await club.at(relay, 0)).closings).toEqual([2027, 2027]);
  expect((await club.at(relay, 1)).entries.size).toBe(2);
  expect((await club.at(relay, 2)).clients).toBe(0);
});

/** From one record on, nothing more gets onto the disk; what was under way is not told of either. */
const dyingAt =
  (isLast: (record: Parameters<Vault["append"]>[0]) => boolean, kept: boolean) =>
  (own: Vault): Vault => {
    let dead = false;
    return {
      ...own,
      async append(record) {
        if (dead) throw new Error("dead");
        dead = isLast(record);
        if (!dead || kept) await own.append(record);
        if (dead) throw new Error("dead");
      },
    };
  };

for (const kept of [true, false]) {
  test(`cut off between closing a volume and writing into the next, with the closing ${kept ? "" : "not "}on the disk: the entry is there`, async () => {
    const { book: before } = await club.open("ada");
    const { book: ben } = await club.open("ben");
    await settled(ben);
    await settled(before);
    await before.close();
    club.setYear(2027);
    const vault = dyingAt(({ closed }) => closed !== undefined, kept);
    const { book: ada } = await club.open("ada", { vault, offline: true });
    await ada.settled();
    await save(ada, visitor(1));
    await ada.settled();
    expect(ada.trouble()?.cause).toContain("dead");
    await ada.close();

    const { book: again } = await club.open("ada");
    await settled(again);
    await until("the others have it", () => players(ben) === "1");
    await save(again, visitor(2));
    await settled(again);
    await until("and what came later", () => players(ben) === "1 2");
    expect((await club.at(relay, 0)).closings.length).toBeGreaterThan(0);
    expect((await club.at(relay, 1)).entries.size).toBeGreaterThan(0);
    expect((await club.at(relay, 1)).closings).toEqual([]);
  });
}

test("a device that lost everything, and is cut off while it reads the volumes, does not take what it has for all of its chain", async () => {
  const { book: ada } = await club.open("ada");
  await settled(ada);
  await seasons(ada, [2027, 2028, 2029], 1);
  await ada.close();
  await club.forget("ada");
  // Has read the first volume and that it is closed, and no more.
  const vault = dyingAt(({ closed }) => closed !== undefined, true);
  const { book: cut } = await club.open("ada", { vault });
  await until("it has died", () => cut.trouble() !== null);
  expect(cut.caughtUp()).toBe(false);
  await cut.close();

  const { book: offline } = await club.open("ada", { offline: true });
  expect([...offline.entries()].length).toBeGreaterThan(0);
  expect(offline.caughtUp()).toBe(false);
  expect((await offline.append([visitor(9)])).ok).toBe(false);
  offline.goOnline();
  await settled(offline);
  expect(players(offline)).toBe("1 2 3");
  await save(offline, visitor(4));
  await settled(offline);
  expect(offline.state().devices.get(offline.device)?.forkedAt).toBe(null);
  await offline.close();
  // From now on it trusts what it has.
  const { book: trusting } = await club.open("ada", { offline: true });
  expect(trusting.caughtUp()).toBe(true);
});
