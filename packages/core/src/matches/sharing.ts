/**
 * What many matches say alike is one object in memory: a player off a handicap, a score, a day. Every text that is decoded makes
 * strings and lists of its own, and a season repeats the same few; shared, a match of 30,000 takes a third of what it takes alone.
 * Nothing that is shared is ever changed, and whoever reads a match cannot tell.
 *
 * Rejected: columns of numbers in place of objects (a third smaller again, and every reader of a match would have to go through
 * something that makes objects of them).
 */
import type { BookId, KeyId, PlayerId } from "../ids.ts";
import type { Game, Lineup } from "../ledger/kinds.ts";

/** A side of one, and a match of one game. */
type Alone = readonly [Lineup];
type OneGame = readonly [Game];

type Side = readonly Lineup[];
type Sides = readonly [Side, Side];

/** Who writes, and in which book: as many as there are devices. */
export interface Hand {
  readonly author: KeyId;
  readonly book: BookId;
}

export interface Sharing {
  /** The same text, as it was first met. */
  text<T extends string>(text: T): T;
  hand(author: KeyId, book: BookId): Hand;
  seat(player: PlayerId, off: number): Alone;
  /** Of who met before off the same handicaps, the same. */
  sides(one: Side, other: Side): Sides;
  game(one: number, other: number, ended: Game["ended"]): OneGame;
}

/** Scores below this are looked up by number. */
const SCORES = 32;

/** Games that went to their end, by score. They are the same in every book, so there is one table of them, made as they are met. */
const played: (OneGame | undefined)[] = new Array(SCORES * SCORES).fill(undefined);

/** For who keeps nothing. A common game is there already. */
export const nothingShared: Sharing = {
  text: (text) => text,
  hand: (author, book) => ({ author, book }),
  seat: (player, off) => [{ player, off }],
  sides: (one, other) => [one, other],
  game: (one, other, ended) => commonGame(one, other, ended) ?? madeGame(one, other, ended),
};

function commonGame(one: number, other: number, ended: Game["ended"]): OneGame | null {
  if (ended !== undefined || !isCommon(one) || !isCommon(other)) return null;
  const place = one * SCORES + other;
  const held = played[place];
  if (held !== undefined) return held;
  const fresh = madeGame(one, other, ended);
  played[place] = fresh;
  return fresh;
}

const isCommon = (score: number): boolean => score >>> 0 === score && score < SCORES;

const madeGame = (one: number, other: number, ended: Game["ended"]): OneGame => [
  ended === undefined ? { score: [one, other] } : { score: [one, other], ended },
];

/** Texts met last, by their length: of those that a season repeats hardly two have one length. */
const LENGTHS = 64;

export function createSharing(): Sharing {
  const texts = new Map<string, string>();
  const lately: (string | undefined)[] = new Array(LENGTHS).fill(undefined);
  const hands = new Map<KeyId, Hand[]>();
  /** By player, one for each handicap he was off. */
  const seats = new Map<PlayerId, Alone[]>();
  const met = new Map<Side, Map<Side, Sides>>();
  const games = new Map<string, OneGame>();

  function text<T extends string>(said: T): T {
    const place = said.length % LENGTHS;
    const last = lately[place];
    if (last === said) return last as T;
    const before = texts.get(said);
    if (before === undefined) texts.set(said, said);
    const held = before ?? said;
    lately[place] = held;
    return held as T;
  }

  function hand(author: KeyId, book: BookId): Hand {
    const known = hands.get(author);
    if (known !== undefined) for (const one of known) if (one.book === book) return one;
    const fresh: Hand = { author: known?.[0]?.author ?? author, book: text(book) };
    if (known === undefined) hands.set(author, [fresh]);
    else known.push(fresh);
    return fresh;
  }

  function seat(player: PlayerId, off: number): Alone {
    const known = seats.get(player);
    if (known !== undefined) for (const one of known) if (one[0].off === off) return one;
    const fresh: Alone = [{ player: known?.[0]?.[0].player ?? player, off }];
    if (known === undefined) seats.set(player, [fresh]);
    else known.push(fresh);
    return fresh;
  }

  function sides(one: Side, other: Side): Sides {
    // A side of two is a list of its own each time.
    if (one.length !== 1 || other.length !== 1) return [one, other];
    const opponents = met.get(one);
    const held = opponents?.get(other);
    if (held !== undefined) return held;
    const fresh: Sides = [one, other];
    if (opponents === undefined) met.set(one, new Map([[other, fresh]]));
    else opponents.set(other, fresh);
    return fresh;
  }

  function game(one: number, other: number, ended: Game["ended"]): OneGame {
    const common = commonGame(one, other, ended);
    if (common !== null) return common;
    const name = `${one} ${other} ${ended ?? ""}`;
    const held = games.get(name);
    if (held !== undefined) return held;
    const fresh = madeGame(one, other, ended);
    games.set(name, fresh);
    return fresh;
  }

  return { text, hand, seat, sides, game };
}
