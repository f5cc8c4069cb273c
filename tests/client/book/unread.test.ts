/**
 * A device whose storage was lost reads the club's record anew, and is ended before it has read all of it. What its vault has then is
 * some of its chain: to go on with that would fork it, and what a forked device writes does not count. A real relay.
 */
import { setTimeout as sleep } from "node:timers/promises";
import type { Book, Vault } from "@sward/client";
import { openWire } from "@sward/client";
import { afterEach, beforeEach, expect, test } from "vitest";
import { openMovingBook } from "../../../packages/client/src/book/moving-book.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith, wireDeps } from "../../support/meeting.ts";
import { forgetful, optionsFor, until } from "../../support/two-clubs.ts";
import type { EpochClub } from "./epoch-club.ts";
import { barOf, epochClub, hastyDeps, number, players, ready, save, visitor } from "./epoch-club.ts";

let relay: TestRelay;
const open = new Set<Book>();
beforeEach(async () => {
  relay = await relayWith();
});
afterEach(async () => {
  for (const book of open) await book.close();
  open.clear();
  await relay.close();
});

async function opened(opening: Promise<Book>): Promise<Book> {
  const book = await opening;
  open.add(book);
  return book;
}

async function closed(book: Book): Promise<void> {
  open.delete(book);
  await book.close();
}

/** The same device with nothing but its pass, each time with what it has kept since. */
function anew(club: EpochClub, name: string, storage = forgetful()) {
  const own = optionsFor(club.book, club.devices[name]!.signer, relay.origin, storage);
  return (how: Partial<Parameters<typeof openMovingBook>[0]> = {}): Promise<Book> =>
    opened(openMovingBook({ ...own, relay: { url: relay.origin, open: openWire, deps: hastyDeps }, ...how }));
}

const offline = async (opening: Promise<Book>): Promise<Book> => {
  const book = await opening;
  book.goOffline();
  return book;
};

/** May not write on what it has; may when it has met the relay, and from then on without it too. */
async function goesOn(again: ReturnType<typeof anew>, before: string): Promise<void> {
  const away = await offline(again());
  await away.settled();
  expect(away.held()).toBeGreaterThan(0);
  expect(away.caughtUp()).toBe(false);
  expect(await away.append([visitor(99)])).toEqual({ ok: false, fault: { type: "not-caught-up" } });
  away.goOnline();
  await ready(away);
  await until("all is here", () => players(away) === before);
  await save(away, visitor(98));
  await ready(away);
  expect(away.state().devices.get(away.device)?.forkedAt).toBe(null);
  await closed(away);
  const later = await offline(again());
  expect(later.caughtUp()).toBe(true);
  await save(later, visitor(99));
  await closed(later);
}

test("ended after its first write: nothing is written before all has been read", async () => {
  const club = await epochClub(relay, { ada: "handicapper" });
  const before = await opened(club.open("ada"));
  await ready(before);
  // So many that the vault is given them in two.
  await save(before, ...Array.from({ length: 1_100 }, () => visitor(7)));
  await save(before, visitor(8));
  await ready(before);
  await closed(before);

  const storage = forgetful();
  const again = anew(club, "ada", storage);
  let writes = 0;
  const vault: Vault = {
    ...storage.vault,
    async append(record) {
      writes += 1;
      if (writes > 1) throw new Error("the battery is empty");
      await storage.vault.append(record);
    },
  };
  const cut = await again({ vault });
  await until("it has ended", () => cut.trouble() !== null);
  expect(cut.caughtUp()).toBe(false);
  // Some of its chain is there, and not all.
  expect(cut.held()).toBeGreaterThan(500);
  await closed(cut);
  await goesOn(again, "7 8");
});

test("given the record as a file before it has met the relay: nothing is written before it has", async () => {
  const club = await epochClub(relay, { ada: "handicapper" });
  const before = await opened(club.open("ada"));
  await ready(before);
  await save(before, visitor(1));
  const file = [...before.entries()].map(({ jws }) => jws);
  await save(before, visitor(2));
  await ready(before);
  await closed(before);

  const again = anew(club, "ada");
  const away = await offline(again());
  expect(await away.takeEntries(file)).toMatchObject({ ok: true });
  expect(away.caughtUp()).toBe(false);
  await closed(away);
  await goesOn(again, "1 2");
});

test("a vault that will not take it that all was read is not asked over and over, and the next start reads first again", async () => {
  const club = await epochClub(relay, { ada: "handicapper" });
  const before = await opened(club.open("ada"));
  await ready(before);
  await save(before, visitor(1));
  await ready(before);
  await closed(before);

  const storage = forgetful();
  const again = anew(club, "ada", storage);
  let refused = 0;
  const vault: Vault = {
    ...storage.vault,
    append(record) {
      if (record.unread !== false) return storage.vault.append(record);
      refused += 1;
      return Promise.reject(new Error("no room"));
    },
  };
  const full = await again({ vault });
  await until("it has been asked", () => refused > 0);
  await ready(full);
  await sleep(300);
  // Once, and with whatever else came about.
  expect(refused).toBeLessThan(30);
  await closed(full);
  await goesOn(again, "1");
});

test("ended when it has read the room that the club left, and has not gone on to the next: nothing is written before it has", async () => {
  const club = await epochClub(relay, { ada: "handicapper", ben: "recorder" });
  const before = await opened(club.open("ada"));
  await ready(before);
  await save(before, visitor(1), barOf(before, club.keyId("ben")));
  await until("the club has moved", () => number(before) === 1 && before.lock().due === null);
  await save(before, visitor(2));
  await ready(before);
  await closed(before);

  const again = anew(club, "ada");
  // It would go on some moments later.
  const deps = {
    ...wireDeps,
    setTimeout: (run: () => void, after: number) => (after > 1_000 ? null : setTimeout(run, after)),
  };
  const cut = await again({ relay: { url: relay.origin, open: openWire, deps } });
  await until("it knows where to", () => cut.lock().moving);
  expect([number(cut), cut.caughtUp()]).toEqual([0, false]);
  await closed(cut);
  await goesOn(again, "1 2");
});
