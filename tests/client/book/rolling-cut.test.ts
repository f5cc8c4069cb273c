/**
 * A first join of a book of several volumes is cut short after each write of the vault in turn, as by a phone whose battery ends; the
 * documents are as they were then, or lost too. The next start finds everything all the same, and goes on in the last volume. The first
 * season is so long that entries of later ones are in the vault before it knows of any that it is closed.
 */
import type { Vault } from "@sward/client";
import type { Draft, PlayerId } from "@sward/core";
import { afterEach, beforeEach, expect, test } from "vitest";
import type * as Y from "yjs";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith } from "../../support/meeting.ts";
import { until } from "../../support/two-clubs.ts";
import { save, visitor } from "./epoch-club.ts";
import type { OpenOptions, RollingClub } from "./rolling-club.ts";
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

/** Entries of each season. The vault is given a thousand at a time. */
const SEASONS: Readonly<Record<number, number>> = { 2026: 1_600, 2027: 700, 2028: 20 };

function visitors(year: number): Draft[] {
  return Array.from({ length: SEASONS[year] ?? 0 }, (_, n) => {
    const bytes = Buffer.alloc(16);
    bytes.writeUInt32BE(year, 0);
    bytes.writeUInt32BE(n, 4);
    return { kind: "player-joined", body: { player: bytes.toString("base64url") as PlayerId, standing: "visitor" } };
  });
}

async function seasons(): Promise<string> {
  const { book: ada } = await club.open("ada");
  await settled(ada);
  for (const year of Object.keys(SEASONS).map(Number)) {
    club.setYear(year);
    await save(ada, ...visitors(year));
    await settled(ada);
  }
  const digest = ada.digest();
  await ada.close();
  return digest;
}

/** As a page reads, which has a worker: what comes of later volumes meanwhile is read in the same go. */
const readsBeside: OpenOptions["readsBeside"] = () => Promise.resolve(threadsBeside(() => undefined).reads);

/** What a vault has been given. */
interface Given {
  writes: number;
  volumes: number;
  closings: number;
}

/** Takes so many records and no more; the first of them when the next volume has come from the relay. */
function battery(most: number) {
  const documents = new Map<string, Y.Doc>();
  const hasNext = (): boolean => [...documents].some(([of, doc]) => of !== "" && doc.store.clients.size > 0);
  const given: Given = { writes: 0, volumes: 0, closings: 0 };
  const vault = (own: Vault): Vault => ({
    ...own,
    async append(record) {
      if (given.writes === 0) await until("the next volume comes", hasNext);
      if (given.writes === most) throw new Error("the battery is empty");
      await own.append(record);
      given.writes += 1;
      for (const { place } of record.entries) given.volumes = Math.max(given.volumes, 1 + (place?.volume ?? 0));
      given.closings = record.closed?.length ?? given.closings;
    },
  });
  return { given, vault, documents };
}

test.each([
  { where: "are there", lose: async () => undefined },
  { where: "are lost", lose: () => club.forgetDocuments("cat") },
])(
  "whichever write was the last, the next start has all volumes and writes into the last; documents $where",
  async ({ lose }) => {
    const digest = await seasons();
    const cuts: Given[] = [];
    for (let isWhole = false; !isWhole; ) {
      const { given, ...on } = battery(cuts.length);
      const { book: joining } = await club.open("cat", { ...on, readsBeside });
      await until("it is cut short, or has all", () => {
        isWhole = joining.trouble() === null && joining.digest() === digest && joining.caughtUp();
        return isWhole || joining.trouble() !== null;
      });
      if (isWhole) await settled(joining);
      await joining.close();
      await lose();
      cuts.push(given);
      const { book: cat } = await club.open("cat");
      await settled(cat);
      expect(cat.digest()).toBe(digest);
      await cat.close();
      if (!isWhole) await club.forget("cat");
    }
    // Else nothing was cut where it matters.
    expect(cuts.some(({ volumes, closings }) => volumes > 1 && closings === 0)).toBe(true);
    const { book: cat } = await club.open("cat");
    await settled(cat);
    const last = Object.keys(SEASONS).length - 1;
    const before = (await club.at(relay, last)).entries.size;
    await save(cat, visitor(1));
    await settled(cat);
    expect((await club.at(relay, last)).entries.size).toBe(before + 1);
  },
  120_000,
);
