/** What a file leaves open and a person answers once for all its lines: whose names these are, and what to do with its events. */
import type { BookState, Day, EventId, PlayerId } from "@sward/core";
import { seasonOf } from "../dates.ts";
import { seatFields } from "./fields.ts";
import type { EventAnswer, LineSetup } from "./lines.ts";
import { cellReader } from "./lines.ts";
import type { NameBook, NameMatch } from "./people.ts";
import { nameKey, peopleInCell } from "./people.ts";
import type { Row } from "./reading.ts";

export type NameChoice =
  | { readonly type: "person"; readonly player: PlayerId }
  /** Joins with the import, under this id. */
  | { readonly type: "visitor"; readonly player: PlayerId };

export interface NameQuestion {
  readonly key: string;
  /** As first written. */
  readonly text: string;
  /** The first line it stands on, and on how many it does. */
  readonly first: number;
  readonly lines: number;
  readonly match: Exclude<NameMatch, { readonly type: "known" }>;
  readonly choice: NameChoice | null;
}

export type NameChoices = ReadonlyMap<string, NameChoice>;

/** Looks a name up among the choices, then in the book; each spelling once. */
export function createWho(book: NameBook, choices: NameChoices): (text: string) => NameMatch {
  const known = new Map<string, NameMatch>();
  return (text) => {
    const held = known.get(text);
    if (held !== undefined) return held;
    const choice = choices.get(nameKey(text));
    const found: NameMatch = choice === undefined ? book.find(text) : { type: "known", player: choice.player };
    known.set(text, found);
    return found;
  };
}

/** Gathers names nobody has, or several have, row by row. */
export function createNameQuestions(
  book: NameBook,
  choices: NameChoices,
  setup: Pick<LineSetup, "columns" | "edits" | "who">,
): { readonly add: (row: Row) => void; readonly all: () => readonly NameQuestion[] } {
  const questions = new Map<string, NameQuestion>();
  const isKnown = (text: string): boolean => setup.who(text).type === "known";
  const ask = (text: string, { line }: Row): void => {
    const match = book.find(text);
    if (match.type === "known") return;
    const key = nameKey(text);
    const held = questions.get(key);
    questions.set(
      key,
      held === undefined
        ? { key, text, first: line, lines: 1, match, choice: choices.get(key) ?? null }
        : { ...held, lines: held.lines + 1 },
    );
  };
  return {
    add(row) {
      const value = cellReader(row, setup);
      for (const [name] of seatFields) for (const { text } of peopleInCell(value(name), isKnown)) ask(text, row);
    },
    all: () => [...questions.values()],
  };
}

export type EventChoice = { readonly type: "open"; readonly event: EventId } | { readonly type: "without" };

export interface EventQuestion {
  readonly key: string;
  readonly title: string;
  readonly season: string;
  readonly lines: number;
  readonly choice: EventChoice | null;
}

export type EventChoices = ReadonlyMap<string, EventChoice>;

/** The same title in another year is another event. */
const eventKey = (title: string, day: Day): string => `${nameKey(title)}|${seasonOf(day)}`;

/** Answers which event a line belongs to, and keeps count of those that are not in the record. */
export function createEvents(
  { events }: Pick<BookState, "events">,
  choices: EventChoices,
): { readonly of: (title: string, day: Day) => EventAnswer; readonly questions: () => readonly EventQuestion[] } {
  const byTitle = new Map<string, { readonly event: EventId; readonly from: Day; readonly to: Day }[]>();
  for (const [event, { title, from, to }] of events) {
    const key = nameKey(title);
    byTitle.set(key, [...(byTitle.get(key) ?? []), { event, from, to }]);
  }
  const asked = new Map<string, EventQuestion>();
  return {
    questions: () => [...asked.values()],
    of(title, day) {
      const called = byTitle.get(nameKey(title)) ?? [];
      const found = called.find(({ from, to }) => from <= day && day <= to);
      if (found !== undefined) return { type: "event", event: found.event };
      const key = eventKey(title, day);
      const choice = choices.get(key) ?? null;
      const held = asked.get(key);
      const lines = (held?.lines ?? 0) + 1;
      asked.set(key, { key, title: held?.title ?? title, season: seasonOf(day), lines, choice });
      if (choice !== null) return choice.type === "open" ? { type: "event", event: choice.event } : { type: "without" };
      const near = called.find(({ from }) => seasonOf(from) === seasonOf(day));
      return near === undefined ? { type: "open" } : { type: "not-on-day", from: near.from, to: near.to };
    },
  };
}
