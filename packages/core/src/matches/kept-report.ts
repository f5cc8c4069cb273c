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
import { asWritten } from "../people/links.ts";
import type { MatchFacts } from "../state.ts";
import type { Resolve, Said } from "./identity.ts";
import { checkMatch, gamesTurned, keyOfFacts, matchFacts, matchKey } from "./identity.ts";
import type { Hand, Sharing } from "./sharing.ts";

type Reported = EntryOf<"match-reported">;

/** What a body has beyond its facts and its number. `games`: as they were written, where a score pad kept more than the score. */
export type More = Partial<Pick<MatchReported, "start" | "event" | "slot" | "given" | "replaces" | "games">>;

const nothingMore: More = {};

/**
 * A report for who writes it down and makes it again: what was signed, and nothing that this version makes of it (which side comes first
 * in the facts, whether such a match can be), since another may find otherwise.
 */
export interface ReportParts {
  readonly id: EntryId;
  readonly seq: number;
  readonly prev: EntryId | null;
  readonly hand: Hand;
  readonly moment: Moment;
  readonly n: number;
  /** As they were signed, but for what is in `more`. */
  readonly said: Said;
  /** What its body says beyond; null for nothing. */
  readonly more: More | null;
}

/** How a body's sides and partners lie in its facts, and whether it is of a match that cannot be, added up; above them its number. */
const TURNED = 1;
const FIRST_SWAPPED = 2;
const SECOND_SWAPPED = 4;
const CANNOT_BE = 8;
const NUMBER = 16;

export class KeptReport implements EntryHead {
  readonly id: EntryId;
  readonly seq: number;
  readonly prev: EntryId | null;
  readonly facts: MatchFacts;
  readonly #hand: Hand;
  readonly #at: Moment;
  readonly #form: number;
  readonly #more: More;

  constructor({ id, seq, prev, hand, moment, n, said, more }: ReportParts, sharing: Sharing) {
    this.id = id;
    this.seq = seq;
    this.prev = prev;
    this.facts = matchFacts(said, asWritten, sharing);
    this.#hand = hand;
    this.#at = moment;
    this.#form = formOf(said, n, more, this.facts);
    this.#more = more ?? nothingMore;
  }

  get parts(): ReportParts {
    const { id, seq, prev, n, facts } = this;
    const said = { ...facts, sides: this.#sides, games: this.#games };
    const more = this.#more === nothingMore ? null : this.#more;
    return { id, seq, prev, hand: this.#hand, moment: this.#at, n, said, more };
  }

  get #isTurned(): boolean {
    return (this.#form & TURNED) !== 0;
  }

  /** As they were signed. */
  get #sides(): MatchFacts["sides"] {
    const [one, two] = this.facts.sides;
    const [first, second] = this.#isTurned ? [two, one] : [one, two];
    return [asWas(first, this.#form & FIRST_SWAPPED), asWas(second, this.#form & SECOND_SWAPPED)];
  }

  get #games(): MatchFacts["games"] {
    return this.#isTurned ? gamesTurned(this.facts.games) : this.facts.games;
  }

  get author(): KeyId {
    return this.#hand.author;
  }

  get book(): BookId {
    return this.#hand.book;
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
    return Math.floor(this.#form / NUMBER);
  }

  get canBe(): boolean {
    return (this.#form & CANNOT_BE) === 0;
  }

  get body(): MatchReported {
    const { date, occasion, play, format, excluded } = this.facts;
    return {
      date,
      occasion,
      n: this.n,
      play,
      format,
      sides: this.#sides as MatchReported["sides"],
      games: this.#games as Game[],
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
  const { id, author, book, seq, at, body } = entry;
  const more = beyondFacts(body);
  if (more === null) return entry;
  const [hand, moment] = [sharing.hand(author, book), momentOf(at)];
  return new KeptReport({ id, seq, prev, hand, moment, n: body.n, said: body, more }, sharing);
}

/** Null for a report whose body has something that no part would hold. */
export const partsOf = (entry: Reported): ReportParts | null => (entry instanceof KeptReport ? entry.parts : null);

/** @param parts as they were once taken from a report */
export const reportOf = (parts: ReportParts, sharing: Sharing): Reported => new KeptReport(parts, sharing);

/** Whether it is in its small form already, as what a vault hands over is. */
export const isKept = (entry: Reported): boolean => entry instanceof KeptReport;

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

/** Members of a body that is all facts and a number. */
const MEMBERS = 7;

/** Null where the body has something that would be lost. */
function beyondFacts(body: MatchReported): More | null {
  const [one, two] = body.sides;
  if (!one.every(isPlainSeat) || !two.every(isPlainSeat)) return null;
  const isPlain = body.games.every(isPlainGame);
  if (isPlain && membersOf(body) === MEMBERS) return nothingMore;
  const { date: _d, occasion: _o, n: _n, play: _p, format: _f, sides: _s, games, excluded: _x, ...more } = body;
  if (!isPlain) return { ...more, games };
  return Object.keys(more).length === 0 ? nothingMore : more;
}

const isPlainSeat = (seat: Lineup): boolean => membersOf(seat) === 2;

const isPlainGame = (game: Game): boolean => membersOf(game) === (game.ended === undefined ? 1 : 2);

/** Counted with no list of their names: this is asked four times of every report that is read. */
function membersOf(of: object): number {
  let count = 0;
  for (const _ in of) count += 1;
  return count;
}

function formOf(said: Said, n: number, more: More | null, facts: MatchFacts): number {
  const { sides, format } = said;
  const { games = said.games, given } = more ?? nothingMore;
  return (
    n * NUMBER +
    (isOf(facts.sides[0], sides[0]) ? 0 : TURNED) +
    (isSwapped(sides[0]) ? FIRST_SWAPPED : 0) +
    (isSwapped(sides[1]) ? SECOND_SWAPPED : 0) +
    (checkMatch({ format, sides, games, given }) === null ? 0 : CANNOT_BE)
  );
}

const isSwapped = ([one, other]: readonly Lineup[]): boolean =>
  one !== undefined && other !== undefined && one.player > other.player;

/** Whether these are the players of that side, in order. */
function isOf(facts: readonly Lineup[], side: readonly Lineup[]): boolean {
  const ordered = isSwapped(side) ? [...side].reverse() : side;
  return facts.length === side.length && facts.every(({ player }, seat) => ordered[seat]?.player === player);
}

const asWas = (side: readonly Lineup[], swapped: number): readonly Lineup[] =>
  swapped === 0 ? side : [...side].reverse();

/**
 * A clock's reading: a number where it is a time that clocks show, for its text would be the largest part of a report. Vaults are written
 * with these numbers (`ReportParts`): what one means never changes.
 */
export type Moment = number | string;

/** Each part from 0: as many seconds as if every month had 31 days. */
function momentOf(at: string): Moment {
  const [year, month, day] = [two(at, 0) * 100 + two(at, 2), two(at, 5), two(at, 8)];
  const [hour, minute, second] = [two(at, 11), two(at, 14), two(at, 17)];
  const isDay = year >= 2000 && year <= 2999 && month >= 1 && month <= 12 && day >= 1 && day <= 31;
  const isTime = hour >= 0 && hour <= 23 && minute >= 0 && minute <= 59 && second >= 0 && second <= 59;
  if (!isDay || !isTime || !isInForm(at)) return at;
  return (((((year - 2000) * 12 + month - 1) * 31 + day - 1) * 24 + hour) * 60 + minute) * 60 + second;
}

const FORM = "____-__-__T__:__:__Z";

/** What is between the digits stands at every third place from the first of them on. */
function isInForm(at: string): boolean {
  for (let place = 4; place < FORM.length; place += 3) if (at[place] !== FORM[place]) return false;
  return at.length === FORM.length;
}

/** Two digits; below 0 where they are none. */
function two(text: string, from: number): number {
  const [tens, ones] = [text.charCodeAt(from) - 48, text.charCodeAt(from + 1) - 48];
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : -1_000_000;
}

const inTwo = (part: number): string => String(part).padStart(2, "0");

function textOf(moment: Moment): string {
  if (typeof moment === "string") return moment;
  const [minutes, hours] = [Math.floor(moment / 60), Math.floor(moment / 3600)];
  const days = Math.floor(hours / 24);
  const months = Math.floor(days / 31);
  const day = `${Math.floor(months / 12) + 2000}-${inTwo((months % 12) + 1)}-${inTwo((days % 31) + 1)}`;
  return `${day}T${inTwo(hours % 24)}:${inTwo(minutes % 60)}:${inTwo(moment % 60)}Z`;
}
