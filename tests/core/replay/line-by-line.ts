/**
 * A card folded line by line, each game a line as it is played, each window tested when it is over: the fold as somebody with a pencil
 * would do it. Core adds up rows of integers instead and makes lines when they are read; its cards are held to these. It was core's own
 * fold once, so the two do not share the way they keep windows, changes, notices or what comes before the first handicap; what one game
 * is worth they do share, and that is held to sources elsewhere.
 */
import type {
  CardInput,
  CardLine,
  CompiledRules,
  Day,
  EntryOf,
  FoldedCard,
  FoldInput,
  Game,
  GameLine,
  Lineup,
  PlayedMatch,
  SetLine,
} from "@sward/core";
import { byMatchOrder, bySetOrder, daysSpanned, isOneSpan, rulesOn, settledHandicap, triggerOf } from "@sward/core";
import type { Worth } from "../../../packages/core/src/replay/game-worth.ts";
import { worthOf } from "../../../packages/core/src/replay/game-worth.ts";

/** Null while nobody has set a handicap for the player. */
export function cardLineByLine(input: CardInput): FoldedCard | null {
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

const BEFORE_START: Worth = { reason: "before-start", points: 0 };

/** The running state of one fold.  */
class Fold {
  readonly #input: FoldInput;
  readonly #lines: CardLine[] = [];
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

  /** The first on a side who is the card's player, or is not. */
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
