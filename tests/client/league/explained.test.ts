import type { FixtureResult, KeyId, LeagueRules, Outcome, PlayerId, TeamWarning } from "@sward/core";
import { decided, findLeagueRules, forfeited, leagueTable } from "@sward/core";
import { expect, test } from "vitest";
import {
  comparedBy,
  listed,
  outcomeTold,
  slotTold,
  standingTold,
  tableTold,
  warningTold,
} from "../../../packages/client/src/league/explained.ts";

const rules: LeagueRules = findLeagueRules("everyone-meets")!;
const nameOf = (club: KeyId): string => club;
const club = (name: string) => name as KeyId;

const result = (games: readonly [number, number], hoops: readonly [number, number] = [0, 0]): FixtureResult =>
  decided(rules, { slots: [0, 0], games, hoops, drawnGames: 0 });
const between = (home: string, away: string, games: readonly [number, number]) => ({
  home: club(home),
  away: club(away),
  result: result(games),
});

test("every tie-break that was asked has a line, with each club's value, and a place that is shared says so", () => {
  const results = [
    between("Ash", "Birch", [9, 9]),
    between("Birch", "Cedar", [11, 7]),
    between("Cedar", "Ash", [7, 11]),
    between("Damson", "Elm", [9, 9]),
  ];
  expect(tableTold(leagueTable(rules, [], results), nameOf)).toEqual([
    "Ash and Birch are level; by points in the fixtures between them: Ash and Birch 1: still level.",
    "Ash and Birch are level; by games won: Ash and Birch 20: still level.",
    "Damson and Elm are level; by points in the fixtures between them: Damson and Elm 1: still level.",
    "Damson and Elm are level; by games won: Damson and Elm 9: still level.",
    "Ash and Birch share a place: nothing in the rules tells them apart.",
    "Damson and Elm share a place: nothing in the rules tells them apart.",
  ]);
  const told = tableTold(
    leagueTable(rules, [], [between("Ash", "Birch", [12, 6]), between("Cedar", "Damson", [10, 8])]),
    nameOf,
  );
  expect(told[1]).toBe("Ash and Cedar are level; by games won: Ash 12, Cedar 10.");
});

test("every comparison has its words", () => {
  for (const by of ["points", ...rules.tieBreaks] as const) expect(comparedBy(by)).toMatch(/^[a-z ]+$/);
  expect([listed([]), listed(["a"]), listed(["a", "b"]), listed(["a", "b", "c"])]).toEqual([
    "",
    "a",
    "a and b",
    "a, b and c",
  ]);
});

const outcome = (more: Partial<Outcome>): Outcome => ({
  fixture: "f" as Outcome["fixture"],
  day: "2026-05-10",
  home: club("Ash"),
  away: club("Birch"),
  standing: "played",
  slots: [],
  tally: { slots: [0, 0], games: [0, 0], hoops: [0, 0], drawnGames: 0 },
  dropped: null,
  result: null,
  ...more,
});

test("a fixture is told by what decided it", () => {
  const told = (more: Partial<Outcome>) => outcomeTold(outcome(more), nameOf);
  expect(told({ result: result([11, 7]) })).toBe("Ash beat Birch 11-7 in games");
  expect(told({ result: result([7, 11]) })).toBe("Birch beat Ash 11-7 in games");
  expect(told({ result: result([9, 9]) })).toBe("Ash and Birch drew 9-9");
  expect(told({ result: result([0, 0]) })).toBe("Ash and Birch drew");
  expect(told({ result: forfeited(rules, 1), standing: "conceded" })).toBe("Ash conceded to Birch");
  const hoops = decided(
    { score: ["games", "hoops"] },
    { slots: [0, 0], games: [3, 3], hoops: [30, 34], drawnGames: 0 },
  );
  expect(told({ result: hoops })).toBe("Birch beat Ash 34-30 in hoops");
  expect(told({ standing: "to-play" })).toBe("Ash v Birch: to play");
  expect(told({ standing: "rained-off", result: result([3, 1]), dropped: { slot: 5, game: 1 } })).toBe(
    "Ash beat Birch 3-1 in games; game 1 of match 5 left out, for an even number counts",
  );
});

test("what is open has a reason, and what counts has none", () => {
  expect(slotTold("counts")).toBe("");
  for (const open of ["not-reported", "differs", "one-report", "ruled-void", "sides-unknown"] as const) {
    expect(slotTold(open)).not.toBe("");
  }
  expect(standingTold("rained-off")).toBe("rained off");
});

test("every warning is a whole sentence with the names in it", () => {
  const ada = "Ada" as PlayerId;
  const stated = {
    entry: "e",
    player: ada,
    handicap: 4,
    index: 1500,
    on: "2026-05-01",
    by: "k",
    club: club("Ash"),
    at: "2026-05-01T10:00:00Z",
  } as unknown as Extract<TeamWarning, { about: "off-another" }>["stated"];
  const warnings: readonly (readonly [TeamWarning, string])[] = [
    [{ about: "handicap-above", player: ada, off: 14, most: 12 }, "Ada has handicap 14; the league's limit is 12."],
    [
      { about: "handicap-below", player: ada, off: 2, least: 3 },
      "Ada has handicap 2; the lowest the league allows is 3.",
    ],
    [
      { about: "short", players: 3, wanted: 4 },
      "The team has 3 of 4 players. The games of an empty place are forfeited.",
    ],
    [{ about: "total-below", total: 20, atLeast: 24 }, "The handicaps add up to 20; the league asks for at least 24."],
    [
      { about: "played-for-another-club", player: ada, club: club("Birch"), fixture: "f" as Outcome["fixture"] },
      "Ada has played for Birch this season.",
    ],
    [
      { about: "too-many-borrowed", players: [ada], allowed: 0 },
      "Ada: not known as the club's own. The league allows nobody borrowed.",
    ],
    [
      { about: "too-many-reserves", players: [ada, "Ben" as PlayerId], allowed: 1 },
      "Ada and Ben stand in. The league allows 1 in reserve.",
    ],
    [
      { about: "reserve-too-often", player: ada, times: 3, allowed: 2 },
      "Ada stands in for the 3rd time; the league allows 2.",
    ],
    [{ about: "off-another", player: ada, off: 5, stated }, "Ada is named off 5; stated is 4, as of 2026-05-01."],
    [{ about: "not-stated", player: ada }, "Nobody has stated a handicap of Ada for that day."],
  ];
  const names = { player: (id: PlayerId) => id as string, club: nameOf, day: (day: string) => day };
  for (const [warning, sentence] of warnings) expect(warningTold(warning, names)).toBe(sentence);
  const often = (times: number) =>
    warningTold({ about: "reserve-too-often", player: ada, times, allowed: 1 }, names).split(" ")[5];
  expect([2, 11, 12, 13, 21, 22, 101, 111].map(often)).toEqual([
    "2nd",
    "11th",
    "12th",
    "13th",
    "21st",
    "22nd",
    "101st",
    "111th",
  ]);
});
