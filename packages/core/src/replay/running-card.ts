/**
 * A card kept up as matches come, change and go. Its matches stand in order; every so many of them the fold leaves a mark of all it
 * knew there. What changes is found by bisection, the marks behind it are dropped, and the fold goes on from the last one left: a
 * game of today costs a few lines, one of last year the lines since, however long the card is.
 *
 *     matches   ──1──────32──────64───x──96────          x: a late game
 *     marks             ●        ●       ○ dropped, and made again on the way from 64
 *
 * Marks live in memory only and can be thrown away at any time; a card made from them equals `foldCard`, which is a law with a
 * property test. Rejected: folding each card from its first line each time (30 µs a card in a small club, 8 ms in a book of
 * 100,000 games, for every match saved) and marks in the vault (they would have to be versioned, and reading them costs as much
 * as the fold).
 *
 * SPEC: RP.
 */
import type { EntryOf } from "../ledger/entry.ts";
import type { CardLine } from "../state.ts";
import type { FoldedCard, FoldInput, Mark, PlayedMatch } from "./fold.ts";
import { byMatchOrder, bySetOrder, Fold } from "./fold.ts";

interface Placed {
  /** How many matches and settings are behind the mark. */
  readonly matches: number;
  readonly sets: number;
  readonly mark: Mark;
}

export interface RunningFold extends FoldedCard {
  /** So many lines at the beginning are the same objects as last time. */
  readonly kept: number;
}

export class RunningCard {
  readonly #every: number;
  #matches: PlayedMatch[] = [];
  #sets: readonly EntryOf<"handicap-set">[] = [];
  #marks: Placed[] = [];
  #lines: readonly CardLine[] = [];

  /** @param every matches from mark to mark */
  constructor(every: number) {
    this.#every = every;
  }

  /** In the order of the card. */
  get matches(): readonly PlayedMatch[] {
    return this.#matches;
  }

  put(match: PlayedMatch): void {
    const place = this.#placeOf(match);
    this.#matches.splice(place, 0, match);
    this.#changedAt(place);
  }

  /** `match` as it was put. */
  drop(match: PlayedMatch): void {
    const place = this.#placeOf(match);
    if (this.#matches[place]?.key !== match.key) return;
    this.#matches.splice(place, 1);
    this.#changedAt(place);
  }

  /** Something the marks do not tell has changed: the days of an event. */
  forget(): void {
    this.#marks = [];
    this.#lines = [];
  }

  /** `sets` in any order. Null while there are none. */
  fold(input: FoldInput, standing: readonly EntryOf<"handicap-set">[]): RunningFold | null {
    const sets = [...standing].sort(bySetOrder);
    this.#compareSets(sets);
    const first = sets[0];
    if (first === undefined) {
      this.forget();
      return null;
    }
    const fold = new Fold(input, first);
    const from = this.#marks.at(-1);
    if (from !== undefined) fold.resume(from.mark, this.#lines);
    let next = from?.sets ?? 0;
    for (let place = from?.matches ?? 0; place < this.#matches.length; place++) {
      const match = this.#matches[place] as PlayedMatch;
      next = fold.setsUpTo(match.facts.date, sets, next);
      fold.match(match);
      if ((place + 1) % this.#every === 0) this.#marks.push({ matches: place + 1, sets: next, mark: fold.mark() });
    }
    fold.setsUpTo(null, sets, next);
    const folded = fold.end();
    const kept = this.#sameLines(folded.lines, from?.mark.lines ?? 0);
    this.#lines = folded.lines;
    return { ...folded, kept };
  }

  /** A window that was open at the mark may have ended otherwise this time, in the last line before it. */
  #sameLines(lines: readonly CardLine[], atMark: number): number {
    return atMark > 0 && lines[atMark - 1] !== this.#lines[atMark - 1] ? atMark - 1 : atMark;
  }

  #placeOf(match: PlayedMatch): number {
    let [low, high] = [0, this.#matches.length];
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (byMatchOrder(this.#matches[middle] as PlayedMatch, match) < 0) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  #changedAt(place: number): void {
    this.#dropMarks(({ matches }) => matches > place);
  }

  /** A mark holds while the settings behind it are the same, and none that is new belongs before its last match. */
  #compareSets(sets: readonly EntryOf<"handicap-set">[]): void {
    const before = this.#sets;
    this.#sets = sets;
    let same = 0;
    while (same < sets.length && sets[same] === before[same]) same += 1;
    if (same === sets.length && same === before.length) return;
    this.#dropMarks((mark) => {
      // What is before the first setting is written with its handicap.
      if (mark.sets > same || same === 0) return true;
      const next = sets[mark.sets];
      const last = this.#matches[mark.matches - 1];
      return next !== undefined && last !== undefined && next.body.from <= last.facts.date;
    });
  }

  /** `spoiled` is true of every mark behind the first it is true of. */
  #dropMarks(spoiled: (mark: Placed) => boolean): void {
    while (this.#marks.length > 0 && spoiled(this.#marks.at(-1) as Placed)) this.#marks.pop();
  }
}
