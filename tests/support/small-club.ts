/**
 * A small club and its league for tests of screens, founded through the real `openBook` at a real relay: a dozen members, a
 * visitor, some sixty games in the days before today, and one of each thing a handicapper has to look at. Everything is invented.
 * Seeds and ids are fixed; days count back from today, so that nothing lies in the future whenever it is run.
 */
import type { Book, Pass, Signer } from "@sward/client";
import { createMemoryDocStore, createMemoryVault, createSigner, openBook, systemRandom } from "@sward/client";
import type { BookId, Day, Draft, FixtureId, Game, KeyId, MatchReported, Occasion, PlayerId, Role } from "@sward/core";
import { cardToSign, handicapInForce } from "@sward/core";
import { base64url } from "jose";
import { openWire } from "../../packages/client/src/wire/wire.ts";
import { until, wireDeps } from "./meeting.ts";

/** Key, full name, short name, starting handicap, and index where it is not the trigger point. */
export const members = [
  ["ada", "Ada Wren", "Ada W.", 7, 1390],
  ["bo", "Bo Linnet", "Bo L.", 9],
  ["cass", "Cass Thorley", "Cass T.", 4],
  ["dov", "Dov Marram", "Dov M.", 11],
  ["edie", "Edie Fennimore", "Edie F.", 2],
  ["finn", "Finn Sallow", "Finn S.", 12],
  ["gwen", "Gwen Ashdown", "Gwen A.", 16],
  ["hal", "Hal Brindle", "Hal B.", -1],
  ["iris", "Iris Copperdale", "Iris C.", 8],
  ["jem", "Jem Holloway", "Jem H.", 14],
  ["kit", "Kit Underlea", "Kit U.", 6],
  ["lou", "Lou Pettifer", "Lou P.", 10],
] as const satisfies readonly (readonly [string, string, string, number, number?])[];

export const visitors = [
  ["vic", "Vic Tarrant", "Vic T.", 5],
  ["wyn", "Wyn Orchard", "Wyn O.", 9],
  ["una", "Una Farrow", "Una F.", 7],
] as const;

const id = (name: string): string =>
  base64url.encode(Uint8Array.from({ length: 16 }, (_, at) => (name.charCodeAt(at % name.length) + at * 11) % 256));
export const player = (name: string): PlayerId => id(name) as PlayerId;

/** Days before a day. */
export const before = (day: Day, days: number): Day =>
  new Date(Date.parse(`${day}T00:00:00Z`) - days * 86_400_000).toISOString().slice(0, 10);

/** A seed or a secret nobody would use. */
const bytes = (fill: number): Uint8Array => Uint8Array.from({ length: 32 }, (_, at) => (fill * 7 + at) % 256);
const seeds = { root: 1, handicapper: 2, recorder: 3, reader: 4, league: 5, millbrook: 6 } as const;
const secrets = { club: bytes(21), league: bytes(22) } as const;

export interface SmallClub {
  readonly today: Day;
  /** For a browser: three devices of the club. */
  readonly passes: Readonly<Record<Role, Pass>>;
  /** The club's root key at its desk, in the club's book: for what happens elsewhere while a browser is looking. */
  readonly root: Book;
  close(): Promise<void>;
}

export async function foundSmallClub(relay: string, today: Day): Promise<SmallClub> {
  const names = Object.keys(seeds) as (keyof typeof seeds)[];
  const made = await Promise.all(names.map(async (name) => [name, await createSigner(bytes(seeds[name]))] as const));
  const signers = Object.fromEntries(made) as Record<keyof typeof seeds, Signer>;
  const clubId = signers.root.id as string as BookId;
  const leagueId = signers.league.id as string as BookId;
  let tick = Date.parse(`${before(today, 1)}T08:00:00Z`);
  const open = async (device: Signer, book: BookId): Promise<Book> => {
    const opened = await openBook({
      book,
      device,
      epochs: [{ epoch: 0, secret: book === clubId ? secrets.club : secrets.league }],
      vault: createMemoryVault(),
      ledgerStore: createMemoryDocStore(),
      rosterStore: createMemoryDocStore(),
      relay: { url: relay, open: openWire, deps: wireDeps },
      clock: {
        today: () => today,
        timestamp: () => {
          tick += 1000;
          return `${new Date(tick).toISOString().slice(0, 19)}Z`;
        },
      },
      randomBytes: systemRandom,
      entriesPerBlock: 200,
    });
    await until("the device may write", () => opened.caughtUp());
    return opened;
  };

  const root = await open(signers.root, clubId);
  await say(root, [
    { kind: "book-opened", body: { root: signers.root.key, as: "club", name: "Thornfield Croquet Club" } },
    { kind: "rules-adopted", body: { rules: "england-2016", from: before(today, 400) } },
    ...(["handicapper", "recorder", "reader"] as const).map(
      (role): Draft => ({ kind: "device-admitted", body: { device: signers[role].key, role } }),
    ),
  ]);
  await peopleJoin(root, today);
  await season(root, today);
  await root.roster.write(
    new Map([
      [signers.root.id, { name: "Ines Calder", short: "Ines C.", device: "the club's own key" }],
      [signers.handicapper.id, { name: "Ines Calder", short: "Ines C.", device: "handicapper's laptop" }],
      [signers.recorder.id, { name: "Rafe Tolland", short: "Rafe T.", device: "pavilion tablet" }],
    ]),
  );

  const recorder = await open(signers.recorder, clubId);
  await until("the recorder is admitted", () => recorder.state().devices.has(recorder.device));
  await differ(root, recorder, today);

  const league = await open(signers.league, leagueId);
  const fixture = id("fixture") as FixtureId;
  await say(league, [
    { kind: "book-opened", body: { root: signers.league.key, as: "league", name: "Three Rivers League" } },
    { kind: "club-admitted", body: { club: signers.root.key, name: "Thornfield" } },
    { kind: "club-admitted", body: { club: signers.millbrook.key, name: "Millbrook" } },
    { kind: "rules-adopted", body: { rules: "england-2016", from: before(today, 400) } },
    fixtureOf(fixture, before(today, 7), signers.root.id, signers.millbrook.id),
  ]);
  const ours = await open(signers.root, leagueId);
  const theirs = await open(signers.millbrook, leagueId);
  for (const book of [ours, theirs]) await until("the league is here", () => book.state().fixtures.size > 0);
  await leagueMatch(ours, theirs, { fixture, day: before(today, 7), clubId, signers });

  const books = [root, recorder, league, ours, theirs];
  await until("the relay has everything", () => books.every((book) => book.waiting() === 0), 30_000);
  await Promise.all([recorder, league, ours, theirs].map((book) => book.close()));
  const pass = (role: Role): Pass => ({
    v: 1,
    label: `Thornfield ${role}`,
    seed: base64url.encode(bytes(seeds[role])),
    club: { book: clubId, epochs: [{ epoch: 0, secret: base64url.encode(secrets.club) }] },
    leagues: [{ book: leagueId, epochs: [{ epoch: 0, secret: base64url.encode(secrets.league) }] }],
  });
  return {
    today,
    passes: { handicapper: pass("handicapper"), recorder: pass("recorder"), reader: pass("reader") },
    root,
    close: () => root.close(),
  };
}

/** One by one: a draft may need what the one before it made true. */
async function say(book: Book, drafts: readonly Draft[]): Promise<void> {
  await until("the relay is met", () => book.caughtUp());
  for (const draft of drafts) {
    const saved = await book.append([draft]);
    if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  }
}

async function peopleJoin(root: Book, today: Day): Promise<void> {
  for (const [key, , , handicap, index] of members) {
    await say(root, [
      { kind: "player-joined", body: { player: player(key), standing: "member" } },
      {
        kind: "handicap-set",
        body: {
          player: player(key),
          handicap,
          ...(index === undefined ? {} : { index }),
          from: before(today, 90),
          basis: "initial",
          reason: "carried over from last season's card",
        },
      },
    ]);
  }
  await say(root, [
    { kind: "player-joined", body: { player: player("moss"), standing: "member" } },
    { kind: "player-joined", body: { player: player("vic"), standing: "visitor", home: { club: "Harrow Green" } } },
  ]);
  const everybody = [...members, ["moss", "Moss Everly", "Moss E."] as const, visitors[0]];
  await root.roster.write(
    new Map(everybody.map(([key, name, short]) => [player(key), { name, short, junior: key === "finn" }])),
  );
}

/** A match off the handicaps in force on its day. */
function between(book: Book, day: Day, sides: string, score: string, more: Partial<MatchReported> = {}): Draft {
  const [one = "", two = ""] = sides.split(" v ");
  const side = (text: string) =>
    text.split("+").map((name) => {
      const card = book.state().cards.get(player(name));
      const known = visitors.find(([key]) => key === name)?.[3] ?? 0;
      return { player: player(name), off: card === undefined ? known : handicapInForce(card, day).handicap };
    });
  const games = score.split(" ").map((text): Game => {
    const [a, b] = text.split("-").map(Number);
    return { score: [a ?? 0, b ?? 0] };
  });
  const occasion: Occasion = "club-competition";
  const body = {
    date: day,
    occasion,
    n: 1,
    play: "handicap",
    format: 13,
    sides: [side(one), side(two)],
    games,
    ...more,
  };
  return { kind: "match-reported", body: body as MatchReported };
}

async function season(root: Book, today: Day): Promise<void> {
  let dice = 7;
  const throwDice = (sides: number): number => {
    dice = (dice * 1_103_515_245 + 12_345) % 2_147_483_648;
    return Math.floor(dice / 65_536) % sides;
  };
  for (let game = 0; game < 48; game++) {
    const day = before(today, 80 - game);
    const one = throwDice(members.length);
    const two = (one + 1 + throwDice(members.length - 1)) % members.length;
    const lost = throwDice(7);
    const sides = `${members[one]![0]} v ${members[two]![0]}`;
    await say(root, [between(root, day, sides, throwDice(2) === 0 ? `7-${lost}` : `${lost}-7`)]);
  }
  const sign = async (name: string, upto: Day): Promise<void> => {
    const signed = cardToSign(root.state().cards.get(player(name))!, upto);
    if (signed !== null) await say(root, [{ kind: "card-signed", body: { player: player(name), ...signed } }]);
  };
  for (const name of ["bo", "cass", "dov", "edie", "gwen", "hal", "iris", "jem"]) await sign(name, before(today, 25));

  const cup = { event: id("harvest") as never, occasion: "calendar-event" as const };
  await say(root, [
    { kind: "event-opened", body: { ...cup, title: "Harvest Cup", from: before(today, 12), to: before(today, 11) } },
    between(root, before(today, 12), "ada v bo", "7-5", { ...cup, start: "10:00" }),
    between(root, before(today, 12), "ada v lou", "7-3", { ...cup, start: "11:30" }),
    between(root, before(today, 11), "cass v ada", "5-7", { ...cup, start: "09:30" }),
    between(root, before(today, 9), "kit v edie", "4-7 7-6 7-2", { play: "level" }),
    between(root, before(today, 9), "ada+bo v cass+dov", "7-4", { occasion: "club-friendly" }),
    between(root, before(today, 8), "vic v iris", "6-7", { occasion: "inter-club-friendly" }),
    between(root, before(today, 6), "finn v lou", "6-5", { games: [{ score: [6, 5], ended: "time" }] }),
    between(root, before(today, 5), "jem v gwen", "7-0", { occasion: "ad-hoc" }),
    // Late, below signatures: the cards are right, but nobody has signed them so.
    between(root, before(today, 40), "iris v dov", "7-6"),
    // Off another handicap than the record says.
    between(root, before(today, 4), "hal v cass", "7-5", {
      play: "level",
      sides: [[{ player: player("hal"), off: -1 }], [{ player: player("cass"), off: 1 }]],
    }),
  ]);
}

/** One match told alike by two devices, and one told differently. */
async function differ(root: Book, recorder: Book, today: Day): Promise<void> {
  await until("the recorder has the cards", () => recorder.state().cards.size === members.length);
  const alike = between(root, before(today, 3), "lou v kit", "7-4");
  await say(root, [alike, between(root, before(today, 2), "bo v finn", "7-6")]);
  await say(recorder, [alike, between(root, before(today, 2), "bo v finn", "6-7")]);
}

const fixtureOf = (fixture: FixtureId, date: Day, home: KeyId, away: KeyId): Draft => ({
  kind: "fixture-set",
  body: {
    fixture,
    date,
    home,
    away,
    slots: Array.from({ length: 3 }, () => ({ discipline: "singles", play: "handicap", format: 13 }) as const),
  },
});

interface LeagueDay {
  readonly fixture: FixtureId;
  readonly day: Day;
  readonly clubId: BookId;
  readonly signers: Readonly<Record<keyof typeof seeds, Signer>>;
}

async function leagueMatch(ours: Book, theirs: Book, { fixture, day, clubId, signers }: LeagueDay): Promise<void> {
  const home = (book: string) => ({ home: { book: book as BookId } });
  await say(ours, [
    ...(["handicapper", "recorder", "reader"] as const).map(
      (role): Draft => ({ kind: "device-admitted", body: { device: signers[role].key, role } }),
    ),
    ...["ada", "cass", "kit"].map(
      (name): Draft => ({
        kind: "player-joined",
        body: { player: player(name), standing: "visitor", ...home(clubId) },
      }),
    ),
  ]);
  await say(theirs, [
    ...["wyn", "una"].map(
      (name): Draft => ({
        kind: "player-joined",
        body: { player: player(name), standing: "visitor", ...home(signers.millbrook.id) },
      }),
    ),
  ]);
  await until("both sides are entered", () => ours.state().players.size === 5 && theirs.state().players.size === 5);
  const inLeague = (shown: readonly (readonly [string, string, string, ...unknown[]])[]) =>
    new Map(shown.map(([key, name, short]) => [player(key), { name, short }]));
  await ours.roster.write(inLeague(members.filter(([key]) => ["ada", "cass", "kit"].includes(key))));
  await theirs.roster.write(inLeague(visitors.slice(1)));
  const slot = (number: number, one: string, two: string, a: number, b: number): Draft => ({
    kind: "match-reported",
    body: {
      date: day,
      occasion: "league",
      slot: { fixture, number },
      n: 1,
      play: "handicap",
      format: 13,
      sides: [
        [{ player: player(one), off: one === "ada" ? 6 : one === "cass" ? 4 : 6 }],
        [{ player: player(two), off: two === "wyn" ? 9 : 7 }],
      ],
      games: [{ score: [a, b] }],
    },
  });
  await say(ours, [slot(1, "ada", "wyn", 7, 4), slot(2, "cass", "una", 7, 5)]);
  await say(theirs, [slot(1, "ada", "wyn", 7, 4), slot(2, "cass", "una", 6, 7), slot(3, "kit", "wyn", 3, 7)]);
}
