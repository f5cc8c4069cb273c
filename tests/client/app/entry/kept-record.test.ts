/** A score pad's record when its report is corrected: what fits goes with it, what does not is named. */
import type { Game, MatchReported, PlayerId } from "@sward/core";
import { checkMatch } from "@sward/core";
import { expect, test } from "vitest";
import { hasRecord, keepRecord } from "../../../../packages/client/src/app/entry/kept-record.ts";
import { lostWords } from "../../../../packages/client/src/app/words/kept-record.ts";

const [ada, ann, bo, cass, dov] = ["ada", "ann", "bo", "cas", "dov"].map(
  (name) => name.padEnd(22, "x") as PlayerId,
) as [PlayerId, PlayerId, PlayerId, PlayerId, PlayerId];

const singles = (one: PlayerId, two: PlayerId, games: Game[], change: Partial<MatchReported> = {}): MatchReported => ({
  date: "2031-06-14",
  occasion: "club-competition",
  n: 1,
  play: "handicap",
  format: 7,
  sides: [[{ player: one, off: 7 }], [{ player: two, off: 3 }]],
  games,
  ...change,
});

/** Ada receives three and takes two of them; 4-2 in six hoops. */
const first: Game = {
  score: [4, 2],
  hoops: [0, 1, 0, 0, 1, 0],
  taken: [
    { side: 0, seat: 0, hoop: 2 },
    { side: 0, seat: 0, hoop: 6 },
  ],
};
const second: Game = { score: [1, 4], hoops: [1, 1, 0, 1, 1], taken: [{ side: 0, seat: 0, hoop: 3 }] };
const recorded = singles(ada, bo, [first, second], { given: [[3], [0]] });
const plain = (...scores: [number, number][]): Game[] => scores.map((score) => ({ score }));

test("another day, another occasion: all of it goes with the correction", () => {
  const corrected = singles(ada, bo, plain([4, 2], [1, 4]), { date: "2031-06-13", given: [[3], [0]] });
  const { body, lost } = keepRecord(corrected, recorded);
  expect(lost).toEqual([]);
  expect(body).toEqual({ ...recorded, date: "2031-06-13" });
  expect(checkMatch(body)).toBeNull();
});

test("another score: the hoops of that game go, the strokes stay that were taken while it lasted", () => {
  const { body, lost } = keepRecord(singles(ada, bo, plain([4, 1], [1, 4])), recorded);
  expect(lost).toEqual([
    { part: "hoops", game: 1 },
    { part: "taken", game: 1, strokes: 1 },
  ]);
  expect(body.games).toEqual([{ score: [4, 1], taken: [first.taken![0]] }, second]);
  expect(body.given).toEqual([[3], [0]]);
  expect(lost.map(lostWords)).toEqual([
    "game 1: who scored each hoop, because it comes to another score",
    "game 1: 1 extra stroke taken, because the corrected game has no room for it",
  ]);
  // Stopped on time, the sixth hoop was still being played for.
  const onTime = keepRecord(singles(ada, bo, [{ score: [3, 2], ended: "time" }, { score: [1, 4] }]), recorded);
  expect(onTime.lost).toEqual([{ part: "hoops", game: 1 }]);
  expect(onTime.body.games[0]).toEqual({ score: [3, 2], ended: "time", taken: first.taken });
});

test("the sides written the other way round are turned, in hoops, strokes and what was given", () => {
  const turned = singles(bo, ada, plain([2, 4], [4, 1]), {
    sides: [[{ player: bo, off: 3 }], [{ player: ada, off: 7 }]],
  });
  const { body, lost } = keepRecord(turned, recorded);
  expect(lost).toEqual([]);
  expect(body.given).toEqual([[0], [3]]);
  expect(body.games[1]).toEqual({ score: [4, 1], hoops: [0, 0, 1, 0, 0], taken: [{ side: 1, seat: 0, hoop: 3 }] });
});

test("a name put right keeps the strokes of that seat; a handicap put right reckons anew what was given", () => {
  expect(keepRecord(singles(ann, bo, plain([4, 2], [1, 4])), recorded).body.games).toEqual([first, second]);
  const off = {
    sides: [[{ player: ada, off: 4 }], [{ player: bo, off: 3 }]] as MatchReported["sides"],
    given: [[1], [0]],
  };
  const { body, lost } = keepRecord(singles(ada, bo, plain([4, 2], [1, 4]), off as Partial<MatchReported>), recorded);
  expect(body.given).toEqual([[1], [0]]);
  // Two were taken, and there is one.
  expect(lost).toEqual([{ part: "given" }, { part: "taken", game: 1, strokes: 1 }]);
  expect(body.games[0]).toEqual({ ...first, taken: [first.taken![0]] });
});

test("a game left out takes its own record with it, and the others are found by their score", () => {
  const { body, lost } = keepRecord(singles(ada, bo, plain([1, 4])), recorded);
  expect([body.games, lost]).toEqual([[second], []]);
});

test("another length, level play, or nobody who played it: nothing fits, and each game says so", () => {
  const none = [
    { part: "game", game: 1 },
    { part: "game", game: 2 },
  ];
  const same = plain([4, 2], [1, 4]);
  expect(keepRecord(singles(ada, bo, same, { play: "level" }), recorded)).toEqual({
    body: singles(ada, bo, same, { play: "level" }),
    lost: none,
  });
  expect(keepRecord(singles(ada, bo, plain([7, 2], [1, 7]), { format: 13 }), recorded).lost).toEqual([
    { part: "given" },
    ...none,
  ]);
  expect(keepRecord(singles(cass, dov, same), recorded).lost).toEqual([{ part: "given" }, ...none]);
});

test("in doubles each stroke stays with who took it; partners who have become opponents have no record together", () => {
  const pairs = (a: PlayerId, b: PlayerId, c: PlayerId, d: PlayerId, game: Game, more: Partial<MatchReported> = {}) =>
    singles(ada, bo, [game], {
      sides: [
        [
          { player: a, off: 5 },
          { player: b, off: 5 },
        ],
        [
          { player: c, off: 5 },
          { player: d, off: 5 },
        ],
      ],
      ...more,
    });
  const game: Game = { score: [4, 0], hoops: [0, 0, 0, 0], taken: [{ side: 0, seat: 1, hoop: 1 }] };
  const kept = pairs(ada, bo, cass, dov, game, {
    given: [
      [0, 1],
      [0, 0],
    ],
  });
  const swapped = keepRecord(pairs(bo, ada, cass, dov, { score: [4, 0] }), kept);
  expect(swapped.body).toMatchObject({
    given: [
      [1, 0],
      [0, 0],
    ],
    games: [{ taken: [{ side: 0, seat: 0, hoop: 1 }] }],
  });
  expect(keepRecord(pairs(ann, bo, cass, dov, { score: [4, 0] }), kept).body.games[0]).toEqual(game);
  expect(keepRecord(pairs(ada, cass, bo, dov, { score: [4, 0] }), kept).lost).toContainEqual({ part: "game", game: 1 });
});

test("a report without a record is corrected as it is", () => {
  const before = singles(ada, bo, plain([4, 2]));
  expect(hasRecord(before)).toBe(false);
  expect(keepRecord(singles(ada, bo, plain([4, 1])), before)).toEqual({
    body: singles(ada, bo, plain([4, 1])),
    lost: [],
  });
});
