/**
 * A card kept up as matches come, change and go. What is new or gone is found by bisection, the rows before it are taken over as they
 * are, those behind it move along, only new ones are written, and the fold goes on from the row before: a game of today costs a row or
 * two, one of last year the rows since, and many at once one pass, however long the card is.
 *
 *     rows    ──1────────────────────x──96       x: a late game
 *             ── taken over ───────── folded anew
 *
 * A card that was handed out keeps the rows it was made from: changing them in place would change what somebody is looking at, and
 * copying all there are of a card of ten years takes ten microseconds. Rows live in memory only; a card made from them equals one folded
 * from nothing, which is a law with a property test. Rejected: folding each card from its first line each time, states of the fold left
 * behind every so many matches (each row is one), and keeping either in the vault (they would have to be versioned, and reading them
 * costs as much as the fold).
 *
 * What is taken back was most often saved a moment ago. So the rows before the last small change are kept, and where a card
 * comes to have the same again these are handed out, with the lines that were read of them, and nothing is folded.
 *
 * SPEC: RP.
 */
import type { FoldInput, PlayedMatch, Setting, Source } from "./card-input.ts";
import { byMatchOrder, bySetOrder, bySourceOrder, isSetting } from "./card-input.ts";
import { CardRows } from "./card-lines.ts";
import type { Rows } from "./card-rows.ts";
import { HANDICAP, WIDE, WRITTEN } from "./card-rows.ts";
import { foldRows } from "./fold.ts";
import { freshRows } from "./fresh-rows.ts";

export interface RunningFold {
  readonly rows: CardRows;
  /** So many lines at the beginning say what they said last time. */
  readonly kept: number;
  /** Rows that were folded. */
  readonly folded: number;
  /** Rows that were written: turned into numbers from what they come from. */
  readonly written: number;
  /** Those of last time, where they may be handed out again. */
  readonly before: CardRows | null;
}

/** A change of more rows than this is no slip that is taken back at once. */
const FEW = 8;

export class RunningCard {
  #rows: CardRows | null = null;
  /** Before the last change, where that was small. */
  #before: CardRows | null = null;
  #sets: readonly Setting[] = [];
  /** Not in the rows yet. */
  #added: Source[] = [];
  /** In the rows still. */
  #dropped = new Set<Source>();

  /** In the order of the card. */
  get matches(): readonly PlayedMatch[] {
    const standing = [...this.#standing(), ...this.#added].filter((one) => !isSetting(one)) as PlayedMatch[];
    return standing.sort(byMatchOrder);
  }

  put(match: PlayedMatch): void {
    this.#added.push(match);
  }

  /** `match` as it was put. */
  drop(match: PlayedMatch): void {
    const place = this.#added.lastIndexOf(match);
    if (place === -1) this.#dropped.add(match);
    else this.#added.splice(place, 1);
  }

  /** What is written no longer holds: the rules, the player's ids or the days of an event have changed. */
  forget(): void {
    this.#added = [...this.#standing(), ...this.#added].filter((one) => !isSetting(one));
    this.#dropped.clear();
    this.#rows = this.#before = null;
    this.#sets = [];
  }

  /** `standing` in any order. Null while there are none. */
  fold(input: FoldInput, standing: readonly Setting[]): RunningFold | null {
    const sets = [...standing].sort(bySetOrder);
    if (sets.length === 0) {
      this.forget();
      return null;
    }
    this.#compareSets(sets);
    const before = this.#rows;
    if (before !== null && this.#added.length + this.#dropped.size === 0)
      return { rows: before, kept: before.count, folded: 0, written: 0, before: this.#before };
    return this.#refold(before, input);
  }

  #refold(before: CardRows | null, input: FoldInput): RunningFold {
    const fresh = freshRows(this.#added, input);
    const written = fresh.count;
    const old = before ?? nothingYet;
    const dropped = this.#dropped;
    const count = old.sources.length;
    let place = count;
    if (written > 0) place = placeOf(old.sources, fresh.sourceAt(0));
    for (const one of dropped) place = Math.min(place, placeOf(old.sources, one));
    const changed = place;
    const table = new Int32Array((count + written) * WIDE);
    table.set(old.table.subarray(0, changed * WIDE));
    const sources = old.sources.slice(0, changed);
    for (let n = 0; n <= written; n++) {
      const one = n < written ? fresh.sourceAt(n) : null;
      for (; place < count; place++) {
        const next = old.sources[place] as Source;
        if (one !== null && bySourceOrder(next, one) >= 0) break;
        if (!dropped.has(next)) copyWritten(old.table, place, table, sources.push(next) - 1);
      }
      if (one !== null) fresh.copyTo(table, sources.push(one) - 1, n);
    }
    this.#added = [];
    if (dropped.size > 0) this.#dropped = new Set();
    const gone = count + written - sources.length;
    const folded = this.#foldFrom(changed, { table, sources }, before, input);
    this.#before = written + gone <= FEW ? before : null;
    return { ...folded, written, before: this.#before };
  }

  #foldFrom(
    changed: number,
    rows: Rows,
    before: CardRows | null,
    input: FoldInput,
  ): Omit<RunningFold, "written" | "before"> {
    const earlier = this.#before;
    const again = earlier !== null && areSame(earlier.sources, rows.sources) ? earlier : null;
    const start = rows.sources.findIndex(isSetting);
    // Lines before the first setting have its handicap.
    const isStartSame = rows.sources[start] === before?.sources[before.start];
    const from = isStartSame ? Math.max(0, changed - 1) : 0;
    if (again === null) foldRows(rows, start, from, input.adoptions);
    // The window may have been over with the row before the change and be so no more, or the other way about.
    const isSame = isStartSame && from < changed && handicapOf(again ?? rows, from) === before?.handicapAt(from);
    const kept = isSame ? from + 1 : from;
    const read = before?.readUpTo(kept) ?? [];
    this.#rows = again?.readAlso(read) ?? new CardRows(rows, start, input, read);
    return { rows: this.#rows, kept, folded: again === null ? rows.sources.length - from : 0 };
  }

  /** What the rows hold and is not on its way out. */
  #standing(): Source[] {
    return [...new Set(this.#rows?.sources)].filter((one) => !this.#dropped.has(one));
  }

  #compareSets(sets: readonly Setting[]): void {
    const before = this.#sets;
    this.#sets = sets;
    if (sets.length === before.length && sets.every((set, place) => set === before[place])) return;
    for (const set of before) if (!sets.includes(set)) this.#dropped.add(set);
    for (const set of sets) if (!before.includes(set)) this.#added.push(set);
  }
}

const nothingYet: Rows = { table: new Int32Array(0), sources: [] };

function copyWritten(from: Int32Array, place: number, to: Int32Array, at: number): void {
  for (let n = 0; n < WRITTEN; n++) to[at * WIDE + n] = from[place * WIDE + n] as number;
}

const areSame = (one: readonly Source[], other: readonly Source[]): boolean =>
  one.length === other.length && one.every((source, place) => source === other[place]);

const handicapOf = ({ table }: Rows, place: number): number => table[place * WIDE + HANDICAP] as number;

/** The first row of a source, or where it would be. */
function placeOf(sources: readonly Source[], source: Source): number {
  let [low, high] = [0, sources.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (bySourceOrder(sources[middle] as Source, source) < 0) low = middle + 1;
    else high = middle;
  }
  return low;
}
