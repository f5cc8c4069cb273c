/**
 * The reports of a record as columns: what they say alike stands once in a table, and a report is fourteen numbers, an id and a signature.
 * Ten years of one club are six megabytes so, and not seventeen; and a start has them in a quarter of the time, since a parser makes a
 * list of numbers and some short tables, and not fifteen objects for each report that are thrown away when the small one is made of them.
 *
 *     ids         id id id …                      one after another, like the signatures
 *     tables      hands, days, kinds, sides, games, more
 *     numbers     hand, seq, prev, moment, day, kind, side, side, games, form, more, client, clock, volume, | hand, seq, …
 *
 * In a table of what may be missing, 0 is nothing and n the n-th: `prev` where a report does not name the last entry of its author in this
 * record, `more` where its body says more than its facts.
 *
 * Rejected: numbers as bytes in place of text (half again, and a second form beside JSON for whoever looks into a vault), and the same for
 * every kind of entry (nine in ten are reports).
 */
import type { BookId, EntryId, KeyId, MatchFacts, More, ReportParts, Sharing } from "@sward/core";
import { reportOf } from "@sward/core";
import { KeptEntry, nowhere, SIGNATURE_LENGTH } from "./kept-entry.ts";
import type { Place } from "./vault.ts";

/** Of a report: occasion, play, format, and 1 where it is left out of both cards. */
type KindRow = readonly [MatchFacts["occasion"], MatchFacts["play"], MatchFacts["format"], 0 | 1];
type Side = MatchFacts["sides"][0];
type Games = MatchFacts["games"];

export interface ReportColumns {
  readonly ids: string;
  readonly signatures: string;
  readonly hands: readonly (readonly [KeyId, BookId])[];
  readonly days: readonly MatchFacts["date"][];
  readonly kinds: readonly KindRow[];
  readonly sides: readonly Side[];
  readonly games: readonly Games[];
  readonly more: readonly More[];
  readonly prevs: readonly (EntryId | null)[];
  readonly numbers: readonly number[];
}

const ID_LENGTH = 43;
const NUMBERS = 14;

/** A report as it is written down. */
export interface WrittenReport {
  readonly parts: ReportParts;
  readonly signature: string;
  readonly place: Place | null;
  /** It names the last entry of its author in this record. */
  readonly isNext: boolean;
}

/** Whether its id and its signature are as long as all others. */
export const fitsColumns = ({ parts, signature }: Pick<WrittenReport, "parts" | "signature">): boolean =>
  parts.id.length === ID_LENGTH && signature.length === SIGNATURE_LENGTH && typeof parts.moment === "number";

/** @param reports all of which fit */
export function columnsOf(reports: readonly WrittenReport[]): ReportColumns {
  const [hands, days, kinds] = [createTable<readonly [KeyId, BookId]>(), createTable<string>(), createTable<KindRow>()];
  const [sides, games] = [createTable<Side>(), createTable<Games>()];
  const more: More[] = [];
  const prevs: (EntryId | null)[] = [];
  const numbers: number[] = [];
  for (const { parts, place, isNext } of reports) {
    const { facts, hand } = parts;
    const { occasion, play, format, excluded } = facts;
    const { client, clock, volume = 0 } = place ?? nowhere;
    numbers.push(
      hands.place(hand, () => [hand.author, hand.book]),
      parts.seq,
      isNext ? 0 : prevs.push(parts.prev),
      parts.moment as number,
      days.place(facts.date, () => facts.date),
      kinds.place(`${occasion} ${play} ${format} ${excluded}`, () => [occasion, play, format, excluded ? 1 : 0]),
      sides.place(facts.sides[0], () => facts.sides[0]),
      sides.place(facts.sides[1], () => facts.sides[1]),
      games.place(facts.games, () => facts.games),
      parts.form,
      parts.more === null ? 0 : more.push(parts.more),
      client,
      clock,
      volume,
    );
  }
  return {
    ids: reports.map(({ parts }) => parts.id).join(""),
    signatures: reports.map(({ signature }) => signature).join(""),
    ...{ hands: hands.rows, days: days.rows, kinds: kinds.rows, sides: sides.rows, games: games.rows },
    ...{ more, prevs, numbers },
  };
}

/** What is said alike, by the object or the text that it shares. */
function createTable<Row>(): { readonly rows: readonly Row[]; place(key: unknown, row: () => Row): number } {
  const rows: Row[] = [];
  const places = new Map<unknown, number>();
  return {
    rows,
    place(key, row) {
      const known = places.get(key);
      if (known !== undefined) return known;
      const place = rows.push(row()) - 1;
      places.set(key, place);
      return place;
    },
  };
}

export interface ColumnReader {
  /** The next report. */
  next(): KeptEntry;
}

/** @param last of each author, the last entry read; it is told of those that are read here */
export function readColumns(columns: ReportColumns, sharing: Sharing, last: Map<KeyId, EntryId>): ColumnReader {
  const { ids, signatures, prevs, more, numbers } = columns;
  const hands = columns.hands.map(([author, book]) => sharing.hand(author, book));
  const days = columns.days.map(sharing.text);
  const kinds = columns.kinds.map(
    ([occasion, play, format, excluded]) =>
      [sharing.text(occasion), sharing.text(play), format, excluded === 1] as const,
  );
  const sides = columns.sides.map((side) => sharedSide(side, sharing));
  const games = columns.games.map((all) => sharedGames(all, sharing));
  let [report, at] = [0, 0];
  return {
    next() {
      const hand = tableRow(hands, numbers[at]);
      const [occasion, play, format, excluded] = tableRow(kinds, numbers[at + 5]);
      const prev = numbers[at + 2] as number;
      const beyond = numbers[at + 10] as number;
      const before = last.get(hand.author) ?? null;
      const named = prev === 0 ? before : (prevs[prev - 1] ?? null);
      const id = ids.slice(report * ID_LENGTH, (report + 1) * ID_LENGTH) as EntryId;
      last.set(hand.author, id);
      const entry = reportOf({
        id,
        seq: numbers[at + 1] as number,
        prev: named === before ? before : named,
        facts: {
          date: tableRow(days, numbers[at + 4]),
          occasion,
          play,
          format,
          sides: sharing.sides(tableRow(sides, numbers[at + 6]), tableRow(sides, numbers[at + 7])),
          games: tableRow(games, numbers[at + 8]),
          excluded,
        },
        hand,
        moment: numbers[at + 3] as number,
        form: numbers[at + 9] as number,
        more: beyond === 0 ? null : tableRow(more, beyond - 1),
      });
      const [client, clock, volume] = [numbers[at + 11], numbers[at + 12], numbers[at + 13]] as [
        number,
        number,
        number,
      ];
      const kept = KeptEntry.ofEntry(entry, signatures, { client, clock, volume }, report * SIGNATURE_LENGTH);
      report += 1;
      at += NUMBERS;
      return kept;
    },
  };
}

function sharedSide(side: Side, sharing: Sharing): Side {
  const seats = side.map(({ player, off }) => sharing.seat(player, off));
  const [first] = seats;
  return seats.length === 1 && first !== undefined ? first : seats.map(([seat]) => seat);
}

function sharedGames(all: Games, sharing: Sharing): Games {
  const games = all.map(({ score: [one, other], ended }) => sharing.game(one, other, ended));
  const [first] = games;
  return games.length === 1 && first !== undefined ? first : games.flat();
}

function tableRow<Row>(table: readonly Row[], at: number | undefined): Row {
  const row = at === undefined ? undefined : table[at];
  if (row === undefined) throw new RangeError(`a record's table has no row ${at}`);
  return row;
}
