/**
 * Two invented clubs and their league at a real relay, each with a captain's device that a browser can be, three entered players a
 * side, and one fixture of last week that nobody has reported. Days count back from today.
 */
import type { Book, Pass, Signer } from "@sward/client";
import {
  createMemoryDocStore,
  createMemoryVault,
  createSigner,
  openBook,
  openWire,
  randomId,
  systemRandom,
} from "@sward/client";
import type { BookId, Day, Draft, FixtureId, PlayerId, Role } from "@sward/core";
import { base64url } from "jose";
import { until, wireDeps } from "../support/meeting.ts";
import { before } from "../support/small-club.ts";

interface Key {
  readonly seed: Uint8Array;
  readonly signer: Signer;
}

export interface LeagueClub {
  readonly name: string;
  /** By first name, all entered in the league. */
  readonly players: ReadonlyMap<string, PlayerId>;
  readonly captain: Pass;
  /** The club's record at a desk under Node, by its root key. */
  readonly book: Book;
  readonly root: Signer;
}

export interface LeagueWorld {
  readonly day: Day;
  readonly fixture: FixtureId;
  readonly home: LeagueClub;
  readonly away: LeagueClub;
  /** Both, and the third where there is one. */
  readonly clubs: readonly LeagueClub[];
  /** The league's record, by its root key. */
  readonly league: Book;
  /** A device of the league itself, which may rule. */
  readonly secretary: Pass;
  close(): Promise<void>;
}

const newKey = async (): Promise<Key> => {
  const seed = systemRandom(32);
  return { seed, signer: await createSigner(seed) };
};

const people = {
  Heronsgate: [
    ["Ivo Larch", 8],
    ["Nan Sedge", 5],
    ["Oz Teasel", 12],
  ],
  Withy: [
    ["Pip Rowan", 6],
    ["Quin Alder", 10],
    ["Rae Bramble", 3],
  ],
  Larkfield: [
    ["Uma Sorrel", 7],
    ["Wes Hazel", 9],
    ["Yan Fern", 4],
  ],
} as const;

/**
 * @param captains what the captains' devices are in the league's book; in their clubs' they are handicappers'
 * @param third whether a third club is in the league, with no fixture yet
 */
export async function foundLeagueWorld(
  relay: string,
  today: Day,
  captains: Role = "recorder",
  third = false,
): Promise<LeagueWorld> {
  const day = before(today, 7);
  const fixture = randomId() as FixtureId;
  const leagueRoot = await newKey();
  const leagueSecret = systemRandom(32);
  const secretary = await newKey();
  const open = (signer: Signer, book: BookId, secret: Uint8Array): Promise<Book> =>
    openBook({
      book,
      device: signer,
      epochs: [{ epoch: 1, secret }],
      vault: createMemoryVault(),
      ledgerStore: createMemoryDocStore(),
      rosterStore: createMemoryDocStore(),
      relay: { url: relay, open: openWire, deps: wireDeps },
      clock: { today: () => today, timestamp: () => `${before(today, 30)}T12:00:00Z` },
      randomBytes: systemRandom,
      entriesPerBlock: 200,
    });
  const leagueId = leagueRoot.signer.id as string as BookId;
  const league = await open(leagueRoot.signer, leagueId, leagueSecret);
  await say(league, [
    { kind: "book-opened", body: { root: leagueRoot.signer.key, as: "league", name: "Osier League" } },
  ]);
  await say(league, [
    { kind: "rules-adopted", body: { rules: "england-2016", from: before(today, 400) } },
    admitted(secretary, "handicapper"),
  ]);
  const passTo = ({ seed }: Key, label: string, club: BookId, secret: Uint8Array): Pass => ({
    v: 1,
    label,
    seed: base64url.encode(seed),
    club: { book: club, epochs: [{ epoch: 1, secret: base64url.encode(secret) }] },
    leagues: [{ book: leagueId, epochs: [{ epoch: 1, secret: base64url.encode(leagueSecret) }] }],
  });

  const clubs: LeagueClub[] = [];
  const inLeague: Book[] = [];
  for (const name of third ? (["Heronsgate", "Withy", "Larkfield"] as const) : (["Heronsgate", "Withy"] as const)) {
    const [root, captain, secret] = [await newKey(), await newKey(), systemRandom(32)];
    const id = root.signer.id as string as BookId;
    const book = await open(root.signer, id, secret);
    await say(book, [{ kind: "book-opened", body: { root: root.signer.key, as: "club", name } }]);
    await say(book, [
      { kind: "rules-adopted", body: { rules: "england-2016", from: before(today, 400) } },
      admitted(captain, "handicapper"),
    ]);
    await say(league, [{ kind: "club-admitted", body: { club: root.signer.key, name } }]);
    const ours = await open(root.signer, leagueId, leagueSecret);
    await until(`${name} is in the league`, () => ours.state().clubs.size === clubs.length + 1);
    const players = new Map<string, PlayerId>();
    for (const [full, handicap] of people[name]) {
      const player = randomId() as PlayerId;
      players.set(full.split(" ")[0]!, player);
      const set = { player, handicap, from: before(today, 90), basis: "initial", reason: "start" } as const;
      await say(book, [
        { kind: "player-joined", body: { player, standing: "member" } },
        { kind: "handicap-set", body: set },
      ]);
      const record = new Map([[player, { name: full, short: full.replace(/ (\S)\S*$/, " $1.") }]]);
      await book.roster.write(record);
      await ours.roster.write(record);
      await say(ours, [
        { kind: "player-joined", body: { player, standing: "visitor", home: { book: id } } },
        { kind: "handicap-stated", body: { player, handicap, index: 1000, on: before(today, 20) } },
      ]);
    }
    await say(ours, [admitted(captain, captains)]);
    clubs.push({ name, players, captain: passTo(captain, `${name} captain`, id, secret), book, root: root.signer });
    inLeague.push(ours);
  }
  const [home, away] = clubs as [LeagueClub, LeagueClub];
  const slot = { discipline: "singles", play: "handicap", format: 13 } as const;
  const doubles = { ...slot, discipline: "doubles" } as const;
  const [homeKey, awayKey] = [home, away].map(({ book }) => book.device) as [Book["device"], Book["device"]];
  await say(league, [
    { kind: "fixture-set", body: { fixture, date: day, home: homeKey, away: awayKey, slots: [slot, slot, doubles] } },
  ]);
  const books = [league, ...inLeague, ...clubs.map(({ book }) => book)];
  await until("the relay has everything", () => books.every((book) => book.waiting() === 0));
  await Promise.all(inLeague.map((book) => book.close()));
  // The secretary is in no club: a club's record of its own stands in its place.
  const own = systemRandom(32);
  const secretaryBook = await open(secretary.signer, secretary.signer.id as string as BookId, own);
  await say(secretaryBook, [
    { kind: "book-opened", body: { root: secretary.signer.key, as: "club", name: "Osier League office" } },
  ]);
  await until("the office has a record", () => secretaryBook.waiting() === 0);
  await secretaryBook.close();
  return {
    day,
    fixture,
    home,
    away,
    clubs,
    league,
    secretary: passTo(secretary, "League secretary", secretary.signer.id as string as BookId, own),
    async close() {
      await Promise.all([league, ...clubs.map(({ book }) => book)].map((book) => book.close()));
    },
  };
}

const admitted = ({ signer }: Key, role: Role): Draft => ({
  kind: "device-admitted",
  body: { device: signer.key, role },
});

async function say(book: Book, drafts: readonly Draft[]): Promise<void> {
  await until("the relay is met", () => book.caughtUp());
  for (const draft of drafts) {
    const saved = await book.append([draft]);
    if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  }
}
