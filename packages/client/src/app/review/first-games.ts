/**
 * The handicap a newcomer's first games speak for, with how sure they are. An estimate, not a ruling: the handicapper looks and decides.
 *
 * The newcomer has one unknown strength, as an index. Before the games it is taken to be near the trigger of the starting handicap, in
 * two cases of three within three steps of the table (150 points): a published start is a guess of about that size. Each game then
 * weighs it by the rules' own curve for level play. In handicap play the extra strokes are taken to make up for the handicaps played
 * off exactly, so what is left is the newcomer's strength less the handicap he played off. The opponents' handicaps are taken as right.
 *
 *     strength before   bell curve round the starting trigger, 150 points wide
 *     one level game    curve(strength - opponent's trigger)
 *     one handicap game curve(strength - own trigger that day)
 *
 * Worked out on a grid of index points, so nothing is approximated but the grid. Rejected: the share of games won turned into steps
 * (four wins of four would ask for the end of the table).
 */
import type { Card, GameLine, RuleSet } from "@sward/core";
import { handicapForIndex, triggerOf } from "@sward/core";
import { expectationOf } from "./level.ts";

/** As many games as the regulations look back on at a first review, and the fewest from which anything is said. */
export const FIRST_GAMES = 10;
export const FEWEST_FIRST = 3;
/** With more games than this the card speaks for itself. */
export const NO_LONGER_NEW = 20;

const WIDTH = 150;
const STEP = 5;
const BEYOND = 400;
/** The estimate's range holds the strength in nine cases of ten, if all that is taken for granted here is right. */
const TAIL = 0.05;

export interface FirstGamesEstimate {
  readonly games: number;
  readonly won: number;
  readonly start: number;
  /** Handicaps of the median and of the range; `strongest` is the lowest handicap. */
  readonly estimate: number;
  readonly strongest: number;
  readonly weakest: number;
  /** The range reaches the end of the trigger table. */
  readonly beyondTable: boolean;
  /** Index points of the same three. */
  readonly index: readonly [weakest: number, median: number, strongest: number];
}

export interface Evidence {
  /** The strength at which the game would be even: an opponent's trigger, or one's own in handicap play. */
  readonly even: number;
  readonly won: boolean;
}

/** Null for somebody who did not start here, has too few games that counted, or is no longer new. */
export function estimateFirst(
  { lines }: Pick<Card, "lines">,
  setOf: (id: string) => RuleSet | undefined,
): FirstGamesEstimate | null {
  const [start] = lines;
  if (start?.line !== "set" || start.basis !== "initial") return null;
  const counted = lines.filter((line): line is GameLine => line.line === "game" && line.points !== 0);
  const first = counted.slice(0, FIRST_GAMES);
  const set = first[0] === undefined ? undefined : setOf(first[0].rules);
  const trigger = set === undefined ? undefined : triggerOf(set, start.handicap);
  if (set === undefined || trigger === undefined || counted.length > NO_LONGER_NEW) return null;
  const evidence = first.flatMap((line) => evidenceOf(line, set));
  if (evidence.length < FEWEST_FIRST) return null;
  const index = posterior(set, trigger, evidence);
  const [weak, middle, strong] = index.map((points) => handicapForIndex(set, points));
  return {
    games: evidence.length,
    won: evidence.filter(({ won }) => won).length,
    start: start.handicap,
    estimate: middle ?? start.handicap,
    strongest: strong ?? start.handicap,
    weakest: weak ?? start.handicap,
    beyondTable: index[0] < (set.triggers.at(-1)?.trigger ?? 0) || index[2] >= (set.triggers[0]?.trigger ?? 0),
    index,
  };
}

function evidenceOf(line: GameLine, set: RuleSet): Evidence[] {
  const [opponent, another] = line.opponents;
  // A pair's result says little of one of them.
  if (opponent === undefined || another !== undefined) return [];
  const even = triggerOf(set, line.play === "level" ? opponent.off : line.off);
  return even === undefined ? [] : [{ even, won: line.points > 0 }];
}

/** The index points below which 5 %, 50 % and 95 % of the belief lie. */
export function posterior(
  set: RuleSet,
  start: number,
  evidence: readonly Evidence[],
): readonly [number, number, number] {
  const triggers = set.triggers.map(({ trigger }) => trigger);
  const lowest = Math.min(start, ...triggers) - BEYOND;
  const steps = Math.ceil((Math.max(start, ...triggers) + BEYOND - lowest) / STEP);
  const grid = Array.from({ length: steps + 1 }, (_, at) => lowest + at * STEP);
  const logs = grid.map((strength) => {
    let log = -((strength - start) ** 2) / (2 * WIDTH ** 2);
    for (const { even, won } of evidence)
      log += Math.log(expectationOf(set, (strength - even) * (won ? 1 : -1)) ?? 0.5);
    return log;
  });
  const highest = Math.max(...logs);
  const weights = logs.map((log) => Math.exp(log - highest));
  return [quantile(grid, weights, TAIL), quantile(grid, weights, 0.5), quantile(grid, weights, 1 - TAIL)];
}

/** Between two points of the grid in proportion. */
function quantile(grid: readonly number[], weights: readonly number[], share: number): number {
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  let below = 0;
  for (const [at, weight] of weights.entries()) {
    const reached = below + weight / all;
    // Each point of the grid stands for half a step on either side.
    if (reached >= share) return (grid[at] ?? 0) + STEP * ((share - below) / (reached - below) - 0.5);
    below = reached;
  }
  return grid.at(-1) ?? 0;
}
