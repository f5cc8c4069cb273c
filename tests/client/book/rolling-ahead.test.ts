/** A newcomer and a book of several volumes: where it goes on is dialled before what says so has been taken in. Real sockets and stores. */
import { setTimeout as sleep } from "node:timers/promises";
import type { DocStore } from "@sward/client";
import { createMemoryDocStore, openWire } from "@sward/client";
import { afterEach, beforeEach, expect, test } from "vitest";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith } from "../../support/meeting.ts";
import { until } from "../../support/two-clubs.ts";
import { players, save, visitor } from "./epoch-club.ts";
import type { OpenOptions, RollingClub } from "./rolling-club.ts";
import { patientDeps, rollingClub, settled } from "./rolling-club.ts";

let relay: TestRelay;
let club: RollingClub;
/** Opens what a test left shut, so that its book can be closed. */
let release: () => void = () => undefined;
beforeEach(async () => {
  relay = await relayWith();
  club = await rollingClub(relay, { ada: "handicapper", cat: "recorder" });
});
afterEach(async () => {
  release();
  await club.close();
  await relay.close();
});

/** One game a season. */
async function seasons(years: readonly number[]): Promise<string> {
  const { book: ada } = await club.open("ada");
  await settled(ada);
  for (const year of years) {
    club.setYear(year);
    await save(ada, visitor(year - 2020));
    await settled(ada);
  }
  return ada.digest();
}

/** Rooms of ledgers in the order in which they are dialled. */
function dialling(): { readonly dialled: string[]; readonly relay: NonNullable<OpenOptions["relay"]> } {
  const dialled: string[] = [];
  return {
    dialled,
    relay: {
      url: relay.origin,
      open(given) {
        if (given.room.kind === "ledger") dialled.push(given.room.name);
        return openWire(given);
      },
      deps: patientDeps,
    },
  };
}

test("the next volume is on its way before the vault has taken in the one before, and each is dialled once", async () => {
  const digest = await seasons([2026, 2027, 2028]);
  const rooms = await Promise.all([0, 1, 2].map(club.room));
  const { dialled, relay: met } = dialling();
  const dialledBy: (readonly string[])[] = [];
  const { book: cat } = await club.open("cat", {
    relay: met,
    vault: (own) => ({
      ...own,
      async append(record) {
        // Not for ever: what was dialled by then is looked at below.
        for (let n = 0; dialledBy.length === 0 && !dialled.includes(rooms[1]!) && n < 200; n++) await sleep(10);
        dialledBy.push([...dialled]);
        return own.append(record);
      },
    }),
  });
  await settled(cat);
  expect(dialledBy[0]!.slice(0, 2)).toEqual(rooms.slice(0, 2));
  expect(dialled).toEqual(rooms);
  expect(players(cat)).toBe("6 7 8");
  expect(cat.digest()).toBe(digest);
});

test("a volume that cannot be opened when it is dialled ahead is gone on to when its turn comes", async () => {
  const digest = await seasons([2026, 2027]);
  let tries = 0;
  const { book: cat } = await club.open("cat", {
    volumeStore: () => {
      const own = createMemoryDocStore();
      return {
        ...own,
        async attach(doc) {
          tries += 1;
          if (tries === 1) throw new Error("the disk is busy");
          return own.attach(doc);
        },
      };
    },
  });
  await settled(cat);
  expect(tries).toBe(2);
  expect(cat.digest()).toBe(digest);
});

/** The second volume's store, which opens when it is told to. */
function gated() {
  const done: string[] = [];
  const released = new Promise<void>((resolve) => {
    release = resolve;
  });
  const own = createMemoryDocStore();
  const store: DocStore = {
    ...own,
    async attach(doc) {
      done.push("asked for");
      await released;
      const attached = await own.attach(doc);
      done.push("opened");
      return attached;
    },
    async close() {
      done.push("closed");
      await own.close();
    },
  };
  return { done, volumeStore: () => store };
}

test("a book that is closed while a volume is being opened ahead leaves nothing of it open", async () => {
  await seasons([2026, 2027]);
  const { done, volumeStore } = gated();
  const { book: cat } = await club.open("cat", {
    volumeStore,
    // So the book does not go on to it either.
    vault: (own) => ({ ...own, append: () => Promise.reject(new Error("no room")) }),
  });
  await until("it is being opened", () => done.includes("asked for"));
  await until("nothing was kept", () => cat.trouble() !== null);
  const closing = cat.close();
  setTimeout(() => release(), 50);
  await closing;
  expect(done).toEqual(["asked for", "opened", "closed"]);
});

test("nobody writes into a volume that is still being opened ahead", async () => {
  await seasons([2026, 2027]);
  const { done, volumeStore } = gated();
  const { book: cat } = await club.open("cat", { volumeStore });
  await until("it is being opened", () => done.includes("asked for"));
  await until("the first is taken in", () => players(cat) === "6");
  await sleep(100);
  expect(cat.connection()).toEqual({ type: "live", synced: false });
  expect(done).toEqual(["asked for"]);
  release();
  await settled(cat);
  await save(cat, visitor(9));
  await settled(cat);
  expect((await club.at(relay, 1)).entries.size).toBe(2);
});
