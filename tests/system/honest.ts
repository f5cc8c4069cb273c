/**
 * What people do at their devices: report matches, now and then wrongly or twice, put right and take back, set handicaps, sign cards,
 * play in the league, carry a file across the lawn. All of it goes through the same calls as the screens make, on what the device
 * knows at the moment; a refusal is an answer like any other, as long as it is one that can be believed.
 */
import type { Book } from "@sward/client";
import type { Draft, EntryId, EntryOf, Game, Kind, Lineup, Match, MatchReported, PlayerId } from "@sward/core";
import { cardToSign, decodeEntry, handicapInForce } from "@sward/core";
import { stateText } from "../support/state-text.ts";
import type { SimDevice } from "./devices.ts";
import type { Dice } from "./dice.ts";
import { dayAt } from "./schedule.ts";
import type { World } from "./world.ts";
import { bookOf, playerOf } from "./world.ts";

/** One thing a person may do; null when there is nothing to do it with. */
type Habit = (at: Moment) => readonly Draft[] | null;

interface Moment {
  readonly world: World;
  readonly device: SimDevice;
  readonly book: Book;
  readonly dice: Dice;
  /** Today by this device's own clock. */
  day(back: number): string;
}

const score = (dice: Dice): Game => {
  const lost = dice.below(7);
  return { score: dice.chance(50) ? [7, lost] : [lost, 7] };
};

function lineup({ book, day, dice }: Moment, player: PlayerId, back: number): Lineup {
  const card = book.state().cards.get(player);
  const off =
    card === undefined ? (book.state().stated.get(player)?.handicap ?? 8) : handicapInForce(card, day(back)).handicap;
  // Now and then somebody plays off what was yesterday's.
  return { player, off: dice.chance(5) ? 6 : off };
}

const report: Habit = (at) => {
  const { book, dice, day } = at;
  const players = dice.shuffled([...book.state().players.keys()].sort());
  if (players.length < 4) return null;
  const back = dice.below(30);
  const pair = dice.chance(20) ? 2 : 1;
  const side = (from: number): Lineup[] => players.slice(from, from + pair).map((player) => lineup(at, player, back));
  const body: MatchReported = {
    date: day(back),
    occasion: dice.pick(["club-competition", "club-friendly", "ad-hoc", "calendar-event"] as const),
    n: dice.between(1, 2),
    play: dice.chance(80) ? "handicap" : "level",
    format: 13,
    sides: [side(0), side(pair)],
    games: dice.chance(20) ? [score(dice), score(dice), score(dice)] : [score(dice)],
  };
  return [{ kind: "match-reported", body }];
};

const again = (match: Match, body: MatchReported, dice: Dice): MatchReported => {
  const told = match.reports[0]!.facts;
  const base: MatchReported = {
    ...body,
    date: told.date,
    occasion: told.occasion,
    play: told.play,
    format: told.format,
    n: match.n,
    sides: [[...told.sides[0]], [...told.sides[1]]],
    games: dice.chance(70) ? [...told.games] : [score(dice)],
  };
  return match.slot === null ? base : { ...base, slot: match.slot };
};

/** Somebody else was there too, and remembers it alike or otherwise. */
const sameMatch: Habit = ({ book, dice, device }) => {
  const others = [...book.state().matches.values()].filter(({ reports }) =>
    reports.every(({ by }) => by !== device.signer.id),
  );
  if (others.length === 0) return null;
  return [{ kind: "match-reported", body: again(dice.pick(others), {} as MatchReported, dice) }];
};

const isOfficer = ({ book, device }: Moment): boolean =>
  ["root", "handicapper"].includes(book.state().devices.get(device.signer.id)?.role ?? "");

/** Entries of a kind that this device may correct. */
function correctable<K extends Kind>(at: Moment, kind: K): EntryOf<K>[] {
  const { book, device } = at;
  const found: EntryOf<K>[] = [];
  for (const { entry, origin } of book.counted()) {
    if (entry.kind !== kind || origin !== book.id) continue;
    if (entry.author === device.signer.id || isOfficer(at)) found.push(entry as unknown as EntryOf<K>);
  }
  return found.sort((a, b) => (a.id < b.id ? -1 : 1));
}

const correct: Habit = (at) => {
  const mine = correctable(at, "match-reported");
  if (mine.length === 0) return null;
  const { id, body } = at.dice.pick(mine);
  return [{ kind: "match-reported", body: { ...body, games: [score(at.dice)], replaces: id } }];
};

const withdraw: Habit = (at) => {
  const mine = correctable(at, "match-reported");
  if (mine.length === 0) return null;
  return [{ kind: "entry-withdrawn", body: { withdraws: at.dice.pick(mine).id, reason: "entered twice" } }];
};

const setHandicap: Habit = (at) => {
  const { book, dice, day } = at;
  const cards = [...book.state().cards.keys()].sort();
  if (!isOfficer(at) || cards.length === 0) return null;
  const settings = correctable(at, "handicap-set");
  const replaces: { replaces?: EntryId } =
    dice.chance(30) && settings.length > 0 ? { replaces: dice.pick(settings).id } : {};
  const body = { player: dice.pick(cards), handicap: dice.pick([1, 3, 5, 7, 9]), from: day(dice.below(20)) };
  return [{ kind: "handicap-set", body: { ...body, basis: "discretionary", reason: "as seen", ...replaces } }];
};

const sign: Habit = (at) => {
  const { book, dice, day } = at;
  const cards = [...book.state().cards.values()];
  if (!isOfficer(at) || cards.length === 0) return null;
  const card = dice.pick(cards);
  const signed = cardToSign(card, day(dice.below(15)));
  return signed === null ? null : [{ kind: "card-signed", body: { player: card.player, ...signed } }];
};

const join: Habit = (at) => {
  const player = at.dice.id() as PlayerId;
  if (!isOfficer(at))
    return [{ kind: "player-joined", body: { player, standing: "visitor", home: { club: "elsewhere" } } }];
  return [
    { kind: "player-joined", body: { player, standing: "member" } },
    { kind: "handicap-set", body: { player, handicap: 10, from: at.day(5), basis: "initial", reason: "new" } },
  ];
};

const settle: Habit = (at) => {
  const held = [...at.book.state().matches.values()].filter(({ status }) => status === "held");
  if (!isOfficer(at) || held.length === 0) return null;
  const match = at.dice.pick(held);
  const accepts = at.dice.chance(80) ? at.dice.pick(match.reports).entry : null;
  return [{ kind: "ruling-made", body: { match: match.key, accepts, reason: "asked both" } }];
};

const arrange: Habit = (at) => {
  if (!isOfficer(at)) return null;
  const { dice, day, book } = at;
  const players = [...book.state().players.keys()].sort();
  return dice.pick<() => Draft[]>([
    () => [{ kind: "policy-set", body: { unconfirmed: dice.pick(["counts", "waits"] as const) } }],
    () => [
      { kind: "rules-adopted", body: { rules: dice.pick(["england-2016", "new-south-wales-2022"]), from: day(3) } },
    ],
    () => [
      {
        kind: "event-opened",
        body: { event: dice.id() as never, title: "cup", occasion: "calendar-event", from: day(9), to: day(7) },
      },
    ],
    () => [{ kind: "player-left", body: { player: dice.pick(players), on: day(1) } }],
    () => [{ kind: "player-linked", body: { player: dice.pick(players), to: dice.pick(players) } }],
  ])();
};

const playInLeague: Habit = (at) => {
  const { world, book, dice } = at;
  if (book.id !== world.books.league.book || book.state().fixtures.size < 3) return null;
  const place = dice.below(3);
  const number = dice.between(1, 3);
  const side = (club: "north" | "south") => [lineup(at, playerOf(world, world.books[club], dice.pick(["a", "b"])), 10)];
  const body: MatchReported = {
    date: dayAt(0, 10 + place),
    occasion: "league",
    slot: { fixture: world.fixtures[place]!, number },
    n: 1,
    play: number === 2 ? "level" : "handicap",
    format: 13,
    sides: [side("north"), side("south")],
    games: [score(dice)],
  };
  return [{ kind: "match-reported", body }];
};

/** What a barred or forked device wrote in good faith is taken over by an officer. */
const adopt: Habit = (at) => {
  const { book, dice, device } = at;
  const barred = at.world.device("north barred").signer.id;
  if (!isOfficer(at) || device.signer.id === barred) return null;
  for (const { id, jws } of dice.shuffled(book.entries())) {
    const decoded = decodeEntry(jws);
    const why = book.state().uncounted.get(id);
    if (!decoded.ok || decoded.value.author !== barred || (why !== "after-bar" && why !== "forked")) continue;
    const key = book.keyOf(barred);
    if (decoded.value.kind !== "match-reported" || key === undefined) continue;
    return [{ kind: "entry-carried", body: { from: book.id, key, entry: jws } }];
  }
  return null;
};

const habits: readonly (readonly [weight: number, name: string, habit: Habit])[] = [
  [30, "reported a match", report],
  [15, "reported a match somebody else reported", sameMatch],
  [12, "corrected a match", correct],
  [5, "took a match back", withdraw],
  [8, "set a handicap", setHandicap],
  [8, "signed a card", sign],
  [4, "had somebody join", join],
  [6, "settled a dispute", settle],
  [4, "arranged something", arrange],
  [20, "reported a league match", playInLeague],
  [25, "adopted what a barred device wrote", adopt],
];
const weights = habits.reduce((sum, [weight]) => sum + weight, 0);

/** Somebody at this device does something. */
export function actHonestly(world: World, device: SimDevice): void {
  const { dice, happened, schedule } = world;
  const open = [...(device.desk()?.books.values() ?? [])];
  if (open.length === 0) return;
  const book = dice.pick(open);
  const day = (back: number): string => dayAt(schedule.now() + device.skew(), back);
  const at: Moment = { world, device, book, dice, day };
  let [name, drafts]: [string, readonly Draft[] | null] = ["", null];
  for (let tries = 0; tries < 5 && drafts === null; tries += 1) {
    let left = dice.below(weights);
    const [, chosen, habit] = habits.find(([weight]) => {
      left -= weight;
      return left < 0;
    })!;
    [name, drafts] = [chosen, habit(at)];
  }
  if (drafts === null) return;
  book.append(drafts).then(
    (result) => {
      if (!result.ok) return judgeRefusal(world, device, name, result.fault);
      happened(name);
      if (device.skew() !== 0) happened("wrote by a wrong clock");
      if (book.connection().type !== "live") happened("wrote without a connection");
    },
    (cause) => world.problem(`${device.name} ${name}: ${String((cause as Error).stack ?? cause)}`),
  );
}

/** What a device may say to an honest person's honest draft. */
const believable = new Set([
  "may-not",
  "future-date",
  "unknown-player",
  "handicap-not-in-table",
  "not-saved",
  "not-caught-up",
]);

function judgeRefusal(world: World, device: SimDevice, name: string, fault: { readonly type: string }): void {
  world.happened(`refused: ${fault.type}`);
  const isBarred = device.name === "north barred";
  const isBeside = device.wasEvicted() && ["forked", "used-elsewhere"].includes(fault.type);
  // Two players of one match may have been found to be one person since.
  const isLinked = fault.type === "bad-match" && JSON.stringify(fault).includes("player-twice");
  if (!believable.has(fault.type) && !isBarred && !isLinked && !isBeside) {
    world.problem(`${device.name} ${name} and was told ${JSON.stringify(fault)}`);
  }
}

/** Somebody looks at every screen. */
export function look(world: World, device: SimDevice): void {
  for (const book of device.desk()?.books.values() ?? []) {
    stateText(book.state());
    for (const { id } of book.entries()) book.custody(id);
    world.happened("looked", 1);
  }
}

/** One device's entries are handed to another in a file. */
export function carryFile(world: World, from: SimDevice, to: SimDevice): void {
  for (const at of Object.values(world.books)) {
    const [one, other] = [bookOf(from, at), bookOf(to, at)];
    if (one === undefined || other === undefined) continue;
    const texts = [...one.entries()].map(({ jws }) => jws);
    other.takeEntries(texts).then(
      (result) => {
        if (result.ok) world.happened("took a file", result.value.added.length > 0 ? 1 : 0);
        else if (result.fault.type !== "not-saved")
          world.problem(`${to.name} refused a file: ${JSON.stringify(result.fault)}`);
      },
      (cause) => world.problem(`${to.name} took a file: ${String((cause as Error).stack ?? cause)}`),
    );
  }
}

/** A name is written down in the roster. */
export function writeName(world: World, device: SimDevice): void {
  const book = world.dice.pick([...(device.desk()?.books.values() ?? [])]);
  const players = [...(book?.state().players.keys() ?? [])].sort();
  const role = book?.state().devices.get(device.signer.id)?.role;
  if (book === undefined || players.length === 0 || role === undefined) return;
  const name = `Player ${world.dice.below(1000)}`;
  book.roster.write(new Map([[world.dice.pick(players), { name, short: name }]])).then(
    () => world.happened("wrote a name"),
    (cause) => {
      if (!/disk/.test(String(cause))) world.problem(`${device.name} wrote a name: ${String(cause)}`);
    },
  );
}

/** North's root bars the device, at the last of its entries that it knows. */
export function barDevice(world: World): void {
  const [root, barred] = [world.device("north root"), world.device("north barred").signer.id];
  const book = bookOf(root, world.books.north);
  const own = [...(book?.entries() ?? [])].flatMap(({ jws }) => {
    const decoded = decodeEntry(jws);
    return decoded.ok && decoded.value.author === barred ? [decoded.value] : [];
  });
  const newest = own.sort((a, b) => b.seq - a.seq)[0];
  const last = newest === undefined ? null : { seq: newest.seq, id: newest.id };
  book?.append([{ kind: "device-barred", body: { device: barred, last } }]).then(
    (result) => {
      if (result.ok) world.happened("barred a device");
    },
    (cause) => world.problem(`bar: ${String(cause)}`),
  );
}
