/**
 * Games counted the ways a review asks: by the strokes their receivers had, by the gap of handicaps in level play, and by player.
 * Whole numbers only; what they are worth as evidence is not said here.
 *
 * SPEC: RV3 to RV7.
 */
import type { PlayerId } from "../ids.ts";
import type { Play } from "../ledger/kinds.ts";
import { byCodeUnits, byNumber } from "../order.ts";
import type { Counted } from "../replay/counted.ts";
import type { BookState } from "../state.ts";
import type { LeftOutReason, ReportBodies, ReviewedGame, Span } from "./games.ts";
import { gamesToReview } from "./games.ts";
import type { StrokeRecord } from "./strokes-taken.ts";
import { strokeRecords } from "./strokes-taken.ts";

export interface Tally {
  readonly games: number;
  readonly won: number;
}

/** Extra strokes received in one game, from..to, null for no upper end. */
export const strokeBands = [
  { from: 1, to: 3 },
  { from: 4, to: 6 },
  { from: 7, to: null },
] as const;

/** Games whose receiver had `from` to `to` strokes more than the other side; `won` by the receiver. */
export interface ReceiverBand extends Tally {
  readonly from: number;
  readonly to: number | null;
}

/** Level games with one difference of triggers under one rule set; `won` by the side with the lower handicap. */
export interface LevelGap extends Tally {
  readonly rules: string;
  /** Trigger of the lower handicap less that of the higher: 0 when they are equal, and then `won` is 0. */
  readonly difference: number;
  /** Higher handicap less lower. */
  readonly gap: number;
}

/** One game from one player's side. */
export interface OwnGame {
  readonly game: ReviewedGame;
  readonly side: 0 | 1;
  readonly won: boolean;
}

export interface PlayerCounts {
  readonly player: PlayerId;
  readonly handicap: Tally;
  /** Of the handicap games those in which he gave, received, or neither. */
  readonly giving: Tally;
  readonly receiving: Tally;
  readonly even: Tally;
  readonly level: Tally;
  /** All of them, in order of day. */
  readonly games: readonly OwnGame[];
}

export interface ReviewCounts {
  readonly games: readonly ReviewedGame[];
  readonly leftOut: ReadonlyMap<LeftOutReason, number>;
  readonly receivers: readonly ReceiverBand[];
  /** Handicap games without any extra strokes. */
  readonly noStrokes: number;
  /** By rule set, then difference. */
  readonly levelGaps: readonly LevelGap[];
  readonly players: ReadonlyMap<PlayerId, PlayerCounts>;
  readonly strokes: readonly StrokeRecord[];
}

/**
 * @param entries those that count, carried ones opened; of them only reports of matches are read
 */
export function reviewCounts(state: BookState, entries: Iterable<Counted>, span: Span): ReviewCounts {
  const bodies: ReportBodies = new Map(
    [...entries].flatMap(({ entry }) => (entry.kind === "match-reported" ? [[entry.id, entry.body] as const] : [])),
  );
  const { games, leftOut } = gamesToReview(state, bodies, span);
  return {
    games,
    leftOut,
    ...countReceivers(games),
    levelGaps: countLevelGaps(games),
    players: countPlayers(games),
    strokes: strokeRecords(state, bodies, span),
  };
}

export function countReceivers(games: readonly ReviewedGame[]): Pick<ReviewCounts, "receivers" | "noStrokes"> {
  const bands = strokeBands.map((band) => ({ ...band, games: 0, won: 0 }));
  let noStrokes = 0;
  for (const game of games) {
    if (game.play !== "handicap") continue;
    const receiver = receiverOf(game);
    if (receiver === null) {
      noStrokes += 1;
      continue;
    }
    const band = bands.find(({ to }) => to === null || receiver.strokes <= to);
    if (band === undefined) continue;
    band.games += 1;
    if (game.winner === receiver.side) band.won += 1;
  }
  return { receivers: bands, noStrokes };
}

/** The side with more extra strokes than the other, and how many more; null when neither has. */
export function receiverOf({ strokes: [one, two] }: ReviewedGame): { side: 0 | 1; strokes: number } | null {
  if (one === two) return null;
  return one > two ? { side: 0, strokes: one - two } : { side: 1, strokes: two - one };
}

export function countLevelGaps(games: readonly ReviewedGame[]): readonly LevelGap[] {
  const gaps = new Map<string, LevelGap>();
  for (const { play, rules, difference, sides, winner } of games) {
    if (play !== "level") continue;
    const gap = sides[0].off > sides[1].off ? sides[0].off - sides[1].off : sides[1].off - sides[0].off;
    const size = difference < 0 ? -difference : difference;
    const favourite = difference > 0 ? 0 : 1;
    const key = `${rules} ${size} ${gap}`;
    const before = gaps.get(key) ?? { rules, difference: size, gap, games: 0, won: 0 };
    const won = size > 0 && winner === favourite ? 1 : 0;
    gaps.set(key, { ...before, games: before.games + 1, won: before.won + won });
  }
  return [...gaps.values()].sort(
    (a, b) => byCodeUnits(a.rules, b.rules) || byNumber(a.difference, b.difference) || byNumber(a.gap, b.gap),
  );
}

export function countPlayers(games: readonly ReviewedGame[]): ReadonlyMap<PlayerId, PlayerCounts> {
  const own = new Map<PlayerId, OwnGame[]>();
  for (const game of games) {
    for (const side of [0, 1] as const) {
      const { player } = game.sides[side];
      const list = own.get(player) ?? [];
      list.push({ game, side, won: game.winner === side });
      own.set(player, list);
    }
  }
  const players = [...own.keys()].sort(byCodeUnits);
  return new Map(players.map((player) => [player, ofPlayer(player, own.get(player) ?? [])]));
}

function ofPlayer(player: PlayerId, games: readonly OwnGame[]): PlayerCounts {
  const of = (play: Play): OwnGame[] => games.filter(({ game }) => game.play === play);
  const handicap = of("handicap");
  const where = (holds: (own: OwnGame, receiver: 0 | 1 | null) => boolean): Tally =>
    tally(handicap.filter((each) => holds(each, receiverOf(each.game)?.side ?? null)));
  return {
    player,
    handicap: tally(handicap),
    giving: where(({ side }, receiver) => receiver !== null && receiver !== side),
    receiving: where(({ side }, receiver) => receiver === side),
    even: where((_, receiver) => receiver === null),
    level: tally(of("level")),
    games,
  };
}

export const tally = (games: readonly { readonly won: boolean }[]): Tally => ({
  games: games.length,
  won: games.filter(({ won }) => won).length,
});
