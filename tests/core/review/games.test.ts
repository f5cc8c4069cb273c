/** Which games are looked at, and how they are counted. */
import type { BookState, Counted, ReviewCounts } from "@sward/core";
import { leftOutReasons, reviewCounts } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Club } from "../../support/cast.ts";
import { clubs, keyOfMatch, played, player } from "../../support/cast.ts";

const year = { from: "2026-01-01", to: "2026-12-31" };

function countsOf(club: Club, span = year): ReviewCounts {
  const ledger = club.ledger();
  return reviewCounts(ledger.state(), ledger.counted(), span);
}

function club(): Club {
  const { north } = clubs("north");
  for (const [name, handicap] of [
    ["ada", 7],
    ["ben", 9],
    ["cat", 2],
    ["dan", 14],
  ] as const) {
    north.member(name, handicap);
  }
  return north;
}

const dropZero = (leftOut: ReviewCounts["leftOut"]) => Object.fromEntries(leftOut);

test("RV1 singles that count and have a winner are looked at, played out or on time, within the days asked for", () => {
  const north = club();
  const { recorder } = north;
  recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  recorder.reports(played("2026-05-02", "ada 7", "ben 9", "5-6t"));
  recorder.reports(played("2026-05-31", "ben 9", "cat 2", "7-6 3-7", { play: "level" }));
  const { games, leftOut } = countsOf(north);
  expect(games.map(({ date, game, play }) => [date, game, play])).toEqual([
    ["2026-05-01", 1, "handicap"],
    ["2026-05-02", 1, "handicap"],
    ["2026-05-31", 1, "level"],
    ["2026-05-31", 2, "level"],
  ]);
  expect(games.map(({ sides, winner }) => sides[winner].player)).toEqual(["ada", "ben", "ben", "cat"].map(player));
  expect(leftOut.size).toBe(0);
  const onDay = (from: string, to: string) => countsOf(north, { from, to }).games.length;
  expect(onDay("2026-05-01", "2026-05-01")).toBe(1);
  expect(onDay("2026-05-02", "2026-05-31")).toBe(3);
  expect(onDay("2026-05-03", "2026-05-30")).toBe(0);
});

test("RV2 what is left out is counted once, by the first reason that applies", () => {
  const north = club();
  const { recorder, handicapper } = north;
  recorder.reports(played("2026-05-01", "ada 7", "ben 9", "6-2a"));
  recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-0w"));
  recorder.reports(played("2026-05-03", "ada 7", "ben 9", "7-4", { excluded: true }));
  recorder.reports(played("2026-05-04", "ada 7", "ben 9", "7-4 7-5", { occasion: "ad-hoc" }));
  recorder.reports(played("2026-05-05", "ada 7", "ben 9", "5-5t"));
  recorder.reports(played("2026-05-06", "ada 7 + cat 2", "ben 9 + dan 14", "7-4"));
  recorder.reports(played("2026-05-07", "ada 7", "ben 13", "7-4"));
  recorder.reports(played("2026-05-08", "ada 7", "ben 9", "7-4"));
  handicapper.reports(played("2026-05-08", "ada 7", "ben 9", "7-5"));
  // Abandoned, excluded and of no occasion that counts: one game, one reason.
  recorder.reports(
    played("2026-05-09", "ada 7 + cat 2", "ben 9 + dan 14", "6-2a", { excluded: true, occasion: "ad-hoc" }),
  );
  const { games, leftOut } = countsOf(north);
  expect(games).toEqual([]);
  expect(dropZero(leftOut)).toEqual({
    abandoned: 2,
    walkover: 1,
    "excluded-beforehand": 1,
    "occasion-does-not-count": 2,
    drawn: 1,
    doubles: 1,
    "handicap-not-in-table": 1,
    "not-settled": 1,
  });
  expect(leftOutReasons).toEqual(expect.arrayContaining([...leftOut.keys()]));
});

test("RV2 a match that was ruled to be none is left out, and counts once it is ruled on the other way", () => {
  const north = club();
  const match = played("2026-05-08", "ada 7", "ben 9", "7-4");
  const report = north.recorder.reports(match);
  north.handicapper.rules(keyOfMatch(match), null);
  expect(dropZero(countsOf(north).leftOut)).toEqual({ "not-settled": 1 });
  north.handicapper.rules(keyOfMatch(match), report);
  expect(countsOf(north).games).toHaveLength(1);
});

test("RV3 strokes are the rule set's, by length of game, unless the report says what was given", () => {
  const north = club();
  const { recorder } = north;
  recorder.reports(played("2026-05-01", "ada 7", "dan 14", "7-4"));
  recorder.reports(played("2026-05-02", "ada 7", "dan 14", "4-1", { format: 7 }));
  recorder.reports(played("2026-05-03", "dan 14", "ada 7", "7-4", { given: [[6], [0]] }));
  recorder.reports(played("2026-05-04", "ada 7", "dan 14", "7-4", { play: "level" }));
  const byDay = new Map(countsOf(north).games.map(({ date, sides, strokes }) => [date, { sides, strokes }]));
  const strokesOf = (date: string, name: string) => {
    const { sides, strokes } = byDay.get(date)!;
    return strokes[sides[0].player === player(name) ? 0 : 1];
  };
  expect(["2026-05-01", "2026-05-02", "2026-05-03", "2026-05-04"].map((day) => strokesOf(day, "dan"))).toEqual([
    7, 4, 6, 0,
  ]);
  expect(["2026-05-01", "2026-05-02", "2026-05-03", "2026-05-04"].map((day) => strokesOf(day, "ada"))).toEqual([
    0, 0, 0, 0,
  ]);
});

test("RV3 a report that does not agree with what counts says nothing of the strokes", () => {
  const north = club();
  const match = played("2026-05-03", "ada 7", "dan 14", "7-4");
  const right = north.recorder.reports(match);
  north.handicapper.reports({ ...match, games: [{ score: [7, 5] }], given: [[0], [1]] });
  north.handicapper.rules(keyOfMatch(match), right);
  const [game] = countsOf(north).games;
  expect([...game!.strokes].sort()).toEqual([0, 7]);
});

test("RV4 receivers are counted in bands of strokes, with their wins; games without strokes apart", () => {
  const north = club();
  const { recorder } = north;
  const days = (n: number) => `2026-05-${String(n).padStart(2, "0")}`;
  recorder.reports(played(days(1), "ada 7", "ben 8", "4-7")); // 1 to ben, who wins
  recorder.reports(played(days(2), "ada 7", "ben 10", "7-4")); // 3 to ben, who loses
  recorder.reports(played(days(3), "ada 7", "ben 11", "4-7")); // 4
  recorder.reports(played(days(4), "ada 12", "ben 6", "7-4")); // 6 to ada, who wins
  recorder.reports(played(days(5), "ada 7", "ben 14", "7-4")); // 7
  recorder.reports(played(days(6), "ada -6", "ben 20", "4-7")); // 26
  recorder.reports(played(days(7), "ada 7", "ben 7", "7-4"));
  recorder.reports(played(days(8), "ada 7", "ben 14", "7-4", { play: "level" }));
  const { receivers, noStrokes } = countsOf(north);
  expect(receivers).toEqual([
    { from: 1, to: 3, games: 2, won: 1 },
    { from: 4, to: 6, games: 2, won: 2 },
    { from: 7, to: null, games: 2, won: 1 },
  ]);
  expect(noStrokes).toBe(1);
});

test("RV5 level games by difference of triggers, with the wins of the lower handicap", () => {
  const north = club();
  const { recorder } = north;
  // Croquet England, table 1: 7 is 1350, 9 is 1250, 2 is 1800, 1 is 1900.
  recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4", { play: "level" }));
  recorder.reports(played("2026-05-02", "ben 9", "ada 7", "7-4", { play: "level" }));
  recorder.reports(played("2026-05-03", "cat 1", "ben 2", "7-6", { play: "level" }));
  recorder.reports(played("2026-05-04", "cat 2", "dan 2", "7-6", { play: "level" }));
  recorder.reports(played("2026-05-05", "cat 2", "dan 14", "7-6"));
  expect(countsOf(north).levelGaps).toEqual([
    { rules: "england-2016", difference: 0, gap: 0, games: 1, won: 0 },
    { rules: "england-2016", difference: 100, gap: 1, games: 1, won: 1 },
    { rules: "england-2016", difference: 100, gap: 2, games: 2, won: 1 },
  ]);
});

test("RV6 by player: giving, receiving, neither, level; each game for both players, with one winner", () => {
  const north = club();
  const { recorder } = north;
  recorder.reports(played("2026-05-04", "ada 7", "ben 9", "7-4 4-7"));
  recorder.reports(played("2026-05-01", "ada 7", "cat 2", "7-4"));
  recorder.reports(played("2026-05-02", "ada 7", "dan 7", "4-7"));
  recorder.reports(played("2026-05-03", "ada 7", "dan 14", "7-2", { play: "level" }));
  const { players, games } = countsOf(north);
  expect(players.get(player("ada"))).toMatchObject({
    handicap: { games: 4, won: 2 },
    giving: { games: 2, won: 1 },
    receiving: { games: 1, won: 1 },
    even: { games: 1, won: 0 },
    level: { games: 1, won: 1 },
  });
  expect(players.get(player("ada"))?.games.map(({ game }) => game.date)).toEqual([
    "2026-05-01",
    "2026-05-02",
    "2026-05-03",
    "2026-05-04",
    "2026-05-04",
  ]);
  const all = [...players.values()].flatMap((each) => [each.handicap, each.level]);
  expect(all.reduce((sum, each) => sum + each.games, 0)).toBe(2 * games.length);
  expect(all.reduce((sum, each) => sum + each.won, 0)).toBe(games.length);
});

const SEED = 20_261_125;
test(`RV7 any order of arrival gives the same counts (seed ${SEED})`, () => {
  const north = club();
  north.handicapper.joins("adele");
  north.handicapper.links("adele", "ada");
  for (let day = 1; day <= 9; day += 1) {
    const [one, two] = [
      ["ada 7", "ben 9"],
      ["cat 2", "dan 14"],
      ["adele 7", "dan 14"],
    ][day % 3]!;
    north.recorder.reports(
      played(`2026-05-0${day}`, one!, two!, day % 2 ? "7-4" : "5-7 7-6", { play: day % 4 ? "handicap" : "level" }),
    );
  }
  const plain = (state: BookState, counted: Iterable<Counted>): string => {
    const { leftOut, players, ...rest } = reviewCounts(state, counted, year);
    return JSON.stringify({ ...rest, leftOut: [...leftOut], players: [...players] });
  };
  const ledger = north.ledger();
  const expected = plain(ledger.state(), ledger.counted());
  expect(expected).toContain("2026-05-09");
  fc.assert(
    fc.property(fc.shuffledSubarray(north.written, { minLength: north.written.length }), (order) => {
      const other = north.ledger(order);
      expect(plain(other.state(), other.counted())).toBe(expected);
    }),
    { seed: SEED, numRuns: 30 },
  );
});

test("RV7 other ids of a person are that person's", () => {
  const north = club();
  north.handicapper.joins("adele");
  north.recorder.reports(played("2026-05-01", "adele 7", "ben 9", "7-4", { given: [[3], [0]] }));
  north.handicapper.links("adele", "ada");
  const { players, games } = countsOf(north);
  expect(players.has(player("adele"))).toBe(false);
  expect(players.get(player("ada"))?.handicap).toEqual({ games: 1, won: 1 });
  const ada = games[0]!.sides[0].player === player("ada") ? 0 : 1;
  expect(games[0]!.strokes[ada]).toBe(3);
});
