/**
 * What a card's row says of a match of one game between two, as nearly all are, packed into a whole number beside the day and the name
 * on the first side. It is made when the match is, where all that the match says is at hand. Later its two cards are written, and by
 * then the matches of one card lie all over the memory: from facts a row is made by eight fetches, each of which has to wait for the one
 * before it; from this, by one.
 *
 *     bits   0     7       14      15      16     17         18 and on
 *            off   off     counts  won by  level  says more  occasion
 *            first second          second
 *
 * Rejected: columns of such numbers for a whole book (a match that goes leaves a hole, and who has a match would need its place too).
 *
 * SPEC: RP.
 */
import type { CompiledRules } from "../exchange/compiled-rules.ts";
import { singlesPoints } from "../exchange/compiled-rules.ts";
import type { PlayerId } from "../ids.ts";
import type { Game, Lineup, Occasion } from "../ledger/kinds.ts";
import { occasions } from "../ledger/kinds.ts";
import { LOWEST } from "../rules/triggers.ts";
import type { MatchFacts } from "../state.ts";

export interface SingleGame {
  /** Who is on the first side. */
  readonly first: PlayerId;
  /** As `dayDigits` has it. */
  readonly day: number;
  /** Below 0 where the match is of more players, or of more games. */
  readonly game: number;
}

/** Every bit is set: it says more. */
const NOT_SINGLE = -1;

const OFF = 127;
const OF_SECOND = 7;
const COUNTS = 1 << 14;
const WON_BY_SECOND = 1 << 15;
const LEVEL = 1 << 16;
const SAYS_MORE = 1 << 17;
const OCCASION = 18;

/** @param more whether the report has an event or a starting time */
export function gameDigits({ occasion, play, sides, games, excluded }: MatchFacts, more: boolean): number {
  const [one, other] = [sides[0], sides[1]];
  if (one.length + other.length + games.length !== 3) return NOT_SINGLE;
  const { score, ended } = games[0] as Game;
  const lead = score[0] - score[1];
  const isPlayed = ended !== "abandoned" && ended !== "walkover";
  return (
    ((one[0] as Lineup).off - LOWEST) |
    (((other[0] as Lineup).off - LOWEST) << OF_SECOND) |
    (isPlayed && !excluded && lead !== 0 ? COUNTS : 0) |
    (lead < 0 ? WON_BY_SECOND : 0) |
    (play === "level" ? LEVEL : 0) |
    (more ? SAYS_MORE : 0) |
    (occasions.indexOf(occasion) << OCCASION)
  );
}

export const saysMore = (game: number): boolean => (game & SAYS_MORE) !== 0;

/** What a side was played off. */
export const offOf = (game: number, side: 0 | 1): number => ((game >> (side * OF_SECOND)) & OFF) + LOWEST;

/** Points it moves on the card of a side's player. */
export function pointsOfSingle(game: number, side: 0 | 1, rules: CompiledRules): number {
  if ((game & COUNTS) === 0 || !rules.counting.has(occasions[game >> OCCASION] as Occasion)) return 0;
  const winner = (game & WON_BY_SECOND) === 0 ? 0 : 1;
  const play = (game & LEVEL) === 0 ? "handicap" : "level";
  const points = singlesPoints(rules, play, offOf(game, winner), offOf(game, winner === 0 ? 1 : 0));
  return movedBy(points, side === winner);
}

/** On the card of who won or lost a game. Worth less than nothing is what has no row in a table, or no table that could be read. */
export const movedBy = (worth: number, won: boolean): number => (worth <= 0 ? 0 : won ? worth : -worth);
