/**
 * The wall chart: every pairing of the members, with the extra strokes and whose they are, cut into sheets a printer can print. The
 * rows of one sheet and its columns are of equal numbers as far as they go, so that no sheet has a lone row. Rejected: one huge table
 * left to the browser (it cuts columns off at the edge of the paper, and nobody sees it before it is printed).
 */
import type { BookState, Card, Day, Format, PlayerId, RuleSet } from "@sward/core";
import { byCodeUnits, extraStrokes, handicapInForce, triggerOf } from "@sward/core";

export interface WallPerson {
  readonly player: PlayerId;
  readonly name: string;
  readonly short: string;
  readonly handicap: number;
}

/** Members with a handicap on a day, strongest first. */
export function wallPeople(
  { players, cards }: Pick<BookState, "players" | "cards">,
  named: (player: PlayerId) => { readonly name: string; readonly short: string },
  today: Day,
): readonly WallPerson[] {
  return [...players.values()]
    .flatMap(({ player, standing }): WallPerson[] => {
      const card: Card | undefined = cards.get(player);
      if (standing !== "member" || card === undefined) return [];
      return [{ player, ...named(player), handicap: handicapInForce(card, today).handicap }];
    })
    .sort((a, b) => a.handicap - b.handicap || byCodeUnits(a.name, b.name) || byCodeUnits(a.player, b.player));
}

/** A column: somebody, or everybody with one handicap. */
export interface WallColumn {
  readonly key: string;
  /** Null where the column is of a handicap. */
  readonly name: string | null;
  readonly handicap: number;
  readonly player: PlayerId | null;
}

export interface WallSheet {
  readonly rows: readonly WallPerson[];
  readonly columns: readonly WallColumn[];
}

export interface WallSize {
  readonly rows: number;
  readonly columns: number;
}

/** What fits on A4 lying down with figures that can be read at arm's length. */
export const SHEET: WallSize = { rows: 22, columns: 24 };

/** What a row is called: the whole name where it fits on one line, since rows of two lines push the last ones off the sheet. */
export const rowName = ({ name, short }: WallPerson): string => ([...name].length <= LONGEST ? name : short);

const LONGEST = 26;

export const columnsOfPeople = (people: readonly WallPerson[]): readonly WallColumn[] =>
  people.map(({ player, short, handicap }) => ({ key: player, name: short, handicap, player }));

export const columnsOfHandicaps = (rules: RuleSet): readonly WallColumn[] =>
  rules.triggers.map(({ handicap }) => ({ key: String(handicap), name: null, handicap, player: null }));

/** Sheets left to right, then downward. */
export function wallSheets(
  rows: readonly WallPerson[],
  columns: readonly WallColumn[],
  size: WallSize = SHEET,
): readonly WallSheet[] {
  const across = evenly(columns, size.columns);
  return evenly(rows, size.rows).flatMap((some) => across.map((beside) => ({ rows: some, columns: beside })));
}

/** As few parts as there can be of at most so many each, and as equal as they can be. */
export function evenly<T>(all: readonly T[], most: number): readonly (readonly T[])[] {
  const parts = Math.ceil(all.length / most);
  return Array.from({ length: parts }, (_, at) =>
    all.slice(Math.ceil((at * all.length) / parts), Math.ceil(((at + 1) * all.length) / parts)),
  );
}

export type WallCell =
  | { readonly type: "self" | "none" | "unknown" }
  /** The player of the row receives them from the other, or gives them. */
  | { readonly type: "receives" | "gives"; readonly extra: number };

/** A function from a pairing to its cell, which asks core once for each pair of handicaps. */
export function wallCells(rules: RuleSet, format: Format): (row: WallPerson, column: WallColumn) => WallCell {
  const known = new Map<string, WallCell>();
  return (row, column) => {
    if (row.player === column.player) return { type: "self" };
    const key = `${row.handicap} ${column.handicap}`;
    const cell = known.get(key) ?? cellOf(rules, format, row.handicap, column.handicap);
    known.set(key, cell);
    return cell;
  };
}

function cellOf(rules: RuleSet, format: Format, own: number, theirs: number): WallCell {
  if (triggerOf(rules, own) === undefined || triggerOf(rules, theirs) === undefined) return { type: "unknown" };
  const found = extraStrokes(rules, { format, sides: [[own], [theirs]] });
  if (!found.ok) return { type: "unknown" };
  const stroke = found.value.choices[0]?.strokes[0];
  if (stroke === undefined) return { type: "none" };
  return { type: stroke.side === 1 ? "receives" : "gives", extra: stroke.extra };
}

/** The first letters of an id, enough to tell the members of one club apart in an address. */
export const tokenOf = (player: PlayerId): string => player.slice(0, 8);

/** Those an address names; all of them when it names none. */
export function chosenPeople(people: readonly WallPerson[], who: string | undefined): readonly WallPerson[] {
  if (who === undefined) return people;
  const tokens = new Set(who.split("."));
  return people.filter(({ player }) => tokens.has(tokenOf(player)));
}
