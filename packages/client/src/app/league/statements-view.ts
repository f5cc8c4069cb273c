/**
 * What is stated of the players of a league, club by club, and what our own cards say against it: a club states its players' handicaps so
 * that the others know them before play, also without a signal, and each with how old it is. And the matches played off something
 * else, with what would have been different.
 */
import type { BookState, Choice, Day, Draft, KeyId, OffDifference, PlayerId, Statement, Statements } from "@sward/core";
import { byCodeUnits, handicapInForce, statedOn } from "@sward/core";

export interface StatedLine {
  readonly player: PlayerId;
  /** In force on the day; null when nothing is stated. */
  readonly stated: Statement | null;
  /** By our own card on the day; null for other clubs' players and for one without a card. */
  readonly card: { readonly handicap: number; readonly index: number } | null;
  /** Our card says something else than is stated, or nothing is. */
  readonly isDue: boolean;
}

export interface ClubStatements {
  readonly club: KeyId;
  readonly name: string;
  readonly lines: readonly StatedLine[];
}

interface Here {
  readonly league: BookState;
  readonly club: Pick<BookState, "cards">;
  /** The club of this device; null for the league's officers. */
  readonly own: KeyId | null;
  readonly statements: Statements;
  readonly day: Day;
}

/** Our own club first, the others by name; players by name. */
export function statementsByClub(here: Here, nameOf: (player: PlayerId) => string): readonly ClubStatements[] {
  const { league, own } = here;
  const clubs = [...league.clubs].map(([club, { name }]) => ({ club, name }));
  clubs.sort((a, b) => Number(b.club === own) - Number(a.club === own) || byCodeUnits(a.name, b.name));
  return clubs.map(({ club, name }) => {
    const players = [...league.players.values()].filter(({ home }) => (home?.book as string | undefined) === club);
    const lines = players.map(({ player }) => lineOf(here, player, club === own));
    lines.sort((a, b) => byCodeUnits(nameOf(a.player), nameOf(b.player)) || byCodeUnits(a.player, b.player));
    return { club, name, lines };
  });
}

function lineOf({ club, statements, day }: Here, player: PlayerId, isOurs: boolean): StatedLine {
  const stated = statedOn(statements, player, day);
  const known = isOurs ? club.cards.get(player) : undefined;
  const card = known === undefined ? null : { handicap: handicapInForce(known, day).handicap, index: known.index };
  const isDue = card !== null && (stated?.handicap !== card.handicap || stated.index !== card.index);
  return { player, stated, card, isDue };
}

/** States for the day what our cards say, of those for whom it is due. */
export const statementsDue = (lines: readonly StatedLine[], on: Day): readonly Draft[] =>
  lines.flatMap(({ player, card, isDue }): Draft[] =>
    card === null || !isDue ? [] : [{ kind: "handicap-stated", body: { player, ...card, on } }],
  );

/** Extra strokes of the two sides for each lawful way, such as `0–3`; partners together. */
export const strokesShown = (choices: readonly Choice[]): readonly string[] => [
  ...new Set(
    choices.map(({ strokes }) => {
      const of = (side: 1 | 2): number =>
        strokes.filter((one) => one.side === side).reduce((sum, { extra }) => sum + extra, 0);
      return `${of(1)}–${of(2)}`;
    }),
  ),
];

/** Whether anything at all would have been different. */
export const changesSomething = ({ strokes, games }: OffDifference): boolean =>
  games.some(({ was, would }) => was !== would) ||
  (strokes !== null && strokesShown(strokes.was).join() !== strokesShown(strokes.would).join());
