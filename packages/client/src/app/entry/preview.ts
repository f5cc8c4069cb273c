/**
 * What saving would do to the cards of our own members, before it is saved. The card is folded twice by core's own fold, once as it
 * is and once with the match in it, so the screen cannot promise what the card will not show; a test saves the match and compares.
 * Rejected: exchanging the points alone (several games a day, a trigger passed twice, a match dated last week all come out wrong).
 *
 * Settings of the handicap are read from the record by the entries the card itself shows, so corrections are already applied.
 */
import type {
  Adoptions,
  BookState,
  CardLine,
  EntryOf,
  FoldedCard,
  GameLine,
  HandicapMove,
  LineReason,
  Match,
  MatchKey,
  MatchReported,
  PlayedMatch,
  PlayerId,
} from "@sward/core";
import { byCodeUnits, differences, foldCard, matchFacts, matchKey } from "@sward/core";
import type { ReadableBook } from "./reading.ts";
import { adoptionsOf } from "./rules-on.ts";

/** Why nothing moves though the facts are complete: the match would be held, or wait, or is ruled on already. */
export type Standstill = "held" | "waiting" | "ruled";

export interface Effect {
  readonly player: PlayerId;
  /** Index before the match's first game and after its last. */
  readonly index: { readonly before: number; readonly after: number };
  readonly points: number;
  /** Of each game, what moved it or why nothing did. */
  readonly reasons: readonly LineReason[];
  /** Handicap played under when the match began. */
  readonly handicap: number;
  /** The change this match's day or event ends with, when the match makes it. */
  readonly moved: HandicapMove | null;
  /** A change that was coming at the end of this day or event, and does not with this match in it. */
  readonly undone: HandicapMove | null;
  /** The card as it ends, when the match is not its last line: older lines changed what came after. */
  readonly later: {
    readonly lines: number;
    readonly index: { readonly before: number; readonly after: number };
    readonly handicap: { readonly before: number; readonly after: number };
  } | null;
}

export interface Preview {
  readonly effects: readonly Effect[];
  readonly standstill: Standstill | null;
}

/** Effects on those of the match's players who have a card here, in the order they are named. */
export function previewMatch(book: ReadableBook, body: MatchReported): Preview {
  const state = book.state();
  const adoptions = adoptionsOf(state);
  if (adoptions === null) return { effects: [], standstill: null };
  const hypothetical = reconciled(book, body);
  if (typeof hypothetical === "string") return { effects: [], standstill: hypothetical };
  const effects = body.sides
    .flat()
    .flatMap(({ player }) => effectOn(player, { book, state, adoptions, played: hypothetical, body }) ?? []);
  return { effects, standstill: null };
}

interface Question {
  readonly book: ReadableBook;
  readonly state: BookState;
  readonly adoptions: Adoptions;
  readonly played: PlayedMatch;
  readonly body: MatchReported;
}

function effectOn(player: PlayerId, { book, state, adoptions, played, body }: Question): Effect | null {
  const card = state.cards.get(player);
  if (card === undefined) return null;
  const { replaces } = body;
  const others: PlayedMatch[] = [];
  for (const match of state.matches.values()) {
    if (match.facts === null || match.key === played.key) continue;
    if (replaces !== undefined && isOnlyReport(match, replaces)) continue;
    const { key, event, start, status, facts } = match;
    if (facts.sides.flat().some((seat) => seat.player === player)) others.push({ key, event, start, status, facts });
  }
  const shared = { player, adoptions, events: state.events, sets: setsOf(book, card.lines) };
  const after = foldCard({ ...shared, matches: [...others, played] });
  if (after === null) return null;
  return compare(player, card, after, played.key);
}

function compare(player: PlayerId, before: FoldedCard, after: FoldedCard, key: MatchKey): Effect | null {
  const own = after.lines.flatMap((line, at) => (isGameOf(line, key) ? [{ line, at }] : []));
  const [first] = own;
  const last = own.at(-1);
  if (first === undefined || last === undefined) return null;
  const begin = first.line.index - first.line.points;
  const tail = after.lines.length - 1 - last.at;
  return {
    player,
    index: { before: begin, after: last.line.index },
    points: own.reduce((sum, { line }) => sum + line.points, 0),
    reasons: own.map(({ line }) => line.reason),
    // The last line of a day shows the handicap it ends with.
    handicap: first.line.moved?.from ?? first.line.handicap,
    moved: movesOfWindow(after.lines, first.line).find((move) => !isAmong(move, before.lines)) ?? null,
    undone: movesOfWindow(before.lines, first.line).find((move) => !isAmong(move, after.lines)) ?? null,
    later:
      tail === 0
        ? null
        : {
            lines: tail,
            index: { before: before.index, after: after.index },
            handicap: { before: before.handicap, after: after.handicap },
          },
  };
}

/** Changes that take effect when the match's own game, match, day or event is over. */
function movesOfWindow(lines: readonly CardLine[], { date, event, match }: GameLine): readonly HandicapMove[] {
  return lines.flatMap((line) => {
    if (line.line !== "game" || line.moved === null) return [];
    const together =
      line.moved.after === null
        ? line.match === match
        : line.moved.after >= date && (line.date === date || (event !== null && line.event === event));
    return together ? [line.moved] : [];
  });
}

const isAmong = (move: HandicapMove, lines: readonly CardLine[]): boolean =>
  lines.some(
    (line) =>
      line.line === "game" &&
      line.moved !== null &&
      line.moved.from === move.from &&
      line.moved.to === move.to &&
      line.moved.after === move.after,
  );

/** The match as the record would have it with this report in; or why it would not count. */
function reconciled(book: ReadableBook, body: MatchReported): PlayedMatch | Standstill {
  const { matches, unconfirmed } = book.state();
  const key = matchKey(body, (id) => id);
  const facts = matchFacts(body, (id) => id);
  const existing = matches.get(key);
  if (existing !== undefined && existing.ruling !== null) return "ruled";
  const others = (existing?.reports ?? []).filter(({ entry }) => entry !== body.replaces);
  if (others.some((report) => differences(report.facts, facts).length > 0)) return "held";
  const second = others.some(({ by, origin }) => by !== book.device || origin !== book.id);
  if (!second && unconfirmed === "waits") return "waiting";
  return {
    key,
    facts,
    event: lowest([others.length > 0 ? existing?.event : null, body.event]),
    start: lowest([others.length > 0 ? existing?.start : null, body.start]),
    status: second ? "confirmed" : "one-report",
  };
}

const lowest = <T extends string>(values: readonly (T | null | undefined)[]): T | null =>
  values.filter((value): value is T => value !== null && value !== undefined).sort(byCodeUnits)[0] ?? null;

const isGameOf = (line: CardLine, key: MatchKey): line is GameLine => line.line === "game" && line.match === key;

const isOnlyReport = ({ reports }: Match, entry: string): boolean =>
  reports.length === 1 && reports[0]?.entry === entry;

function setsOf(book: ReadableBook, lines: readonly CardLine[]): EntryOf<"handicap-set">[] {
  const shown = new Set(lines.flatMap((line) => (line.line === "set" ? [line.entry] : [])));
  const sets: EntryOf<"handicap-set">[] = [];
  for (const { entry } of book.counted()) if (entry.kind === "handicap-set" && shown.has(entry.id)) sets.push(entry);
  return sets;
}
