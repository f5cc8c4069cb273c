/** A book that goes on under a new secret after a bar: real keys, sockets and relay; vaults in memory that outlive a restart. */
import type { Book } from "@sward/client";
import { openBook } from "@sward/client";
import { afterEach, beforeEach, expect, test } from "vitest";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith } from "../../support/meeting.ts";
import { forgetful, optionsFor, until } from "../../support/two-clubs.ts";
import { barOf, epochClub, number, playerOf, players, ready, save, visitor } from "./epoch-club.ts";

let relay: TestRelay;
const open: Book[] = [];
beforeEach(async () => {
  relay = await relayWith();
});
afterEach(async () => {
  for (const book of open.splice(0)) await book.close();
  await relay.close();
});
const kept = async (book: Promise<Book>): Promise<Book> => {
  const opened = await book;
  open.push(opened);
  await ready(opened);
  return opened;
};

test("after a bar the others go on in a new room; the barred device, with the old secret, sees nothing written since", async () => {
  const club = await epochClub(relay, { ada: "handicapper", ben: "recorder", cat: "recorder" });
  const [ada, ben, cat] = [await kept(club.open("ada")), await kept(club.open("ben")), await kept(club.open("cat"))];
  await save(ben, visitor(1));
  await save(cat, visitor(2));
  await until("all have both", () => [ada, ben, cat].every((book) => players(book) === "1 2"));
  await save(ada, barOf(ada, ben.device));
  await until("both have moved", () => number(ada) === 1 && number(cat) === 1);
  await until("in step", () => [ada, cat].every((book) => book.caughtUp() && book.waiting() === 0));
  expect(ada.lock()).toMatchObject({ number: 1, due: null, owed: [], moving: false });
  await save(ada, visitor(3));
  await save(cat, visitor(4));
  await until("they hear each other", () => players(ada) === "1 2 3 4" && players(cat) === "1 2 3 4");
  expect(ada.digest()).toBe(cat.digest());

  // The barred device, and whoever has its secret and a fresh vault, has the bar and the opening, and nothing after.
  await until("the barred one knows", () => ben.state().devices.get(ben.device)?.barred === true);
  const thief = await openBook(optionsFor(club.book, club.devices.ben!.signer, relay.origin, forgetful()));
  open.push(thief);
  await until("it has read the old room", () => thief.caughtUp());
  await save(ada, visitor(5));
  await until("stored", () => ada.waiting() === 0);
  await new Promise((done) => setTimeout(done, 300));
  for (const book of [ben, thief]) {
    expect(players(book)).toBe("1 2");
    expect(number(book)).toBe(0);
  }
  const opening = [...ben.counted()].find(({ entry }) => entry.kind === "epoch-opened")?.entry;
  const boxes = opening?.kind === "epoch-opened" ? opening.body.boxes : [];
  expect(boxes.map(({ to }) => to).sort()).toEqual([club.book.root.id, ada.device, cat.device].sort());
  const signer = club.devices.ben!.signer;
  expect(await Promise.all(boxes.map(({ box }) => signer.unseal(box)))).toEqual([null, null, null]);
});

test("an honest device that was away finds the new room from the old one, and what it wrote meanwhile arrives", async () => {
  const club = await epochClub(relay, { ada: "handicapper", ben: "recorder", cat: "recorder" });
  const ada = await kept(club.open("ada"));
  const cat = await kept(club.open("cat"));
  cat.goOffline();
  await save(cat, visitor(2));
  await cat.roster.write(new Map([[playerOf(2), { name: "Visiting Two", short: "V. Two" }]]));
  await save(ada, barOf(ada, club.keyId("ben")));
  await until("moved", () => number(ada) === 1);
  await save(ada, visitor(1));
  await until("stored", () => ada.waiting() === 0);
  await cat.close();
  open.splice(open.indexOf(cat), 1);

  const again = await kept(club.open("cat"));
  await until("there too", () => number(again) === 1 && players(again) === "1 2" && again.waiting() === 0);
  await until("and heard", () => players(ada) === "1 2");
  await until("the name as well", () => ada.roster.get(playerOf(2))?.short === "V. Two");
  // It stays there after a restart, without asking the old room.
  await again.close();
  open.splice(open.indexOf(again), 1);
  const third = await club.open("cat", { relay: null });
  expect(number(third)).toBe(1);
  expect(players(third)).toBe("1 2");
  await third.close();
});

test("what an honest device still sends into the old room is carried over by whoever listens there", async () => {
  const club = await epochClub(relay, { ada: "handicapper", ben: "recorder", cat: "recorder" });
  const ada = await kept(club.open("ada"));
  await save(ada, barOf(ada, club.keyId("ben")));
  await until("moved", () => number(ada) === 1 && ada.waiting() === 0);
  // A device of an older version: it knows of no epochs and writes on where it is.
  const old = await kept(openBook(club.options("cat")));
  await save(old, visitor(7));
  await until("it is carried over", () => players(ada) === "7" && ada.waiting() === 0);
  const late = await kept(club.open("root"));
  await until("and lies in the new room", () => number(late) === 1 && players(late) === "7");
  // The barred device's own are carried too, and do not count.
  const ben = await kept(openBook(club.options("ben")));
  const jws = await club.devices.ben!.signer.signEntry({
    v: 1,
    book: club.book.book,
    seq: 0,
    prev: null,
    at: "2026-08-20T09:00:00Z",
    kind: "player-joined",
    body: visitor(9).body as Record<string, unknown>,
  });
  expect((await ben.takeEntries([jws])).ok).toBe(true);
  await until("it is in quarantine", () => [...late.state().uncounted.values()].includes("after-bar"));
  expect(players(late)).toBe("7");
});

test("two handicappers bar two devices apart from each other: one room in the end, and neither barred device is in it", async () => {
  const club = await epochClub(relay, { ada: "handicapper", bea: "handicapper", ben: "recorder", cat: "recorder" });
  const [ada, bea] = [await kept(club.open("ada")), await kept(club.open("bea"))];
  ada.goOffline();
  bea.goOffline();
  await save(ada, barOf(ada, club.keyId("ben")));
  await save(bea, barOf(bea, club.keyId("cat")));
  await until("each has its own", () => number(ada) === 1 && number(bea) === 1);
  await save(ada, visitor(1));
  await save(bea, visitor(2));
  ada.goOnline();
  bea.goOnline();
  await until("one epoch for both", () => number(ada) >= 2 && number(bea) === number(ada), 20_000);
  await until("settled", () => [ada, bea].every((one) => one.lock().due === null && one.waiting() === 0), 20_000);
  await until("all is in both", () => players(ada) === "1 2" && players(bea) === "1 2");
  // What either did about the epochs comes by itself, before or after the players.
  await until("the same record in both", () => ada.digest() === bea.digest());
  for (const name of ["ben", "cat"]) {
    const barred = await openBook(club.options(name));
    open.push(barred);
    await until("it has read", () => barred.caughtUp());
    await new Promise((done) => setTimeout(done, 200));
    expect(players(barred)).toBe("");
  }
  // Roots and newcomers come to the same room, from the words' one.
  const root = await kept(club.open("root", forgetful()));
  await until("the root too", () => number(root) === number(ada) && players(root) === "1 2", 20_000);
});
