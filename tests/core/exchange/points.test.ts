import type { ExchangeQuestion, Play, RuleSet } from "@sward/core";
import {
  compileRules,
  doublesPoints,
  exchangePoints,
  findRuleSet,
  NOT_IN_TABLE,
  ruleSets,
  singlesPoints,
  triggerOf,
  UNREAD,
} from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";

const england = findRuleSet("england-2016") as RuleSet;
const nsw = findRuleSet("new-south-wales-2022") as RuleSet;
const SEED = 10_500;

const handicaps = england.triggers.map(({ handicap }) => handicap);
const anyHandicap = fc.constantFrom(...handicaps);

function points(set: RuleSet, play: Play, winner: number, loser: number): number {
  const result = exchangePoints(set, { play, winner: [winner], loser: [loser] });
  if (!result.ok) throw new Error(JSON.stringify(result.fault));
  return result.value.points;
}

const answer = (set: RuleSet, question: ExchangeQuestion) => {
  const result = exchangePoints(set, question);
  return result.ok ? result.value : result.fault;
};

test("EX1 every handicap singles game moves ten points", () => {
  // England: https://www.croquet.org.uk/?p=games/golf/handicapping/automatic
  // New South Wales: https://www.revolutionise.com.au/newcastlepark/gc-handicaps
  for (const set of [england, nsw]) {
    for (const winner of handicaps) {
      for (const loser of handicaps) expect(points(set, "handicap", winner, loser)).toBe(10);
    }
  }
});

test("EX1 New South Wales: handicap doubles move five for each player", () => {
  // https://www.revolutionise.com.au/newcastlepark/gc-handicaps
  expect(answer(nsw, { play: "handicap", winner: [4, 9], loser: [10, 6] })).toEqual({ points: 5 });
});

test("EX2 the facts every level player knows", () => {
  // common practice, no source
  expect(points(england, "level", 4, 4)).toBe(10);
  expect(points(england, "level", 4, 1)).toBe(16);
  expect(points(england, "level", 1, 4)).toBe(4);
  expect(points(england, "level", -6, 20)).toBe(1);
  expect(points(england, "level", 20, -6)).toBe(19);
});

test("EX2 EX4 a cell depends on the two triggers alone", () => {
  // 12 and 14 are two handicaps and 50 points apart, 6 and 5 one handicap and 100.
  expect(points(england, "level", 12, 14)).toBe(9);
  expect(points(england, "level", 5, 6)).toBe(8);
  expect(points(england, "level", -3, -2)).toBe(7);
});

test(`EX5 a round of games sums to zero, level or not (seed ${SEED})`, () => {
  const game = fc.record({
    play: fc.constantFrom<Play>("handicap", "level"),
    winner: fc.nat(22),
    loser: fc.nat(22),
  });
  fc.assert(
    fc.property(fc.array(game, { minLength: 1, maxLength: 60 }), (games) => {
      const indexes = england.triggers.map(({ trigger }) => trigger);
      const before = indexes.reduce((a, b) => a + b, 0);
      for (const { play, winner, loser } of games) {
        const moved = points(england, play, handicaps[winner] ?? 0, handicaps[loser] ?? 0);
        expect(moved).toBeGreaterThan(0);
        indexes[winner] = (indexes[winner] ?? 0) + moved;
        indexes[loser] = (indexes[loser] ?? 0) - moved;
      }
      expect(indexes.reduce((a, b) => a + b, 0)).toBe(before);
    }),
    { seed: SEED, numRuns: 300 },
  );
});

test(`EX6 beating a stronger player never gains less, and either result adds up to twenty (seed ${SEED})`, () => {
  fc.assert(
    fc.property(anyHandicap, anyHandicap, anyHandicap, (winner, a, b) => {
      const [stronger, weaker] = a < b ? [a, b] : [b, a];
      expect(points(england, "level", winner, stronger)).toBeGreaterThanOrEqual(
        points(england, "level", winner, weaker),
      );
      expect(points(england, "level", winner, a) + points(england, "level", a, winner)).toBe(20);
    }),
    { seed: SEED, numRuns: 500 },
  );
});

test("EX7 a handicap the rule set does not have, in either seat and either kind of play", () => {
  expect(answer(england, { play: "handicap", winner: [13], loser: [4] })).toEqual({
    type: "exchange-unknown-handicap",
    rules: "england-2016",
    side: "winner",
    handicap: 13,
  });
  expect(answer(england, { play: "level", winner: [4], loser: [17] })).toMatchObject({ side: "loser", handicap: 17 });
  expect(answer(nsw, { play: "handicap", winner: [4, 6], loser: [5, 15] })).toMatchObject({ handicap: 15 });
  // A number no entry could hold must not be taken for another pair's square.
  for (const handicap of [-31, 61, 1000, -1000, 4.5]) {
    expect(answer(england, { play: "level", winner: [4], loser: [handicap] })).toMatchObject({
      type: "exchange-unknown-handicap",
    });
  }
});

test("EX7 sides that are not one against one or two against two", () => {
  for (const [winner, loser] of [
    [[4], [6, 8]],
    [[], []],
    [
      [4, 5, 6],
      [4, 5, 6],
    ],
  ] as const) {
    expect(answer(england, { play: "handicap", winner, loser })).toEqual({
      type: "exchange-sides",
      winners: winner.length,
      losers: loser.length,
    });
  }
});

test("EX8 England's doubles move nothing", () => {
  // https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fautomatic
  for (const play of ["handicap", "level"] as const) {
    expect(answer(england, { play, winner: [4, 9], loser: [10, 6] })).toEqual({ points: 0 });
  }
});

test("EX9 New South Wales' level doubles: the table exists and could not be read", () => {
  expect(answer(nsw, { play: "level", winner: [4, 9], loser: [10, 6] })).toEqual({
    type: "exchange-not-read",
    rules: "new-south-wales-2022",
    play: "level",
    players: 4,
  });
  expect(doublesPoints(compileRules(nsw), "level")).toBe(UNREAD);
});

test("EX4 EX7 the compiled squares answer alike for every pair an entry can hold, in the table or not", () => {
  for (const set of ruleSets) {
    const rules = compileRules(set);
    expect(compileRules(set)).toBe(rules);
    for (let winner = -30; winner <= 60; winner += 1) {
      for (let loser = -30; loser <= 60; loser += 1) {
        const known = triggerOf(set, winner) !== undefined && triggerOf(set, loser) !== undefined;
        const compiled = singlesPoints(rules, "level", winner, loser);
        if (known) expect(compiled).toBe(points(set, "level", winner, loser));
        else expect(compiled).toBe(NOT_IN_TABLE);
      }
    }
  }
});
