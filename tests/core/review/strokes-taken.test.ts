/** What became of extra strokes, from what a score pad kept. */
import type { Game, StrokeRecord } from "@sward/core";
import { reviewCounts } from "@sward/core";
import { expect, test } from "vitest";
import type { Club } from "../../support/cast.ts";
import { clubs, keyOfMatch, played, player } from "../../support/cast.ts";

function recordsOf(club: Club): readonly StrokeRecord[] {
  const ledger = club.ledger();
  return reviewCounts(ledger.state(), ledger.counted(), { from: "2026-01-01", to: "2026-12-31" }).strokes;
}

function club(): Club {
  const { north } = clubs("north");
  for (const name of ["ada", "ben", "cat", "dan"]) north.member(name, 7);
  return north;
}

const takes = (side: 0 | 1, seat: 0 | 1, hoop: number) => ({ side, seat, hoop });
const kept = (score: [number, number], taken: Game["taken"], hoops?: Game["hoops"]): Game => ({
  score,
  ...(taken === undefined ? {} : { taken }),
  ...(hoops === undefined ? {} : { hoops }),
});

test("RV8 given, taken by hoop, whether the side made it, unused, and who won", () => {
  const north = club();
  const hoops = [0, 1, 1, 1, 1, 1, 1, 1] as const;
  north.recorder.reports(
    played("2026-05-01", "ada 4", "ben 9", "1-7", {
      games: [kept([1, 7], [takes(1, 0, 1), takes(1, 0, 2), takes(1, 0, 2)], [...hoops])],
    }),
  );
  expect(recordsOf(north)).toEqual([
    {
      match: expect.any(String),
      game: 1,
      date: "2026-05-01",
      player: player("ben"),
      given: 5,
      taken: [
        { hoop: 1, made: false },
        { hoop: 2, made: true },
        { hoop: 2, made: true },
      ],
      unused: 2,
      won: true,
    },
  ]);
});

test("RV8 hoops that were not kept make nothing known of them; more taken than given leaves none unused", () => {
  const north = club();
  north.recorder.reports(
    played("2026-05-01", "ada 7", "ben 8", "7-4", { games: [kept([7, 4], [takes(1, 0, 3), takes(1, 0, 4)])] }),
  );
  expect(recordsOf(north)).toMatchObject([
    { given: 1, taken: [{ made: null }, { made: null }], unused: 0, won: false },
  ]);
});

test("RV8 doubles and friendlies have records, by player, whichever way round the report was written", () => {
  const pad = { ...kept([5, 5], [takes(0, 1, 4), takes(1, 0, 9), takes(0, 1, 6)]), ended: "time" as const };
  const found = (one: string, two: string) => {
    const north = club();
    const given: [number[], number[]] = [
      [0, 3],
      [2, 0],
    ];
    north.recorder.reports(played("2026-05-01", one, two, "7-4", { occasion: "ad-hoc", given, games: [pad] }));
    const records = recordsOf(north).map(({ player: who, given: had, taken, unused, won }) => {
      return [who, { had, hoops: taken.map(({ hoop }) => hoop), unused, won }] as const;
    });
    return new Map(records);
  };
  const expected = (second: string, third: string) =>
    new Map([
      [player(second), { had: 3, hoops: [4, 6], unused: 1, won: null }],
      [player(third), { had: 2, hoops: [9], unused: 1, won: null }],
    ]);
  expect(found("ada 4 + ben 9", "cat 10 + dan 6")).toEqual(expected("ben", "cat"));
  expect(found("dan 4 + cat 9", "ben 10 + ada 6")).toEqual(expected("cat", "ben"));
  expect(found("ben 4 + ada 9", "dan 10 + cat 6")).toEqual(expected("ada", "dan"));
});

test("RV8 none of abandoned games, walkovers and level play", () => {
  const north = club();
  const pad = kept([6, 2], [takes(1, 0, 1)]);
  north.recorder.reports(played("2026-05-01", "ada 4", "ben 9", "7-4", { games: [{ ...pad, ended: "abandoned" }] }));
  north.recorder.reports(
    played("2026-05-02", "ada 4", "ben 9", "7-4", { games: [{ ...pad, score: [7, 0], ended: "walkover" }] }),
  );
  north.recorder.reports(
    played("2026-05-03", "ada 4", "ben 9", "7-4", { play: "level", given: [[0], [2]], games: [kept([7, 4], [])] }),
  );
  expect(recordsOf(north)).toEqual([]);
});

test("RV9 a pad that kept no stroke says all were unused, a report without a pad says nothing", () => {
  const north = club();
  north.recorder.reports(played("2026-05-02", "ada 4", "ben 9", "7-4"));
  north.recorder.reports(
    played("2026-05-03", "ada 4", "ben 9", "7-4", {
      games: [kept([7, 4], undefined), kept([4, 7], [takes(1, 0, 13)])],
    }),
  );
  north.recorder.reports(played("2026-05-01", "ada 4", "ben 9", "7-4", { games: [kept([7, 4], [])] }));
  expect(recordsOf(north).map(({ date, game, given, unused }) => [date, game, given, unused])).toEqual([
    ["2026-05-01", 1, 5, 5],
    ["2026-05-03", 2, 5, 4],
  ]);
});

test("RV9 two reports that kept one game make one record, and one that does not agree makes none", () => {
  const north = club();
  const match = played("2026-05-01", "ada 4", "ben 9", "7-4", { games: [kept([7, 4], [takes(1, 0, 2)])] });
  const reports = [
    north.recorder.reports(match),
    north.handicapper.reports({ ...match, games: [kept([7, 4], [takes(1, 0, 2), takes(1, 0, 3)])] }),
  ];
  const lowest = reports[0]!.id < reports[1]!.id ? 4 : 3;
  expect(recordsOf(north).map(({ unused }) => unused)).toEqual([lowest]);

  const other = club();
  const plain = other.recorder.reports(played("2026-05-01", "ada 4", "ben 9", "7-4"));
  other.handicapper.reports({ ...match, games: [kept([7, 5], [takes(1, 0, 2)])] });
  other.handicapper.rules(keyOfMatch(match), plain);
  expect(recordsOf(other)).toEqual([]);
});
