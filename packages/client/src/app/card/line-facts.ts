/**
 * What is written in a card's line that is not on the line: names, whose word the game rests on, what this device may correct, and where
 * it is kept. All of it is read again whenever anything changes, for it may come from anywhere (a roster, a receipt of the relay, a league),
 * and a line is drawn again only where it came out otherwise. Rejected: lines that each watch the record (every receipt drew a hundred
 * and fifty of them anew).
 */
import type { BookState, CardLine, EntryId, Lineup } from "@sward/core";
import type { Desk } from "../../desk/desk.ts";
import { custodyOf, custodyOfMatch } from "../custody.ts";
import { deviceName, nameOf } from "../desk-store.ts";
import { mayCorrectHere } from "../permission.ts";
import { remembering } from "../remembering.ts";
import { tellersOf } from "../visitors/told-by.ts";
import { cardWords } from "../words/card.ts";
import { number } from "../words.ts";
import type { LineGroup } from "./card-groups.ts";

export interface LineFacts {
  /** With what they played off. Of a setting, who set it. */
  readonly who: string;
  /** Null in singles. */
  readonly partner: string | null;
  /** Whose word the game rests on, one a line; empty where that need not be said. */
  readonly tellers: string;
  /** The report that this device may correct. */
  readonly correct: EntryId | null;
  /** On this device only so far. */
  readonly here: boolean;
}

/** Reads lines one after the other; what several of them ask for is looked up once. Only where a screen is drawn. */
export function factsReader(desk: Desk, state: BookState): (line: CardLine) => LineFacts {
  const books = [...desk.books.values()];
  const named = remembering(nameOf);
  const device = remembering(deviceName);
  const mayCorrect = new Map(
    [...desk.books].map(([id, book]) => [
      id,
      remembering((by: Parameters<typeof deviceName>[0]) => mayCorrectHere(book, by)),
    ]),
  );
  const said = ({ player, off }: Lineup): string => `${named(player)}\u00a0(${number(off)})`;
  return (line) => {
    if (line.line === "set") {
      const here = custodyOf(books, line.entry) === "here";
      return { who: cardWords.lines.setBy(device(line.by)), partner: null, tellers: "", correct: null, here };
    }
    const match = state.matches.get(line.match);
    const own = match?.reports.find(({ by, origin }) => mayCorrect.get(origin)?.(by) === true);
    return {
      who: line.opponents.map(said).join(" & "),
      partner: line.partner === null ? null : said(line.partner),
      tellers: tellersOf(desk, match, device).join("\n"),
      correct: own?.entry ?? null,
      here: custodyOfMatch(books, match) === "here",
    };
  };
}

/** A group and what is written in its lines. */
export interface ReadGroup {
  readonly group: LineGroup;
  /** Of each line in its place. */
  readonly facts: readonly LineFacts[];
  /** A line to bring into view, by its place on the card. */
  readonly show: number | null;
}

/** With a key for each: an event whose games are parted by a day of others has two groups. */
export function readGroups(
  groups: readonly LineGroup[],
  read: (line: CardLine) => LineFacts,
  show: number | null,
): ReadonlyMap<string, ReadGroup> {
  const found = new Map<string, ReadGroup>();
  for (const group of groups) {
    let key = group.key;
    while (found.has(key)) key += " again";
    found.set(key, { group, facts: group.lines.map(({ line }) => read(line)), show });
  }
  return found;
}

/** Whether two groups are drawn alike. A line is never changed; what changes makes another. */
export function areSameGroups(a: ReadGroup, b: ReadGroup): boolean {
  const [one, other] = [a.group, b.group];
  return (
    a.show === b.show &&
    one.event?.title === other.event?.title &&
    one.event?.from === other.event?.from &&
    one.event?.to === other.event?.to &&
    one.lines.length === other.lines.length &&
    one.lines.every(({ line, place }, at) => other.lines[at]?.line === line && other.lines[at]?.place === place) &&
    a.facts.every((facts, at) => areSameFacts(facts, b.facts[at] as LineFacts))
  );
}

const areSameFacts = (a: LineFacts, b: LineFacts): boolean =>
  a.who === b.who && a.partner === b.partner && a.tellers === b.tellers && a.correct === b.correct && a.here === b.here;
