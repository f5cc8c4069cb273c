/**
 * Three clubs, a league between two of them, and two relays. North has four devices, South and East two each, the league's own root
 * one; besides, North has a recorder who is not to be trusted (byzantine.ts), and a stranger has come by the secrets of two books.
 */
import type { Book, Signer } from "@sward/client";
import { createSigner } from "@sward/client";
import type { BookId, Draft, EntryId, FixtureId, PlayerId, Role } from "@sward/core";
import type { SimDevice } from "./devices.ts";
import { createDevice } from "./devices.ts";
import type { Dice } from "./dice.ts";
import { createDice } from "./dice.ts";
import type { Happened } from "./happened.ts";
import { createHappened } from "./happened.ts";
import type { Path } from "./network.ts";
import { createPath } from "./network.ts";
import type { SimRelay } from "./relays.ts";
import { createRelay } from "./relays.ts";
import type { Schedule } from "./schedule.ts";
import { createSchedule, dayAt } from "./schedule.ts";

export interface SimBook {
  readonly name: string;
  readonly book: BookId;
  readonly secret: Uint8Array;
  readonly root: Signer;
}

export interface World {
  readonly dice: Dice;
  /** Keys and ids of this story's people. */
  readonly cast: Dice;
  readonly schedule: Schedule;
  readonly happened: Happened;
  readonly relays: readonly SimRelay[];
  readonly devices: readonly SimDevice[];
  /** Devices with nothing of their own that come when it is all over, and see only what is really there. */
  readonly newcomers: readonly SimDevice[];
  readonly books: Readonly<Record<"north" | "south" | "east" | "league", SimBook>>;
  readonly fixtures: readonly FixtureId[];
  /** North's recorder who attacks; nobody's device. */
  readonly mole: Signer;
  /** Admitted nowhere. */
  readonly stranger: Signer;
  path(device: string, relay: number): Path;
  /** Entries of which some device was told that they are on its disk. */
  readonly saved: ReadonlyMap<BookId, ReadonlySet<EntryId>>;
  readonly problems: readonly string[];
  problem(what: string): void;
  device(name: string): SimDevice;
  /** Waits for something that takes simulated time. */
  through<T>(what: string, promise: Promise<T>): Promise<T>;
  until(what: string, holds: () => boolean, within: number): Promise<boolean>;
}

/** So many sets of keys and members are shared by all stories: what one has worked out about them, the next need not. */
const casts = 8;

export async function createWorld(seed: string): Promise<World> {
  const dice = createDice(seed);
  const cast = createDice(`cast ${dice.below(casts)}`);
  const schedule = createSchedule();
  const happened = createHappened();
  const problems: string[] = [];
  const problem = (what: string): void => {
    if (problems.length < 20) problems.push(`[${schedule.now()} ms] ${what}`);
  };
  const signer = (name: string): Promise<Signer> => createSigner(cast.fork(`key of ${name}`).bytes(32));

  const simBook = async (name: string): Promise<SimBook> => {
    const root = await signer(name);
    return { name, book: root.id as string as BookId, secret: cast.fork(`secret of ${name}`).bytes(32), root };
  };
  const books = {
    north: await simBook("north"),
    south: await simBook("south"),
    east: await simBook("east"),
    league: await simBook("league"),
  };
  const { north, south, east, league } = books;
  const relays = ["first", "second"].map((name) => createRelay(name, schedule, happened, dice.fork(`relay ${name}`)));
  const paths = new Map<string, Path>();
  const path = (device: string, relay: number): Path => {
    const name = `${device} ${relay}`;
    const at = relays[relay]!;
    const made =
      paths.get(name) ??
      createPath({ schedule, happened, dice: dice.fork(`path ${name}`), name, answer: at.answer, isUp: at.isUp });
    paths.set(name, made);
    return made;
  };

  // In every third story: a book has gone through several volumes at the end.
  const rolls = dice.fork("volumes");
  const clientsPerVolume = rolls.chance(33) ? rolls.between(3, 7) : undefined;

  const saved = new Map<BookId, Set<EntryId>>();
  const plan = async (name: string, own: Signer | null, ...of: SimBook[]): Promise<SimDevice> =>
    createDevice(
      { name, signer: own ?? (await signer(name)), books: of },
      {
        schedule,
        happened,
        dice: dice.fork(`device ${name}`),
        relays,
        clientsPerVolume,
        pathTo: (relay) => path(name, relay),
        saved: (book, id) => {
          const ids = saved.get(book) ?? new Set();
          saved.set(book, ids.add(id));
        },
        problem,
      },
    );
  const devices = [
    await plan("north root", north.root, north, league),
    await plan("north handicapper", null, north, league),
    await plan("north recorder", null, north),
    await plan("north barred", null, north),
    await plan("south root", south.root, south, league),
    await plan("south recorder", null, south, league),
    await plan("east root", east.root, east),
    await plan("east recorder", null, east),
    await plan("league root", league.root, league),
  ];
  const newcomers = [
    await plan("north newcomer", null, north),
    await plan("south newcomer", null, south),
    await plan("east newcomer", null, east),
    await plan("league newcomer", null, league),
  ];

  return {
    dice,
    cast,
    schedule,
    happened,
    relays,
    devices,
    newcomers,
    books,
    fixtures: ["one", "two", "three"].map((name) => cast.fork(`fixture ${name}`).id() as FixtureId),
    mole: await signer("mole"),
    stranger: await signer("stranger"),
    path,
    saved,
    problems,
    problem,
    device: (name) => [...devices, ...newcomers].find((one) => one.name === name)!,
    async through<T>(what: string, promise: Promise<T>) {
      let out: { readonly value: T } | null = null;
      promise.then(
        (value) => {
          out = { value };
        },
        (cause) => problem(`${what}: ${String(cause)}`),
      );
      for (let waited = 0; out === null; waited += 50) {
        if (waited > 120_000) throw new Error(`${what}: nothing came of it`);
        await schedule.pass(50);
      }
      return (out as { readonly value: T }).value;
    },
    async until(what, holds, within) {
      for (let waited = 0; waited < within; waited += 500) {
        if (holds()) return true;
        await schedule.pass(500);
      }
      if (!holds()) problem(`not within ${within} ms: ${what}`);
      return holds();
    },
  };
}

/** The device's book of that id. */
export const bookOf = (device: SimDevice, { book }: { readonly book: BookId }): Book | undefined =>
  device.desk()?.books.get(book);

const handicaps = [0, 2, 4, 6, 8, 10, 12] as const;

/** Everybody is admitted and has members, and everything has reached the first relay. */
export async function found(world: World): Promise<void> {
  const { books, device } = world;
  const dice = world.cast.fork("founding");
  const { north, south, east, league } = books;
  for (const one of world.devices) one.start();
  await world.until("every desk is open", () => world.devices.every((one) => one.desk() !== null), 60_000);
  const caughtUp = () =>
    world.devices.every((one) => [...(one.desk()?.books.values() ?? [])].every((book) => book.caughtUp()));
  await world.until("everybody has met the relay", caughtUp, 60_000);

  const say = async (name: string, at: SimBook, drafts: readonly Draft[]): Promise<void> => {
    const result = await world.through(`${name} writes`, bookOf(device(name), at)!.append(drafts));
    if (!result.ok) throw new Error(`${name}: ${JSON.stringify(result.fault)}`);
  };
  const club = async (root: string, at: SimBook, admitted: readonly [Signer, Role][]) => {
    await say(root, at, [{ kind: "book-opened", body: { root: at.root.key, as: "club", name: at.name } }]);
    await say(root, at, [
      { kind: "rules-adopted", body: { rules: "england-2016", from: "2026-01-01" } },
      ...admitted.map(([who, role]): Draft => ({ kind: "device-admitted", body: { device: who.key, role } })),
      ...["a", "b", "c", "d"].flatMap((member): Draft[] => {
        const player = playerOf(world, at, member);
        const handicap = dice.pick(handicaps);
        return [
          { kind: "player-joined", body: { player, standing: "member" } },
          { kind: "handicap-set", body: { player, handicap, from: "2026-04-01", basis: "initial", reason: "start" } },
        ];
      }),
    ]);
  };
  await club("north root", north, [
    [device("north handicapper").signer, "handicapper"],
    [device("north recorder").signer, "recorder"],
    [device("north barred").signer, "recorder"],
    [world.mole, "recorder"],
    [device("north newcomer").signer, "reader"],
  ]);
  await club("south root", south, [
    [device("south recorder").signer, "recorder"],
    [device("south newcomer").signer, "reader"],
  ]);
  await club("east root", east, [
    [device("east recorder").signer, "recorder"],
    [device("east newcomer").signer, "reader"],
  ]);

  await say("league root", league, [
    { kind: "book-opened", body: { root: league.root.key, as: "league", name: "league" } },
  ]);
  await say("league root", league, [
    { kind: "rules-adopted", body: { rules: "england-2016", from: "2026-01-01" } },
    { kind: "club-admitted", body: { club: north.root.key, name: "north" } },
    { kind: "club-admitted", body: { club: south.root.key, name: "south" } },
    ...world.fixtures.map(
      (fixture, n): Draft => ({
        kind: "fixture-set",
        body: {
          fixture,
          date: dayAt(0, 10 + n),
          home: n === 1 ? south.root.id : north.root.id,
          away: n === 1 ? north.root.id : south.root.id,
          slots: (["handicap", "level", "handicap"] as const).map((play) => ({
            discipline: "singles",
            play,
            format: 13,
          })),
        },
      }),
    ),
  ]);
  const inLeague = (name: string): boolean => bookOf(device(name), league)?.state().clubs.size === 2;
  await world.until("the clubs know the league", () => inLeague("north root") && inLeague("south root"), 60_000);
  const enter = (at: SimBook, admitted: Signer, role: "handicapper" | "recorder"): Draft[] => [
    { kind: "device-admitted", body: { device: admitted.key, role } },
    ...["a", "b"].map(
      (member): Draft => ({
        kind: "player-joined",
        body: { player: playerOf(world, at, member), standing: "visitor", home: { book: at.book } },
      }),
    ),
  ];
  await say("north root", league, enter(north, device("north handicapper").signer, "handicapper"));
  await say("south root", league, enter(south, device("south recorder").signer, "recorder"));
  await world.schedule.pass(20_000);
}

/** A founding member; `a` and `b` play in the league. */
export const playerOf = (world: World, at: SimBook, member: string): PlayerId =>
  world.cast.fork(`${at.name} member ${member}`).id() as PlayerId;
