/**
 * Two clubs and their league with real keys, vaults and documents, meeting at a real relay: north and south each have a
 * handicapper's device, two members, and play in one league. For tests that follow a match from one club to the other.
 */
import { randomBytes } from "node:crypto";
import type { BookOptions, Desk, DocStore, Signer, Vault } from "@sward/client";
import { createMemoryDocStore, createMemoryVault, createSigner, openBook, openDesk, openWire } from "@sward/client";
import type { BookId, Day, Draft, EntryId, FixtureId, Lineup, MatchReported, PlayerId } from "@sward/core";
import { until, wireDeps } from "./meeting.ts";

export const TODAY: Day = "2026-08-20";

const bytes = (count: number): Uint8Array => new Uint8Array(randomBytes(count));
const id16 = (): string => Buffer.from(bytes(16)).toString("base64url");

export interface Storage {
  readonly vault: Vault;
  readonly ledgerStore: DocStore;
  readonly rosterStore: DocStore;
}

export const forgetful = (): Storage => ({
  vault: createMemoryVault(),
  ledgerStore: createMemoryDocStore(),
  rosterStore: createMemoryDocStore(),
});

export interface TestBook {
  readonly book: BookId;
  readonly root: Signer;
  readonly secret: Uint8Array;
}

export interface TestClub {
  readonly name: string;
  readonly book: TestBook;
  readonly device: Signer;
  readonly players: readonly [PlayerId, PlayerId];
}

export interface World {
  readonly league: TestBook;
  readonly fixture: FixtureId;
  readonly north: TestClub;
  readonly south: TestClub;
}

export function optionsFor(
  { book, secret }: TestBook,
  device: Signer,
  relay: string | null,
  storage: Storage = forgetful(),
): BookOptions {
  return {
    book,
    device,
    epochs: [{ epoch: 0, secret }],
    ...storage,
    relay: relay === null ? null : { url: relay, open: openWire, deps: wireDeps },
    clock: { timestamp: () => `${TODAY}T10:00:00Z`, today: () => TODAY },
    randomBytes: bytes,
    entriesPerBlock: 50,
  };
}

async function testBook(): Promise<TestBook> {
  const root = await createSigner(bytes(32));
  return { book: root.id as string as BookId, root, secret: bytes(32) };
}

async function testClub(name: string): Promise<TestClub> {
  const players = [id16() as PlayerId, id16() as PlayerId] as const;
  return { name, book: await testBook(), device: await createSigner(bytes(32)), players };
}

const handicaps = [8, 5] as const;

/** Writes the opening entries of all three books at the relay, by their roots, and goes away again. */
export async function foundWorld(relay: string): Promise<World> {
  const [league, north, south] = [await testBook(), await testClub("north"), await testClub("south")];
  const fixture = id16() as FixtureId;
  for (const { name, book, device, players } of [north, south]) {
    await writeOnce(book, book.root, relay, [{ kind: "book-opened", body: { root: book.root.key, as: "club", name } }]);
    await writeOnce(book, book.root, relay, [
      { kind: "rules-adopted", body: { rules: "england-2016", from: "2026-01-01" } },
      { kind: "device-admitted", body: { device: device.key, role: "handicapper" } },
      ...players.flatMap((player, n): Draft[] => [
        { kind: "player-joined", body: { player, standing: "member" } },
        {
          kind: "handicap-set",
          body: { player, handicap: handicaps[n] ?? 8, from: "2026-04-01", basis: "initial", reason: "start" },
        },
      ]),
    ]);
  }
  await writeOnce(league, league.root, relay, [
    { kind: "book-opened", body: { root: league.root.key, as: "league", name: "league" } },
  ]);
  await writeOnce(league, league.root, relay, [
    { kind: "rules-adopted", body: { rules: "england-2016", from: "2026-01-01" } },
    ...[north, south].map(({ name, book }): Draft => ({ kind: "club-admitted", body: { club: book.root.key, name } })),
    {
      kind: "fixture-set",
      body: {
        fixture,
        date: "2026-08-15",
        home: north.book.root.id,
        away: south.book.root.id,
        slots: [
          { discipline: "singles", play: "handicap", format: 13 },
          { discipline: "singles", play: "level", format: 13 },
        ],
      },
    },
  ]);
  for (const { book, device, players } of [north, south]) {
    await writeOnce(league, book.root, relay, [
      { kind: "device-admitted", body: { device: device.key, role: "handicapper" } },
      ...players.map(
        (player): Draft => ({
          kind: "player-joined",
          body: { player, standing: "visitor", home: { book: book.book } },
        }),
      ),
    ]);
  }
  return { league, fixture, north, south };
}

async function writeOnce(to: TestBook, author: Signer, relay: string, drafts: readonly Draft[]): Promise<void> {
  const book = await openBook(optionsFor(to, author, relay));
  const opens = drafts[0]?.kind === "book-opened";
  await until(`${author.id} may write`, () => book.caughtUp() && (opens || book.state().devices.has(author.id)));
  const saved = await book.append(drafts);
  if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  await until("stored", () => saved.value.every((id) => book.custody(id) === "relay"));
  await book.close();
}

export interface Storages {
  readonly club: Storage;
  readonly league: Storage;
}

export const deskOf = (world: World, club: TestClub, relay: string | null, storages?: Storages): Promise<Desk> =>
  openDesk({
    club: optionsFor(club.book, club.device, relay, storages?.club),
    leagues: [optionsFor(world.league, club.device, relay, storages?.league)],
  });

export { until };

/** North's first player against south's first, in the fixture's first slot, north's score first. */
export function leagueMatch(world: World, score: [number, number], more: Partial<MatchReported> = {}): Draft {
  const lineup = (club: TestClub): Lineup[] => [{ player: club.players[0], off: handicaps[0] }];
  return {
    kind: "match-reported",
    body: {
      date: "2026-08-15",
      occasion: "league",
      slot: { fixture: world.fixture, number: 1 },
      n: 1,
      play: "handicap",
      format: 13,
      sides: [lineup(world.north), lineup(world.south)],
      games: [{ score }],
      ...more,
    },
  };
}

/** The club's two members against each other. */
export function clubMatch(club: TestClub, date: Day, score: [number, number], n = 1): Draft {
  const [one, two] = club.players;
  return {
    kind: "match-reported",
    body: {
      date,
      occasion: "club-competition",
      n,
      play: "handicap",
      format: 13,
      sides: [[{ player: one, off: handicaps[0] }], [{ player: two, off: handicaps[1] }]],
      games: [{ score }],
    },
  };
}

/** Saves, or fails the test. */
export async function saved(book: Desk["club"], ...drafts: Draft[]): Promise<readonly EntryId[]> {
  const result = await book.append(drafts);
  if (!result.ok) throw new Error(JSON.stringify(result.fault));
  return result.value;
}
