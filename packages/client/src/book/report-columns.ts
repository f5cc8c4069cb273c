/**
 * The reports of a record as columns: what they say alike stands once in a table, and a report is fourteen numbers, an id and a signature.
 * Ten years of one club are six megabytes so, and not seventeen; and a start has them in half the time, since a parser makes a
 * list of numbers and some short tables, and not fifteen objects for each report that are thrown away when the small one is made of them.
 *
 *     ids         id id id …                      one after another, like the signatures
 *     tables      hands, days, kinds, sides, games, more, prevs
 *     numbers     hand, seq, prev, moment, day, kind, n, side, side, games, more, client, clock, volume, | hand, seq, …
 *
 * Written is what was signed, and nothing that was made of it. `prev` is 0 where a report names the last entry of its author in this
 * record, and else the n-th of `prevs`; `more` is 0 where its body says no more than a match, and else the n-th of `more`. A report that
 * lies in no document has a clock below 0.
 *
 * Rejected: numbers as bytes in place of text (half again, and a second form beside JSON for whoever looks into a vault), and the same for
 * every kind of entry (nine in ten are reports).
 */
import type { BookId, EntryId, KeyId, KnownEntry, MatchFacts, More, ReportParts, Sharing } from "@sward/core";
import { createSharing, keepReport, partsOf, reportOf } from "@sward/core";
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

/** Where each stands among the numbers of its report. */
const [HAND, SEQ, PREV, MOMENT, DAY, KIND, N] = [0, 1, 2, 3, 4, 5, 6] as const;
const [FIRST, SECOND, GAMES, MORE, CLIENT, CLOCK, VOLUME, NUMBERS] = [7, 8, 9, 10, 11, 12, 13, 14] as const;

/** An entry that is understood, as a vault has it. */
export interface ReadEntry {
  readonly entry: KnownEntry;
  readonly signature: string;
  readonly place: Place | null;
}

export interface ColumnWriter {
  /** Of all entries of the record, in order: whether this one stands in the columns. */
  take(read: ReadEntry): boolean;
  /** Null where none does. */
  columns(): ReportColumns | null;
}

export function createColumnWriter(): ColumnWriter {
  const sharing = createSharing();
  const last = new Map<KeyId, EntryId>();
  const [ids, signatures]: [EntryId[], string[]] = [[], []];
  const [hands, days, kinds] = [createTable<readonly [KeyId, BookId]>(), createTable<string>(), createTable<KindRow>()];
  const [sides, games] = [createTable<Side>(), createTable<Games>()];
  const more: More[] = [];
  const prevs: (EntryId | null)[] = [];
  const numbers: number[] = [];

  function put(parts: ReportParts, isNext: boolean, place: Place | null): void {
    const { hand, said } = parts;
    const { date, occasion, play, format, excluded } = said;
    const { client, clock, volume = 0 } = place ?? nowhere;
    numbers.push(
      hands.place(`${hand.author} ${hand.book}`, () => [hand.author, hand.book]),
      parts.seq,
      isNext ? 0 : prevs.push(parts.prev),
      parts.moment as number,
      days.place(date, () => date),
      kinds.place(`${occasion} ${play} ${format} ${excluded}`, () => [occasion, play, format, excluded ? 1 : 0]),
      parts.n,
      sides.place(namedByPlayers(said.sides[0]), () => said.sides[0]),
      sides.place(namedByPlayers(said.sides[1]), () => said.sides[1]),
      games.place(namedByScores(said.games), () => said.games),
      parts.more === null ? 0 : more.push(parts.more),
      client,
      clock,
      volume,
    );
  }

  return {
    take({ entry, signature, place }) {
      const { id, author, prev } = entry;
      const isNext = last.get(author) === prev;
      last.set(author, id);
      const parts = entry.kind === "match-reported" ? partsOf(keepReport(entry, prev, sharing)) : null;
      if (parts === null || !fits(parts, signature)) return false;
      ids.push(id);
      signatures.push(signature);
      put(parts, isNext, place);
      return true;
    },
    columns: () =>
      ids.length === 0
        ? null
        : {
            ...{ ids: ids.join(""), signatures: signatures.join("") },
            ...{ hands: hands.rows, days: days.rows, kinds: kinds.rows, sides: sides.rows, games: games.rows },
            ...{ more, prevs, numbers },
          },
  };
}

/** Whether its id and its signature are as long as all others, and its moment is a number. */
const fits = ({ id, moment }: ReportParts, signature: string): boolean =>
  id.length === ID_LENGTH && signature.length === SIGNATURE_LENGTH && typeof moment === "number";

const namedByPlayers = (side: Side): string => side.map(({ player, off }) => `${player} ${off}`).join("+");

const namedByScores = (games: Games): string => games.map(({ score, ended = "" }) => `${score} ${ended}`).join("|");

/** What is said alike, by a text that says the same of it. */
function createTable<Row>(): { readonly rows: readonly Row[]; place(key: string, row: () => Row): number } {
  const rows: Row[] = [];
  const places = new Map<string, number>();
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
  readonly count: number;
  /** The next report. */
  next(): KeptEntry;
  /** An entry of the record that stands in no column, in its turn. */
  passed(author: KeyId, id: EntryId): void;
}

/** @throws RangeError where the columns are not of one length */
export function readColumns(columns: ReportColumns, sharing: Sharing): ColumnReader {
  const { ids, signatures, days, kinds, sides, games, prevs, more, numbers } = columns;
  const count = numbers.length / NUMBERS;
  if (ids.length !== count * ID_LENGTH || signatures.length !== count * SIGNATURE_LENGTH)
    throw new RangeError("the columns of a record are not of one length");
  const hands = columns.hands.map(([author, book]) => sharing.hand(author, book));
  const last = new Map<KeyId, EntryId>();
  let report = 0;
  return {
    count,
    passed: (author, id) => void last.set(author, id),
    next() {
      const of = report * NUMBERS;
      const hand = row(hands, numbers[of + HAND]);
      const [occasion, play, format, excluded] = row(kinds, numbers[of + KIND]);
      const [prev, beyond] = [numbers[of + PREV] as number, numbers[of + MORE] as number];
      const id = ids.slice(report * ID_LENGTH, (report + 1) * ID_LENGTH) as EntryId;
      const parts: ReportParts = {
        id,
        seq: numbers[of + SEQ] as number,
        prev: prev === 0 ? (last.get(hand.author) ?? null) : row(prevs, prev - 1),
        hand,
        moment: numbers[of + MOMENT] as number,
        n: numbers[of + N] as number,
        said: {
          date: row(days, numbers[of + DAY]),
          occasion,
          play,
          format,
          sides: [row(sides, numbers[of + FIRST]), row(sides, numbers[of + SECOND])],
          games: row(games, numbers[of + GAMES]),
          excluded: excluded === 1,
        },
        more: beyond === 0 ? null : row(more, beyond - 1),
      };
      last.set(hand.author, id);
      const [client, clock] = [numbers[of + CLIENT] as number, numbers[of + CLOCK] as number];
      const place = { client, clock, volume: numbers[of + VOLUME] as number };
      const kept = KeptEntry.ofEntry(reportOf(parts, sharing), signatures, place, report * SIGNATURE_LENGTH);
      report += 1;
      return kept;
    },
  };
}

function row<Row>(table: readonly Row[], at: number | undefined): Row {
  const found = at === undefined ? undefined : table[at];
  if (found === undefined) throw new RangeError(`a record's table has no row ${at}`);
  return found;
}
