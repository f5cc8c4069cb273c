/** Volumes and what becomes of the places where they lie: a relay that has lost everything, another relay, and a room that is left. */
import type { Book } from "@sward/client";
import { createMemoryDocStore } from "@sward/client";
import { afterEach, beforeEach, expect, test } from "vitest";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith } from "../../support/meeting.ts";
import { until } from "../../support/two-clubs.ts";
import { barOf, hastyDeps, number, players, save, visitor } from "./epoch-club.ts";
import type { RollingClub } from "./rolling-club.ts";
import { rollingClub, settled } from "./rolling-club.ts";

let relay: TestRelay;
let club: RollingClub;
const relays: TestRelay[] = [];
const another = async (port = 0): Promise<TestRelay> => {
  const made = await relayWith({ port });
  relays.push(made);
  return made;
};
beforeEach(async () => {
  relay = await another();
  club = await rollingClub(relay, { ada: "handicapper", ben: "recorder", cat: "recorder" });
});
afterEach(async () => {
  await club.close();
  for (const one of relays.splice(0)) await one.close();
});

async function seasons(book: Book, years: readonly number[]): Promise<void> {
  for (const year of years) {
    club.setYear(year);
    await save(book, visitor(year - 2020));
    await settled(book);
  }
}

const VOLUMES = [0, 1, 2, 3];
const textsAt = async (at: TestRelay): Promise<string[][]> =>
  Promise.all(VOLUMES.map(async (volume) => [...(await club.at(at, volume)).entries].sort()));
const rooms = (...volumes: number[]): Promise<string[]> => Promise.all(volumes.map(club.room));

for (const stored of [true, false]) {
  test(`a relay with nothing is filled with all volumes, ${stored ? "as they are kept here" : "from the vault alone"}, and then they are let go of`, async () => {
    const { book: first } = await club.open("ada");
    await settled(first);
    await seasons(first, [2026, 2027, 2028, 2029]);
    const before = await textsAt(relay);
    expect(before.map((texts) => texts.length > 0)).toEqual([true, true, true, true]);
    await first.close();

    const empty = await another();
    const nothing = { ledgerStore: createMemoryDocStore(), volumeStore: () => createMemoryDocStore() };
    const { book: ada, open } = await club.open("ada", { relayUrl: empty.origin, ...(stored ? {} : nothing) });
    await settled(ada);
    const after = await textsAt(empty);
    // What was written into the last but one since the last start may lie in the last, where the vault has to say where it was.
    if (stored) expect(after).toEqual(before);
    expect(after.slice(0, 2)).toEqual(before.slice(0, 2));
    expect(after.flat().sort()).toEqual(before.flat().sort());
    const closings = await Promise.all(VOLUMES.map(async (volume) => (await club.at(empty, volume)).closings));
    expect(closings).toEqual([[2027], [2028], [2029], []]);
    const last = (await rooms(2, 3)).sort();
    await until("only the last two are open", () => JSON.stringify(open()) === JSON.stringify(last));
    const { book: cat } = await club.open("cat", { relayUrl: empty.origin });
    await settled(cat);
    expect(cat.digest()).toBe(ada.digest());
  });
}

test("a relay that loses everything under an open book is filled again, old volumes too, and custody says so only then", async () => {
  const { book: ada, dialled, open } = await club.open("ada");
  await settled(ada);
  await seasons(ada, [2026, 2027, 2028, 2029]);
  await until("older ones are let go of", () => open().length === 2);
  const before = await textsAt(relay);
  const first = await club.room(0);
  expect(dialled.filter((room) => room === first).length).toBe(1);
  const { port } = relay;
  await relay.close();
  await until("it is noticed", () => ada.connection().type === "connecting");
  const fresh = await another(port);
  expect(fresh.origin).toBe(relay.origin);
  await until("the first volume is looked at again", () => dialled.filter((room) => room === first).length === 2);
  await settled(ada);
  expect(await textsAt(fresh)).toEqual(before);
  expect([...ada.entries()].every(({ id }) => ada.custody(id) === "relay")).toBe(true);
});

test("two devices that between them have everything fill an empty relay, and each comes to have what the other had", async () => {
  const { book: ada } = await club.open("ada");
  const { book: ben } = await club.open("ben");
  await settled(ada);
  await settled(ben);
  await ben.close();
  await seasons(ada, [2026, 2027, 2028]);
  await ada.close();
  // What ben writes now, in 2026, nobody else has.
  club.setYear(2026);
  const { book: away } = await club.open("ben", { offline: true });
  await save(away, visitor(60));
  await away.close();
  const empty = await another();
  club.setYear(2028);
  const [one, two] = await Promise.all(
    ["ben", "ada"].map((name) => club.open(name, { relayUrl: empty.origin, deps: hastyDeps })),
  );
  await until("both have all", () => [one!, two!].every(({ book }) => players(book) === "6 7 8 60"));
  await settled(one!.book);
  await settled(two!.book);
  const { book: cat } = await club.open("cat", { relayUrl: empty.origin });
  await settled(cat);
  expect(cat.digest()).toBe(two!.book.digest());
});

test("after a bar the book begins again at its first volume in the new room, what was kept of the old is wiped, and who was away finds the way", async () => {
  const { book: late } = await club.open("cat", { deps: hastyDeps });
  const { book: ada, open } = await club.open("ada", { deps: hastyDeps });
  await settled(late);
  await settled(ada);
  await seasons(ada, [2026, 2027]);
  await until("cat is in the second volume", () => players(late) === "6 7");
  late.goOffline();
  await save(late, visitor(61));
  await seasons(ada, [2028, 2029]);
  await save(ada, barOf(ada, club.signers["ben"]!.id));
  await until("moved", () => number(ada) === 1);
  await settled(ada);
  await save(ada, visitor(10));
  await settled(ada);
  const old = await rooms(0, 1, 2, 3);
  const heard = (await rooms(0, 2, 3)).sort();
  await until("at the old rooms, the first and the last are listened to", () => {
    const ears = open().filter((room) => old.includes(room));
    return JSON.stringify(ears) === JSON.stringify(heard);
  });
  // The signposts are where somebody looks who was there last.
  const opening = [...ada.counted()].find(({ entry }) => entry.kind === "epoch-opened")?.entry.id;
  let posts = (await club.at(relay, 3)).entries;
  for (let tries = 0; tries < 100 && !posts.has(ada.signed(opening!) ?? ""); tries++)
    posts = (await club.at(relay, 3)).entries;
  expect(posts.has(ada.signed(opening!) ?? "")).toBe(true);

  late.goOnline();
  await until("there too", () => number(late) === 1 && players(late) === "6 7 8 9 10 61");
  await until("and heard", () => players(ada) === "6 7 8 9 10 61");
  await ada.close();
  expect(await Promise.all(old.slice(1).map((room) => club.rows("ada", room)))).toEqual([0, 0, 0]);
});
