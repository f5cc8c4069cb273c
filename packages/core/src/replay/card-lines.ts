/**
 * A card's lines, made from its rows when somebody reads them: what was played, what it moved and why. Most cards are folded many times
 * for each time they are read, and of a read one mostly the last lines are looked at. Rows are never changed once a card was made from
 * them (`running-card.ts` makes new ones), so a card somebody holds stays what it was, read or not.
 *
 * Who wants a line or two asks `linesOf(card)`, which makes those and keeps none. Rejected: a list that makes its lines as they are
 * reached for (no longer plain data: it could not be compared, copied or written as JSON).
 *
 * SPEC: RP.
 */
import type { PlayerId } from "../ids.ts";
import { dayText } from "../ledger/day-digits.ts";
import type { Day, Game, Lineup } from "../ledger/kinds.ts";
import { triggerOf } from "../rules/triggers.ts";
import type { Card, CardLine } from "../state.ts";
import { rulesOn } from "./adoption.ts";
import type { FoldInput, PlayedMatch, Setting, Source } from "./card-input.ts";
import { dateOf, isSetting } from "./card-input.ts";
import type { Rows } from "./card-rows.ts";
import { HANDICAP, INDEX, MOVES, NEVER, OFF, OPEN, SETTING, seatOf, sideOf, WIDE, WINDOW } from "./card-rows.ts";
import { worthOf } from "./game-worth.ts";

/** Lines of a card, to be had one at a time. */
export interface Lines {
  readonly count: number;
  dateAt(place: number): Day;
  /** Whether a handicap was set there; else it is a game. */
  isSetAt(place: number): boolean;
  /** Throws where there is no such line. */
  lineAt(place: number): CardLine;
}

interface Lined {
  readonly lines: readonly CardLine[];
}

const rowsOf = new WeakMap<Lined, CardRows>();

/** A card's lines without making all of them; those of a card put together by hand are there already. */
export const linesOf = (card: Lined): Lines =>
  rowsOf.get(card) ?? {
    count: card.lines.length,
    dateAt: (place) => (card.lines[place] as CardLine).date,
    isSetAt: (place) => (card.lines[place] as CardLine).line === "set",
    lineAt: (place) => card.lines[place] as CardLine,
  };

/** The rows of a card of a ledger. */
export const rowsOfCard = (card: Card): CardRows => rowsOf.get(card) as CardRows;

/** How many lines there are up to and including a day. They are in order of day. */
export function countUpTo(lines: Pick<Lines, "count" | "dateAt">, day: Day): number {
  let [low, high] = [0, lines.count];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (lines.dateAt(middle) <= day) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Where the last game is; -1 where there is none. */
export function lastGame(lines: Pick<Lines, "count" | "isSetAt">): number {
  let at = lines.count - 1;
  while (at >= 0 && lines.isSetAt(at)) at -= 1;
  return at;
}

/** Rows that are folded and will not change any more. */
export class CardRows implements Rows, Lines {
  readonly table: Int32Array;
  readonly sources: readonly Source[];
  /** The row of the first setting. */
  readonly start: number;
  readonly #input: FoldInput;
  /** The first lines, as far as they were read. */
  readonly #read: CardLine[];
  /** Lines made since the beginning: what reading costs. */
  made = 0;

  /** @param read the first lines, read from rows that said the same */
  constructor({ table, sources }: Rows, start: number, input: FoldInput, read: CardLine[]) {
    this.table = table;
    this.sources = sources;
    this.start = start;
    this.#input = input;
    this.#read = read;
  }

  get count(): number {
    return this.sources.length;
  }

  get lines(): readonly CardLine[] {
    for (let place = this.#read.length; place < this.count; place++) this.#read.push(this.lineAt(place));
    return this.#read;
  }

  /** Of the first `count` lines those that were read, in a list of its own. */
  readUpTo(count: number): CardLine[] {
    return this.#read.slice(0, count);
  }

  /** @param lines the first ones, read from rows that said the same: who has them finds the same objects here */
  readAlso(lines: readonly CardLine[]): this {
    for (const line of lines.slice(this.#read.length)) this.#read.push(line);
    return this;
  }

  dateAt(place: number): Day {
    return dateOf(this.sources[place] as Source);
  }

  isSetAt(place: number): boolean {
    return isSetting(this.sources[place] as Source);
  }

  indexAt(place: number): number {
    return this.table[place * WIDE + INDEX] as number;
  }

  handicapAt(place: number): number {
    return this.table[place * WIDE + HANDICAP] as number;
  }

  lineAt(place: number): CardLine {
    const read = this.#read[place];
    if (read !== undefined) return read;
    this.made += 1;
    const source = this.sources[place] as Source;
    return isSetting(source) ? this.#setLine(place, source) : this.#gameLine(place, source);
  }

  /** Places from `from` on at which play moved the handicap. */
  movedFrom(from: number): number[] {
    return this.#gamesWhere(from, HANDICAP);
  }

  /** Places from `from` on at which the record gives another handicap than was played off. */
  noticedFrom(from: number): number[] {
    return this.#gamesWhere(from, OFF);
  }

  /** Games at which a column says another handicap than was in force. */
  #gamesWhere(from: number, column: number): number[] {
    const { table } = this;
    const found: number[] = [];
    for (let place = Math.max(from, this.start + 1); place < this.count; place++) {
      const at = place * WIDE;
      if (table[at + column] !== table[at - WIDE + HANDICAP] && table[at + WINDOW] !== SETTING) found.push(place);
    }
    return found;
  }

  /** Null up to the first setting: nobody had decided yet. */
  #heldBefore(place: number): number | null {
    return place > this.start ? this.handicapAt(place - 1) : null;
  }

  #setLine(place: number, { id, author, body }: Setting): CardLine {
    return {
      line: "set",
      date: body.from,
      entry: id,
      by: author,
      basis: body.basis,
      why: body.reason,
      reason: body.basis === "initial" ? "start" : body.basis,
      index: this.indexAt(place),
      handicap: this.handicapAt(place),
      moved: { from: this.#heldBefore(place), to: body.handicap },
    };
  }

  #gameLine(place: number, match: PlayedMatch): CardLine {
    const { facts } = match;
    const input = this.#input;
    const rules = rulesOn(input.adoptions, facts.date);
    const side = sideOf(match, input);
    const own = facts.sides[side];
    const me = seatOf(own, input, true) as Lineup;
    let number = 0;
    while (this.sources[place - number - 1] === match) number += 1;
    const game = facts.games[number] as Game;
    const [index, handicap, held] = [this.indexAt(place), this.handicapAt(place), this.#heldBefore(place)];
    const open = this.table[place * WIDE + OPEN] as number;
    const isMoved = held !== null && held !== handicap;
    return {
      line: "game",
      date: facts.date,
      match: match.key,
      game: number + 1,
      play: facts.play,
      format: facts.format,
      occasion: facts.occasion,
      event: match.event,
      partner: seatOf(own, input, false),
      opponents: facts.sides[side === 0 ? 1 : 0],
      off: me.off,
      score: [game.score[side], game.score[side === 0 ? 1 : 0]],
      points: held === null ? 0 : (this.table[place * WIDE + MOVES] as number),
      reason: held === null ? "before-start" : worthOf(facts, game, side, me, rules).reason,
      rules: rules.set.id,
      index,
      handicap,
      moved: isMoved
        ? {
            from: held,
            to: handicap,
            trigger: triggerOf(rules.set, handicap) ?? index,
            after: open === NEVER ? null : dayText(open),
          }
        : null,
      notice: held !== null && me.off !== held ? { off: me.off, record: held } : null,
      confirmed: match.status !== "one-report",
    };
  }
}

/** A card whose lines are made when they are first read. */
export function cardOf(player: PlayerId, rows: CardRows, signed: Pick<Card, "signatures" | "unsigned">): Card {
  const last = rows.count - 1;
  const card: Card = {
    player,
    handicap: rows.handicapAt(last),
    index: rows.indexAt(last),
    get lines() {
      return rows.lines;
    },
    ...signed,
  };
  rowsOf.set(card, rows);
  return card;
}
