/**
 * A reported match as a ledger keeps it, which nearly every entry of a book is. Kept are its facts, in the form in which matches are
 * compared and cards are folded, and what its signed body says beyond them; the body is put together when somebody asks for it. So a
 * report, its match and its lines hold one set of facts, shared where others say the same (`sharing.ts`).
 *
 *     { sides: [[bea], [ada]], games: [7-4], n: 1, … }  ->  facts { sides: [[ada], [bea]], games: [4-7], … }, n: 1, turned
 *
 * What is put together equals what was decoded, member for member. A body with a member that is not known here stays as it came.
 */
import type { BookId, EntryId, KeyId, MatchKey } from "../ids.ts";
import type { EntryHead, EntryOf } from "../ledger/entry.ts";
import type { Game, Lineup, MatchReported } from "../ledger/kinds.ts";
import type { MatchFacts } from "../state.ts";
import type { Resolve } from "./identity.ts";
import { checkMatch, gamesTurned, keyOfFacts, matchFacts, matchKey } from "./identity.ts";
import type { Sharing } from "./sharing.ts";

type Reported = EntryOf<"match-reported">;

/** What a body has beyond its facts and its number. `games`: as they were written, where a score pad kept more than the score. */
type More = Partial<Pick<MatchReported, "start" | "event" | "slot" | "given" | "replaces" | "games">>;

const nothingMore: More = {};
const asWritten: Resolve = (id) => id;

/** How a body's sides and partners lie in its facts, and whether it is of a match that cannot be, added up. */
const TURNED = 1;
const FIRST_SWAPPED = 2;
const SECOND_SWAPPED = 4;
const CANNOT_BE = 8;

export class KeptReport implements EntryHead {
  readonly id: EntryId;
  readonly author: KeyId;
  readonly book: BookId;
  readonly seq: number;
  readonly prev: EntryId | null;
  readonly facts: MatchFacts;
  readonly #at: Moment;
  readonly #n: number;
  readonly #turns: number;
  readonly #more: More;

  constructor(entry: Reported, head: Pick<EntryHead, "author" | "book" | "prev">, more: More, sharing: Sharing) {
    const { sides, n } = entry.body;
    this.id = entry.id;
    this.author = head.author;
    this.book = head.book;
    this.seq = entry.seq;
    this.prev = head.prev;
    this.facts = matchFacts(entry.body, asWritten, sharing);
    this.#at = momentOf(entry.at);
    this.#n = n;
    this.#turns =
      (isOf(this.facts.sides[0], sides[0]) ? 0 : TURNED) +
      (isSwapped(sides[0]) ? FIRST_SWAPPED : 0) +
      (isSwapped(sides[1]) ? SECOND_SWAPPED : 0) +
      (checkMatch(entry.body) === null ? 0 : CANNOT_BE);
    this.#more = more;
  }

  get understood(): true {
    return true;
  }

  get kind(): "match-reported" {
    return "match-reported";
  }

  get at(): string {
    return textOf(this.#at);
  }

  /** What the body says beyond the facts, without putting it together. */
  get more(): More {
    return this.#more;
  }

  get n(): number {
    return this.#n;
  }

  get canBe(): boolean {
    return (this.#turns & CANNOT_BE) === 0;
  }

  get body(): MatchReported {
    const { date, occasion, play, format, sides, games, excluded } = this.facts;
    const turned = (this.#turns & TURNED) !== 0;
    const [first, second] = turned ? [sides[1], sides[0]] : sides;
    return {
      date,
      occasion,
      n: this.#n,
      play,
      format,
      sides: [asWas(first, this.#turns & FIRST_SWAPPED), asWas(second, this.#turns & SECOND_SWAPPED)],
      games: (turned ? gamesTurned(games) : games) as Game[],
      ...(excluded ? { excluded } : {}),
      ...this.#more,
    };
  }

  toJSON(): Reported {
    const { id, author, book, seq, prev, at, understood, kind, body } = this;
    return { id, author, book, seq, prev, at, understood, kind, body };
  }
}

/** @param prev the id of the entry before, where it is held as another string already */
export function keepReport(entry: Reported, prev: EntryId | null, sharing: Sharing): Reported {
  if (entry instanceof KeptReport) return entry;
  const more = beyondFacts(entry.body);
  if (more === null) return entry;
  const head = { author: sharing.text(entry.author), book: sharing.text(entry.book), prev };
  return new KeptReport(entry, head, more, sharing);
}

/** The facts of a report, with players resolved. */
export const factsOf = (entry: Reported, resolve: Resolve): MatchFacts =>
  entry instanceof KeptReport && isAsWritten(entry.facts, resolve) ? entry.facts : matchFacts(entry.body, resolve);

/** Event, starting time and slot of a report. */
export const moreOf = (entry: Reported): More => (entry instanceof KeptReport ? entry.more : entry.body);

/** Whether a real match can be what is reported: `checkMatch`, made once. */
export const canBe = (entry: Reported): boolean =>
  entry instanceof KeptReport ? entry.canBe : checkMatch(entry.body) === null;

export const keyOfReport = (entry: Reported, resolve: Resolve): MatchKey =>
  entry instanceof KeptReport && entry.more.slot === undefined && isAsWritten(entry.facts, resolve)
    ? keyOfFacts(entry.facts, entry.n)
    : matchKey(entry.body, resolve);

const isAsWritten = ({ sides }: MatchFacts, resolve: Resolve): boolean =>
  resolve === asWritten || sides.every((side) => side.every(({ player }) => resolve(player) === player));

/** Null where the body has something that would be lost. */
function beyondFacts(body: MatchReported): More | null {
  const { date: _d, occasion: _o, n: _n, play: _p, format: _f, sides, games, excluded: _x, ...more } = body;
  if (!sides.every((side) => side.every(isPlainSeat))) return null;
  if (!games.every(isPlainGame)) return { ...more, games };
  return Object.keys(more).length === 0 ? nothingMore : more;
}

const isPlainSeat = (seat: Lineup): boolean => Object.keys(seat).length === 2;

const isPlainGame = (game: Game): boolean => Object.keys(game).length === (game.ended === undefined ? 1 : 2);

const isSwapped = ([one, other]: readonly Lineup[]): boolean =>
  one !== undefined && other !== undefined && one.player > other.player;

/** Whether these are the players of that side, in order. */
function isOf(facts: readonly Lineup[], side: readonly Lineup[]): boolean {
  const ordered = isSwapped(side) ? [...side].reverse() : side;
  return facts.length === side.length && facts.every(({ player }, seat) => ordered[seat]?.player === player);
}

const asWas = (side: readonly Lineup[], swapped: number): Lineup[] =>
  (swapped === 0 ? side : [...side].reverse()) as Lineup[];

/** A clock's reading: a number where it is a time that clocks show, for its text would be the largest part of a report. */
type Moment = number | string;

const shown = /^2\d{3}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T([01]\d|2[0-3]):[0-5]\d:[0-5]\dZ$/;

/** Each part from 0: as many seconds as if every month had 31 days, which no reader sees. */
function momentOf(at: string): Moment {
  if (!shown.test(at)) return at;
  const months = (two(at, 0) * 100 + two(at, 2) - 2000) * 12 + two(at, 5) - 1;
  const hours = (months * 31 + two(at, 8) - 1) * 24 + two(at, 11);
  return (hours * 60 + two(at, 14)) * 60 + two(at, 17);
}

/** Two digits. */
const two = (text: string, from: number): number => (text.charCodeAt(from) - 48) * 10 + text.charCodeAt(from + 1) - 48;

const inTwo = (part: number): string => String(part).padStart(2, "0");

function textOf(moment: Moment): string {
  if (typeof moment === "string") return moment;
  const [minutes, hours] = [Math.floor(moment / 60), Math.floor(moment / 3600)];
  const days = Math.floor(hours / 24);
  const months = Math.floor(days / 31);
  const day = `${Math.floor(months / 12) + 2000}-${inTwo((months % 12) + 1)}-${inTwo((days % 31) + 1)}`;
  return `${day}T${inTwo(hours % 24)}:${inTwo(minutes % 60)}:${inTwo(moment % 60)}Z`;
}
