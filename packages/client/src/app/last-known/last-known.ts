/**
 * What this device last knew, small enough to be read and drawn before anything of the record is: who is here and off what, and how much
 * waits to be looked at. A record of ten years takes a phone seconds to read; somebody who only wants to know a handicap has it at once.
 *
 * It is made from the record and never the other way round: nothing is worked out from it, nothing is saved on it, and when the record has
 * been read it is thrown away. It is kept with a hash of the code that made it, rules included, and not shown by any other. Names are not
 * in it: they come from where the roster keeps them, so that one that was erased is nowhere else.
 *
 * Rejected: a whole state from the disk that the record then goes on from (every index in it would be believed unchecked for good), and
 * keeping the picture of the screen (it would show names, and the handicaps of another day).
 */
import type { BookState, Card, Day, MatchFacts, PlayerId, Steps } from "@sward/core";
import { handicapInForce, linesOf } from "@sward/core";
import type { Group } from "../attention/groups.ts";
import type { Matter } from "../attention/matters.ts";
import type { Named, RecordRow, RollRow } from "../members/roll.ts";
import { recordRows } from "../members/roll.ts";
import { attentionWords } from "../words/attention.ts";

/** Somebody's row of the list of members, without the name. */
export interface KnownRow extends RecordRow {
  /** Handicaps that come into force on later days, as far as the record goes, in order. */
  readonly ahead: readonly { readonly from: Day; readonly row: Pick<RollRow, "handicap" | "waiting"> }[];
}

/** A group of things to do: how many, and whom they are about. */
export interface KnownGroup {
  readonly title: string;
  readonly count: number;
  readonly players: readonly PlayerId[];
}

export interface LastKnown {
  /** Name of the club. */
  readonly name: string;
  readonly entries: number;
  readonly rows: readonly KnownRow[];
  readonly groups: readonly KnownGroup[];
}

/**
 * A row a step: of a large club they are many, and while they are made somebody may be typing. What comes meanwhile is noted next time.
 *
 * @param groups of the first screen, from `groupMatters`
 */
export function* knowingLast(state: BookState, groups: readonly Group[], today: Day): Steps<LastKnown> {
  const { name, entries } = state;
  const cards = new Map(state.cards);
  const rows: KnownRow[] = [];
  for (const row of yield* recordRows(state, today)) {
    const card = cards.get(row.player);
    rows.push({ ...row, ahead: card === undefined ? [] : aheadOf(card, today) });
    yield;
  }
  return { name, entries, rows, groups: groups.flatMap(knownGroup) };
}

/** The row of a day, which is the one it was kept on or later. */
export function rowOn({ ahead, ...row }: KnownRow, day: Day, named: Named): RollRow {
  const now = ahead.findLast(({ from }) => from <= day);
  return { ...row, ...now?.row, ...named };
}

/**
 * Nearly always none: what waits for the end of today or of an event, and what a handicapper has set for a day to come. Only the last
 * lines are made: all of sixty cards are as many as the record has games, and stay for as long as it is open.
 */
function aheadOf(card: Card, today: Day): KnownRow["ahead"] {
  const days = new Set<Day>();
  const lines = linesOf(card);
  for (let at = lines.count - 1; at >= 0; at--) {
    const line = lines.lineAt(at);
    if (line.date > today) days.add(line.date);
    const after = line.line === "game" ? (line.moved?.after ?? null) : null;
    if (after !== null && after >= today) days.add(dayAfter(after));
    // What is in force follows from the last line by a day.
    if (line.date <= today) break;
  }
  return [...days].sort().map((from) => ({ from, row: handicapInForce(card, from) }));
}

const dayAfter = (day: Day): Day => {
  const next = new Date(`${day}T00:00:00Z`);
  next.setUTCDate(next.getUTCDate() + 1);
  return next.toISOString().slice(0, 10);
};

/** What this device stands like is looked at anew at each start, and is nothing the record says. */
function knownGroup(group: Group): KnownGroup[] {
  if (group.name === "device") return [];
  const { title } = "said" in group ? group.said : attentionWords.groups[group.name];
  const players = "said" in group ? [] : [...new Set(group.matters.flatMap(playersOf))];
  return [{ title, count: group.matters.length, players }];
}

function playersOf(matter: Matter): readonly PlayerId[] {
  switch (matter.about) {
    case "card":
    case "no-handicap":
    case "newcomer":
    case "idle-card":
      return [matter.player];
    case "founders":
      return matter.founders.map(({ player }) => player);
    case "disputed-match":
      return matter.match.reports.flatMap(({ facts }) => seated(facts));
    case "one-report":
      return matter.matches.flatMap(({ reports }) => reports.flatMap(({ facts }) => seated(facts)));
    default:
      return [];
  }
}

const seated = ({ sides }: MatchFacts): readonly PlayerId[] => sides.flat().map(({ player }) => player);
