/**
 * Where a player's index is going: the slope of the line through the last games, in points a game (least squares), and beside it how
 * far chance alone carries an index in so many games, if every game went as the rules expect. Without the second the first is no
 * evidence: an index wanders by itself, ten points at a time. Rejected: the usual interval of a fitted slope (it takes the points for
 * independent, and each is the one before it and ten more or less).
 *
 * Only games since the handicap was last set, for a setting moves the index without a game.
 */
import type { Card, GameLine, RuleSet } from "@sward/core";
import { triggerOf } from "@sward/core";
import jstat from "jstat";
import { expectationOf } from "./level.ts";
import { ALPHA } from "./share.ts";

export const TREND_GAMES = 20;

export interface Trend {
  /** Games that moved the index. */
  readonly games: number;
  /** Index before the first of them and after the last. */
  readonly from: number;
  readonly to: number;
  /** Points a game. */
  readonly slope: number;
  /** Chance alone moves the index by more than this, up or down, one time in twenty. */
  readonly reach: number;
}

/** Null with fewer than two games. @param setOf the rule set of an id */
export function trendOf({ lines }: Pick<Card, "lines">, setOf: (id: string) => RuleSet | undefined): Trend | null {
  const sinceSet = lines.slice(lines.findLastIndex(({ line }) => line === "set") + 1);
  const games = sinceSet
    .filter((line): line is GameLine => line.line === "game" && line.points !== 0)
    .slice(-TREND_GAMES);
  const [first] = games;
  const last = games.at(-1);
  if (first === undefined || last === undefined || games.length < 2) return null;
  const variance = games.reduce((sum, line) => sum + varianceOf(line, setOf(line.rules)), 0);
  return {
    games: games.length,
    from: first.index - first.points,
    to: last.index,
    slope: slopeOf(games.map(({ index }, at) => [at, index])),
    reach: Math.round(jstat.normal.inv(1 - ALPHA / 2, 0, 1) * Math.sqrt(variance)),
  };
}

/** Least squares: by how much y grows for each x. */
export function slopeOf(points: readonly (readonly [x: number, y: number])[]): number {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return jstat.covariance(xs, ys) / jstat.variance(xs, true);
}

/** Of the points one game moves when it goes as expected: p of the time up by what a win gives, else down by what a loss takes. */
function varianceOf(line: GameLine, set: RuleSet | undefined): number {
  const level = set?.exchange.levelSingles;
  const [opponent] = line.opponents;
  if (line.play === "handicap" || set === undefined || opponent === undefined || level?.kind !== "logistic") {
    return line.points ** 2;
  }
  const [own, other] = [triggerOf(set, line.off) ?? 0, triggerOf(set, opponent.off) ?? 0];
  const expected = expectationOf(set, own - other) ?? 0.5;
  return expected * (1 - expected) * level.sum ** 2;
}
