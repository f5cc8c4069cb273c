/**
 * Results of one player folded into a card by core, as it folds those of a book. A file of results says what the opponent was
 * played off and nothing of the player, who is taken to have played off the handicap the card gives: it is put in, the card
 * folded, and what the card then says put in again, until both agree. Every round settles at least one more change of handicap
 * for good, since a line depends only on those before it.
 *
 * Games of one title in one calendar year are one event, from the first of them to the last. Within a day the file's order holds.
 */
import type {
  CardInput,
  Day,
  EntryOf,
  EventId,
  FoldedCard,
  GameLine,
  PlayedMatch,
  PlayerId,
  RuleSet,
} from "@sward/core";
import { compileRules, foldCard } from "@sward/core";
import type { ResultRow } from "./results-file.ts";

export interface Start {
  readonly handicap: number;
  readonly index: number;
}

export interface ResultsCard {
  /** In the card's order: by day, then as in the file. */
  readonly lines: readonly { readonly row: ResultRow; readonly line: GameLine }[];
  readonly handicap: number;
  readonly index: number;
}

const OWN = "own" as PlayerId;
const OPPONENT = "opponent" as PlayerId;

export function cardOfResults(set: RuleSet, start: Start, rows: readonly ResultRow[]): ResultsCard {
  const ordered = [...rows].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : a.line - b.line));
  const from = ordered[0]?.date ?? "2000-01-01";
  const input = {
    player: OWN,
    adoptions: [{ from, rules: compileRules(set) }],
    events: eventsOf(ordered),
    sets: [startingEntry(start, from)],
  } satisfies Omit<CardInput, "matches">;

  let offs = ordered.map(() => start.handicap);
  for (;;) {
    const card = fold({ ...input, matches: ordered.map((row, at) => matchOf(row, at, offs[at] ?? start.handicap)) });
    // The line before says what handicap was in force; the first line of all is the start.
    const recorded = card.lines.slice(0, -1).map(({ handicap }) => handicap);
    if (recorded.every((handicap, at) => handicap === offs[at])) return withRows(card, ordered);
    offs = recorded;
  }
}

function fold(input: CardInput): FoldedCard {
  const card = foldCard(input);
  if (card === null) throw new Error("a card with a start folds to a card");
  return card;
}

function withRows({ lines, handicap, index }: FoldedCard, ordered: readonly ResultRow[]): ResultsCard {
  const games = lines.filter((line): line is GameLine => line.line === "game");
  const paired = ordered.map((row, at) => {
    const line = games[at];
    if (line === undefined) throw new Error("every result has its line on the card");
    return { row, line };
  });
  return { lines: paired, handicap, index };
}

const eventId = ({ event, date }: ResultRow): EventId => `${date.slice(0, 4)} ${event}` as EventId;

function eventsOf(ordered: readonly ResultRow[]): CardInput["events"] {
  const events = new Map<EventId, { occasion: ResultRow["occasion"]; from: Day; to: Day }>();
  for (const row of ordered) {
    if (row.event === "") continue;
    const { occasion, from } = events.get(eventId(row)) ?? { occasion: row.occasion, from: row.date };
    events.set(eventId(row), { occasion, from, to: row.date });
  }
  return events;
}

function matchOf(row: ResultRow, at: number, off: number): PlayedMatch {
  return {
    key: String(at).padStart(8, "0") as PlayedMatch["key"],
    event: row.event === "" ? null : eventId(row),
    start: null,
    status: "confirmed",
    facts: {
      date: row.date,
      occasion: row.occasion,
      play: row.play,
      format: row.format,
      sides: [[{ player: OWN, off }], [{ player: OPPONENT, off: row.opponentHandicap }]],
      games: [row.game],
      excluded: false,
    },
  };
}

function startingEntry({ handicap, index }: Start, from: Day): EntryOf<"handicap-set"> {
  type Entry = EntryOf<"handicap-set">;
  return {
    id: "start" as Entry["id"],
    author: "start" as Entry["author"],
    book: "start" as Entry["book"],
    seq: 0,
    prev: null,
    at: `${from}T00:00:00Z`,
    understood: true,
    kind: "handicap-set",
    body: { player: OWN, handicap, index, from, basis: "initial", reason: "start of the card" },
  };
}
