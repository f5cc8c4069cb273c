/**
 * A player's card: a fold of that player's own games, in canonical order, under the rules in force on each day. Nothing else is
 * read: the exchange of points uses the handicaps the match was played off, so a card can be refolded alone, needs no other
 * card, and can move to another club whole.
 *
 * A handicap changes with hysteresis: down on reaching the next lower handicap's trigger point, back up only on falling to the
 * next higher one's. When the change bites is the rule set's `effective`: games of one window (a day, a short event) are played
 * off the handicap it began with and only the index at its end is tested.
 *
 *       index  1390 ──────●1400 ───●1390 ───●1380           7 becomes 6 on reaching 1400;
 *                      7 becomes 6   6        6             6 becomes 7 again only at 1350
 *
 * A core with no clock cannot know whether the day or the event is over, so a change carries the last day of its window and
 * `handicapInForce` reads it. Rejected: storing the index per player and moving it as results arrive (a late result could not
 * be put right) and testing the trigger after each game with an undo (order inside a day would matter).
 *
 * SPEC: RP.
 */

import type { CompiledRules } from "../exchange/compiled-rules.ts";
import type { EventId, PlayerId } from "../ids.ts";
import { byAuthorInOrder } from "../ledger/chain.ts";
import type { EntryOf } from "../ledger/entry.ts";
import type { Day, Game, Lineup, Occasion } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import { isOneSpan } from "../rules/effective.ts";
import { settledHandicap, triggerOf } from "../rules/triggers.ts";
import type { CardLine, GameLine, Match, MatchFacts, SetLine } from "../state.ts";
import type { Adoptions } from "./adoption.ts";
import { rulesOn } from "./adoption.ts";
import { daysSpanned } from "./calendar.ts";
import type { Worth } from "./game-worth.ts";
import { worthOf } from "./game-worth.ts";

/** A match whose facts count, as the fold needs it. */
export type PlayedMatch = Pick<Match, "key" | "event" | "start" | "status"> & { readonly facts: MatchFacts };

/** What a fold reads besides the games and settings that it is given one by one. */
export interface FoldInput {
  readonly player: PlayerId;
  readonly adoptions: Adoptions;
  readonly events: Pick<
    ReadonlyMap<EventId, { readonly occasion: Occasion; readonly from: Day; readonly to: Day }>,
    "get"
  >;
  /** Ids the player had in matches of another club's record. */
  readonly also?: ReadonlySet<PlayerId>;
}

export interface CardInput extends FoldInput {
  /** Standing settings of the player's handicap, in any order. */
  readonly sets: readonly EntryOf<"handicap-set">[];
  /** Matches the player took part in, in any order. */
  readonly matches: readonly PlayedMatch[];
}

export interface FoldedCard {
  readonly lines: readonly CardLine[];
  readonly handicap: number;
  readonly index: number;
}

/** Null while nobody has set a handicap for the player. What `running-card.ts` keeps up must equal this at every step. */
export function foldCard(input: CardInput): FoldedCard | null {
  const sets = [...input.sets].sort(bySetOrder);
  const matches = [...input.matches].sort(byMatchOrder);
  const first = sets[0];
  if (first === undefined) return null;
  const fold = new Fold(input, first);
  let next = 0;
  for (const match of matches) {
    next = fold.setsUpTo(match.facts.date, sets, next);
    fold.match(match);
  }
  fold.setsUpTo(null, sets, next);
  return fold.end();
}

/** All that a fold knows between two matches. */
export interface Mark {
  readonly lines: number;
  /** The last line as it was then: a window that ends later changes it. */
  readonly last: CardLine | undefined;
  readonly started: boolean;
  readonly handicap: number;
  readonly index: number;
  readonly open: Day | null;
  readonly openMatch: string | null;
  readonly rules: CompiledRules;
}

const BEFORE_START: Worth = { reason: "before-start", points: 0 };

/** The running state of one fold. A class because it is the one place in core where a hot loop shares many variables. */
export class Fold {
  readonly #input: FoldInput;
  #lines: CardLine[] = [];
  #started = false;
  #handicap: number;
  #index: number;
  /** Last day of the window being played, null between windows. */
  #open: Day | null = null;
  /** Rules with `effective` match: the match being played. */
  #openMatch: string | null = null;
  #rules: CompiledRules;

  constructor(input: FoldInput, first: EntryOf<"handicap-set">) {
    this.#input = input;
    this.#rules = rulesOn(input.adoptions, first.body.from);
    this.#handicap = first.body.handicap;
    this.#index = startingIndex(first, this.#rules);
  }

  mark(): Mark {
    return {
      lines: this.#lines.length,
      last: this.#lines.at(-1),
      started: this.#started,
      handicap: this.#handicap,
      index: this.#index,
      open: this.#open,
      openMatch: this.#openMatch,
      rules: this.#rules,
    };
  }

  /** Goes on from a mark; `lines` are those of a fold that passed it, and are copied. */
  resume(mark: Mark, lines: readonly CardLine[]): void {
    this.#lines = lines.slice(0, mark.lines);
    if (mark.last !== undefined) this.#lines[mark.lines - 1] = mark.last;
    this.#started = mark.started;
    this.#handicap = mark.handicap;
    this.#index = mark.index;
    this.#open = mark.open;
    this.#openMatch = mark.openMatch;
    this.#rules = mark.rules;
  }

  /** Takes the settings up to and including a day, all where it is null. Returns the place of the first not taken. */
  setsUpTo(day: Day | null, sets: readonly EntryOf<"handicap-set">[], from: number): number {
    let next = from;
    for (let set = sets[next]; set !== undefined && (day === null || set.body.from <= day); set = sets[++next])
      this.set(set);
    return next;
  }

  set(entry: EntryOf<"handicap-set">): void {
    const { body } = entry;
    // A setting inside a window ends it untested: the handicapper has just decided.
    if (this.#open !== null && body.from > this.#open) this.#settle();
    if (this.#openMatch !== null) this.#settle();
    this.#open = null;
    this.#rules = rulesOn(this.#input.adoptions, body.from);
    const from = this.#started ? this.#handicap : null;
    this.#handicap = body.handicap;
    this.#index = startingIndex(entry, this.#rules);
    this.#started = true;
    const line: SetLine = {
      line: "set",
      date: body.from,
      entry: entry.id,
      by: entry.author,
      basis: body.basis,
      why: body.reason,
      reason: body.basis === "initial" ? "start" : body.basis,
      index: this.#index,
      handicap: this.#handicap,
      moved: { from, to: body.handicap },
    };
    this.#lines.push(line);
  }

  match(match: PlayedMatch): void {
    const { facts } = match;
    if (this.#open !== null && facts.date > this.#open) this.#settle();
    if (this.#openMatch !== null && match.key !== this.#openMatch) this.#settle();
    const rules = rulesOn(this.#input.adoptions, facts.date);
    this.#rules = rules;
    const side = this.#seat(facts.sides[0], true) === null ? 1 : 0;
    const own = facts.sides[side];
    const opponents = facts.sides[side === 0 ? 1 : 0];
    const me = this.#seat(own, true);
    if (me === null) throw new Error("a card is folded from its own player's matches");
    const partner = this.#seat(own, false);
    for (let g = 0; g < facts.games.length; g++) {
      const game = facts.games[g] as Game;
      this.#game(match, g + 1, game, side, me, partner, opponents, rules);
    }
  }

  /** The first on a side who is the card's player, or is not. A loop and no callback: this is asked a million times. */
  #seat(side: readonly Lineup[], own: boolean): Lineup | null {
    const { player: self, also } = this.#input;
    for (const one of side) if ((one.player === self || also?.has(one.player) === true) === own) return one;
    return null;
  }

  end(): FoldedCard {
    this.#settle();
    return { lines: this.#lines, handicap: this.#handicap, index: this.#index };
  }

  #game(
    match: PlayedMatch,
    number: number,
    game: Game,
    side: 0 | 1,
    me: Lineup,
    partner: Lineup | null,
    opponents: readonly Lineup[],
    rules: CompiledRules,
  ): void {
    const { facts } = match;
    const mine = game.score[side];
    const theirs = game.score[side === 0 ? 1 : 0];
    const { reason, points } = this.#started ? worthOf(facts, game, side, me, rules) : BEFORE_START;
    this.#index += points;
    const line: GameLine = {
      line: "game",
      date: facts.date,
      match: match.key,
      game: number,
      play: facts.play,
      format: facts.format,
      occasion: facts.occasion,
      event: match.event,
      partner,
      opponents,
      off: me.off,
      score: [mine, theirs],
      points,
      reason,
      rules: rules.set.id,
      index: this.#index,
      handicap: this.#handicap,
      moved: null,
      notice: this.#started && me.off !== this.#handicap ? { off: me.off, record: this.#handicap } : null,
      confirmed: match.status !== "one-report",
    };
    this.#lines.push(line);
    this.#openWindow(match, rules);
  }

  #openWindow(match: PlayedMatch, rules: CompiledRules): void {
    const { unit } = rules.set.effective;
    const { date } = match.facts;
    if (unit === "game") {
      if (this.#open === null) this.#settle();
      return;
    }
    if (unit === "match") {
      if (this.#open === null) this.#openMatch = match.key;
      return;
    }
    const event = unit === "event" && match.event !== null ? this.#input.events.get(match.event) : undefined;
    const within = event !== undefined && event.from <= date && date <= event.to;
    const end = within && isOneSpan(rules.set, event.occasion, daysSpanned(event.from, event.to)) ? event.to : date;
    if (this.#open === null || end > this.#open) this.#open = end;
  }

  /** Ends the window: tests the index against the trigger points, once. */
  #settle(): void {
    const after = this.#open;
    this.#open = null;
    this.#openMatch = null;
    const last = this.#lines.at(-1);
    if (last?.line !== "game" || !this.#started) return;
    const to = settledHandicap(this.#rules, this.#handicap, this.#index);
    if (to === this.#handicap) return;
    const moved = { from: this.#handicap, to, trigger: triggerOf(this.#rules.set, to) ?? this.#index, after };
    this.#handicap = to;
    this.#lines[this.#lines.length - 1] = { ...last, handicap: to, moved };
  }
}

/** A handicap the table lacks starts at the trigger of the next higher one it has, or of its last. */
function startingIndex({ body }: EntryOf<"handicap-set">, { set }: CompiledRules): number {
  if (body.basis !== "discretionary" && body.index !== undefined) return body.index;
  const row = set.triggers.find(({ handicap }) => handicap >= body.handicap) ?? set.triggers.at(-1);
  if (row === undefined) throw new Error(`rule set ${set.id} has no trigger rows`);
  return row.trigger;
}

const basisRank = { initial: 0, transfer: 1, discretionary: 2 } as const;

export const bySetOrder = (a: EntryOf<"handicap-set">, b: EntryOf<"handicap-set">): number =>
  byCodeUnits(a.body.from, b.body.from) || basisRank[a.body.basis] - basisRank[b.body.basis] || byAuthorInOrder(a, b);

/** By day, then by stated starting time (unstated last), then by the match's identity, which no clock or arrival can move. */
export const byMatchOrder = (a: PlayedMatch, b: PlayedMatch): number =>
  byCodeUnits(a.facts.date, b.facts.date) || byCodeUnits(a.start ?? "~", b.start ?? "~") || byCodeUnits(a.key, b.key);
