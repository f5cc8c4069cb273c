/**
 * Extra strokes in doubles, in a 13-point game.
 *
 * Two comparisons, each between one player of either side, each by itself: the one with the higher handicap receives half the
 * difference. Nothing is netted, so one player on each side may receive, or both on one.
 *
 *     cross   lower of side 1 with higher of side 2, and higher of side 1 with lower of side 2     4 & 9 against 10 & 6:
 *             (Hassocks Croquet Club and Sussex County Croquet Club)                               3 to the 10, 2 to the 9
 *     like    lower with lower, higher with higher                                                 2 & 7 against 3 & 4:
 *             (Croquet North Carolina, 2013; Hassocks, 2018)                                       1 to the 3, 2 to the 7
 *
 * Half strokes: under `one-per-side` only one partner of a side may round up and the pair chooses who, so a side whose two
 * partners both have a half has two choices. Partners with equal handicaps choose who counts as the lower, which is a choice too.
 * All ways are made and alike ones dropped by the caller: at most sixteen, and easier to believe than cases.
 *
 * SPEC: ST3 to ST7.
 */
import type { DoublesStrokes } from "../rules/rule-set.ts";
import type { SeatExtras } from "./choice.ts";

type Pair = readonly [number, number];

/** Seats of a side's lower and higher handicap. */
interface Rank {
  readonly low: 0 | 1;
  readonly high: 0 | 1;
}

interface Comparison {
  /** Seat on side 1 and on side 2. */
  readonly seats: readonly [0 | 1, 0 | 1];
}

/** Every way the strokes of a 13-point game may fall, by seat; ways that come to the same are repeated. */
export function doublesExtras(rule: DoublesStrokes, one: Pair, two: Pair): readonly SeatExtras[] {
  return ranks(one).flatMap((first) =>
    ranks(two).flatMap((second) => {
      const halves = halfStrokes(comparisons(rule.pairing, first, second), one, two);
      return roundings(rule.halves, halves[0]).flatMap((a) => roundings(rule.halves, halves[1]).map((b) => [a, b]));
    }),
  );
}

function ranks([first, second]: Pair): readonly Rank[] {
  const asGiven: Rank = { low: 0, high: 1 };
  const turned: Rank = { low: 1, high: 0 };
  if (first === second) return [asGiven, turned];
  return [first < second ? asGiven : turned];
}

function comparisons(pairing: DoublesStrokes["pairing"], one: Rank, two: Rank): readonly Comparison[] {
  return pairing === "cross"
    ? [{ seats: [one.low, two.high] }, { seats: [one.high, two.low] }]
    : [{ seats: [one.low, two.low] }, { seats: [one.high, two.high] }];
}

/** The whole difference, that is the number of half strokes, at the seat of the player who receives them. */
function halfStrokes(list: readonly Comparison[], one: Pair, two: Pair): readonly [Pair, Pair] {
  const halves: [[number, number], [number, number]] = [
    [0, 0],
    [0, 0],
  ];
  for (const { seats } of list) {
    const difference = one[seats[0]] - two[seats[1]];
    if (difference >= 0) halves[0][seats[0]] = difference;
    else halves[1][seats[1]] = -difference;
  }
  return halves;
}

const halved = (halves: number): number => Math.floor(halves / 2);
const halvedUp = (halves: number): number => Math.floor((halves + 1) / 2);

/** How a side's half strokes may become whole ones. */
function roundings(rule: DoublesStrokes["halves"], [first, second]: Pair): readonly Pair[] {
  const bothOdd = first % 2 === 1 && second % 2 === 1;
  if (rule === "one-per-side" && bothOdd) {
    return [
      [halvedUp(first), halved(second)],
      [halved(first), halvedUp(second)],
    ];
  }
  return [[halvedUp(first), halvedUp(second)]];
}
