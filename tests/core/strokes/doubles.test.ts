import type { Choice, Format, RuleSet, SeatExtras } from "@sward/core";
import { convertedStrokes, extraStrokes, extrasBySeat, findRuleSet, parseRuleSet } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";

const england = findRuleSet("england-2016") as RuleSet;
const older = findRuleSet("england-2016-like-pairing") as RuleSet;
const SEED = 2_019_03;

type Pairs = readonly [readonly [number, number], readonly [number, number]];

function choices(set: RuleSet, format: Format, sides: Pairs): readonly Choice[] {
  const result = extraStrokes(set, { format, sides });
  if (!result.ok) throw new Error(JSON.stringify(result.fault));
  return result.value.choices;
}

const seats = (set: RuleSet, format: Format, sides: Pairs): readonly SeatExtras[] =>
  choices(set, format, sides).map((choice) => extrasBySeat(choice, sides));

/** England's set with another way to treat half strokes. */
function withDoubles(pairing: "cross" | "like", halves: "one-per-side" | "each"): RuleSet {
  const set = structuredClone(england);
  Object.assign(set.strokes.doubles, { pairing, halves });
  const parsed = parseRuleSet(set);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.fault));
  return parsed.value;
}

test("ST3 ST4 4 and 9 against 10 and 6: three to the 10 and two to the 9", () => {
  // Hassocks Croquet Club, Tournaments (Revised Rules): https://www.hassockscroquetclub.net/tournaments
  expect(
    choices(england, 13, [
      [4, 9],
      [10, 6],
    ]),
  ).toEqual([
    {
      strokes: [
        { side: 1, handicap: 9, extra: 2 },
        { side: 2, handicap: 10, extra: 3 },
      ],
    },
  ]);
});

test("ST5 ST8 12 and 11 against 7 and 10: either three and none or two and one", () => {
  // common practice, no source
  expect(
    choices(england, 13, [
      [12, 11],
      [7, 10],
    ]),
  ).toEqual([
    { strokes: [{ side: 1, handicap: 12, extra: 3 }] },
    {
      strokes: [
        { side: 1, handicap: 12, extra: 2 },
        { side: 1, handicap: 11, extra: 1 },
      ],
    },
  ]);
});

test("ST3 ST5 the older pairing, 2 and 7 against 3 and 4: one to the 3, two to the 7", () => {
  // Croquet North Carolina, Handicap Golf Croquet, 2013: http://croquetnc.org/reference/handicap-golf-croquet-introduction
  const sides: Pairs = [
    [2, 7],
    [3, 4],
  ];
  expect(choices(older, 13, sides)).toEqual([
    {
      strokes: [
        { side: 1, handicap: 7, extra: 2 },
        { side: 2, handicap: 3, extra: 1 },
      ],
    },
  ]);
  // The same pairs today: 2 with 4 and 7 with 3, one to the 4 and two to the 7.
  expect(seats(england, 13, sides)).toEqual([
    [
      [0, 2],
      [0, 1],
    ],
  ]);
});

test("ST7 the same in a 7-point game: one to the 3, one to the 7", () => {
  // Croquet North Carolina, as above
  expect(
    seats(older, 7, [
      [2, 7],
      [3, 4],
    ]),
  ).toEqual([
    [
      [0, 1],
      [1, 0],
    ],
  ]);
});

test("ST7 rounding comes before the conversion", () => {
  // 11 with 6 is two and a half, so three; three strokes are two in a 7-point game, where two and a half would be 1.35, one.
  const sides: Pairs = [
    [6, 6],
    [6, 11],
  ];
  expect(seats(england, 13, sides)).toEqual([
    [
      [0, 0],
      [0, 3],
    ],
  ]);
  expect(seats(england, 19, sides)).toEqual([
    [
      [0, 0],
      [0, 4],
    ],
  ]);
  expect(seats(england, 7, sides)).toEqual([
    [
      [0, 0],
      [0, 2],
    ],
  ]);
});

test("ST8 choices that a shorter game makes alike are one choice", () => {
  // 13 points: 4 and 3, or 3 and 4. 7 points: both are two and two.
  const sides: Pairs = [
    [11, 11],
    [4, 4],
  ];
  expect(seats(england, 13, sides)).toEqual([
    [
      [4, 3],
      [0, 0],
    ],
    [
      [3, 4],
      [0, 0],
    ],
  ]);
  expect(seats(england, 7, sides)).toEqual([
    [
      [2, 2],
      [0, 0],
    ],
  ]);
});

test("ST6 ST9 partners with equal handicaps choose who counts as the lower, and are told apart by seat", () => {
  // Hassocks Croquet Club, Tournaments (Revised Rules): equal partners announce who takes which.
  expect(
    choices(england, 13, [
      [10, 10],
      [4, 8],
    ]),
  ).toEqual([
    {
      strokes: [
        { side: 1, handicap: 10, extra: 3, player: 1 },
        { side: 1, handicap: 10, extra: 1, player: 2 },
      ],
    },
    {
      strokes: [
        { side: 1, handicap: 10, extra: 1, player: 1 },
        { side: 1, handicap: 10, extra: 3, player: 2 },
      ],
    },
  ]);
});

test("ST5 ST6 ST8 equal partners with two halves: who is lower and who rounds up make four ways, each listed once", () => {
  expect(
    seats(england, 13, [
      [10, 10],
      [5, 7],
    ]),
  ).toEqual([
    [
      [3, 1],
      [0, 0],
    ],
    [
      [2, 2],
      [0, 0],
    ],
    [
      [1, 3],
      [0, 0],
    ],
  ]);
});

test("ST6 ST8 equal partners who receive nothing are no choice, nor are four equal handicaps", () => {
  expect(
    seats(england, 13, [
      [2, 2],
      [6, 10],
    ]),
  ).toEqual([
    [
      [0, 0],
      [2, 4],
    ],
  ]);
  expect(
    choices(england, 13, [
      [8, 8],
      [8, 8],
    ]),
  ).toEqual([{ strokes: [] }]);
});

test("ST1 ST3 negative handicaps in doubles", () => {
  expect(
    seats(england, 13, [
      [-2, 4],
      [-4, 3],
    ]),
  ).toEqual([
    [
      [0, 4],
      [0, 3],
    ],
  ]);
});

test("ST5 each: every half rounds up, and there is nothing to choose", () => {
  expect(
    seats(withDoubles("cross", "each"), 13, [
      [12, 11],
      [7, 10],
    ]),
  ).toEqual([
    [
      [3, 1],
      [0, 0],
    ],
  ]);
});

const handicap = fc.constantFrom(...england.triggers.map((row) => row.handicap));
const pairs: fc.Arbitrary<Pairs> = fc.tuple(fc.tuple(handicap, handicap), fc.tuple(handicap, handicap));
const low = (pair: readonly [number, number]) => Math.min(...pair);
const high = (pair: readonly [number, number]) => Math.max(...pair);
const sum = (side: readonly number[] | undefined) => (side ?? []).reduce((a, b) => a + b, 0);

test(`ST3 ST4 ST5 a side's strokes are its comparisons' halves, rounded up once, nothing netted (seed ${SEED})`, () => {
  fc.assert(
    fc.property(pairs, fc.constantFrom<"cross" | "like">("cross", "like"), ([one, two], pairing) => {
      const [partnerOfLow, partnerOfHigh] = pairing === "cross" ? [high(two), low(two)] : [low(two), high(two)];
      const differences = [low(one) - partnerOfLow, high(one) - partnerOfHigh];
      const halvesOfOne = sum(differences.filter((difference) => difference > 0));
      const halvesOfTwo = 0 - sum(differences.filter((difference) => difference < 0));
      for (const [first, second] of seats(withDoubles(pairing, "one-per-side"), 13, [one, two])) {
        expect(sum(first)).toBe(Math.ceil(halvesOfOne / 2));
        expect(sum(second)).toBe(Math.ceil(halvesOfTwo / 2));
      }
    }),
    { seed: SEED, numRuns: 2000 },
  );
});

test(`ST5 a player has at most half a stroke more or less than half the difference (seed ${SEED})`, () => {
  fc.assert(
    fc.property(pairs, ([one, two]) => {
      fc.pre(one[0] !== one[1] && two[0] !== two[1]);
      for (const extras of seats(england, 13, [one, two])) {
        const off = (pair: readonly [number, number], mine: readonly number[] | undefined, other: typeof pair) =>
          pair.map((own, seat) => {
            const rival = own === low(pair) ? high(other) : low(other);
            return Math.abs(2 * (mine?.[seat] ?? 0) - Math.max(own - rival, 0));
          });
        expect(Math.max(...off(one, extras[0], two), ...off(two, extras[1], one))).toBeLessThanOrEqual(1);
      }
    }),
    { seed: SEED, numRuns: 2000 },
  );
});

test(`ST8 ST9 ST10 turned sides and turned partners give the same choices, in order and without repeats (seed ${SEED})`, () => {
  const text = (list: readonly SeatExtras[]) => list.map((extras) => JSON.stringify(extras)).sort();
  fc.assert(
    fc.property(pairs, fc.constantFrom<Format>(7, 13, 19), ([one, two], format) => {
      const found = seats(england, format, [one, two]);
      expect(found.length).toBeGreaterThan(0);
      expect(new Set(text(found)).size).toBe(found.length);
      for (const [at, extras] of found.entries()) {
        const before = found[at - 1];
        if (before === undefined) continue;
        const [a, b] = [before.flat(), extras.flat()];
        const differs = a.findIndex((strokes, seat) => strokes !== b[seat]);
        expect(a[differs]).toBeGreaterThan(b[differs] ?? 0);
      }
      expect(text(seats(england, format, [two, one]))).toEqual(text(found.map(([a = [], b = []]) => [b, a])));
      const turned: Pairs = [[one[1], one[0]], two];
      expect(text(seats(england, format, turned))).toEqual(
        text(found.map(([a = [], b = []]) => [[...a].reverse(), b])),
      );
    }),
    { seed: SEED, numRuns: 1000 },
  );
});

test(`ST9 only players who receive are listed, the seat exactly when partners are alike (seed ${SEED})`, () => {
  fc.assert(
    fc.property(pairs, (sides) => {
      for (const { strokes } of choices(england, 13, sides)) {
        for (const each of strokes) {
          const pair = sides[each.side - 1] as readonly [number, number];
          expect(each.extra).toBeGreaterThan(0);
          expect(pair).toContain(each.handicap);
          expect(each.player !== undefined).toBe(pair[0] === pair[1]);
        }
      }
    }),
    { seed: SEED, numRuns: 1000 },
  );
});

test(`ST7 each choice of a shorter or longer game is a converted choice of the 13-point game (seed ${SEED})`, () => {
  fc.assert(
    fc.property(pairs, fc.constantFrom<7 | 19>(7, 19), (sides, format) => {
      const convert = (extras: SeatExtras) =>
        JSON.stringify(extras.map((side) => side.map((strokes) => convertedStrokes(england, format, strokes))));
      const converted = new Set(seats(england, 13, sides).map(convert));
      expect(new Set(seats(england, format, sides).map((extras) => JSON.stringify(extras)))).toEqual(converted);
    }),
    { seed: SEED, numRuns: 500 },
  );
});
