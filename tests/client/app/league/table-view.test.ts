import type { KeyId } from "@sward/core";
import { findLeagueRules, readLeague } from "@sward/core";
import { expect, test } from "vitest";
import { tableAsOf, viewTable } from "../../../../packages/client/src/app/league/table-view.ts";
import type { Season } from "../../../core/league/season.ts";
import { openSeason } from "../../../core/league/season.ts";

const TODAY = "2026-06-01";
const rules = findLeagueRules("even-games")!;

const nameOf = (season: Season) => {
  const names = new Map<KeyId, string>((["north", "south", "west"] as const).map((club) => [season.keyOf(club), club]));
  return (club: KeyId): string => names.get(club) ?? "?";
};

function view(season: Season, today = TODAY) {
  const ledger = season.book.ledger();
  const reading = readLeague({ state: ledger.state(), counted: ledger.counted() }, today);
  return viewTable(reading, nameOf(season), today)!;
}

const playOut = (season: Season, at: ReturnType<Season["sets"]>, scores: readonly string[]): void => {
  for (const [slot, score] of scores.entries()) season.reports(at, slot + 1, score, at.home, at.away);
};

test("a fixture all of whose matches count is counted, one half reported is left out with what is missing", () => {
  const season = openSeason(rules);
  playOut(season, season.sets("first", "2026-05-10", "north", "south"), ["7-4", "7-5", "7-3", "4-7", "7-6", "7-0"]);
  const second = season.sets("second", "2026-05-17", "south", "west");
  season.reports(second, 1, "7-4", "south", "west");
  season.reports(second, 2, "7-4", "south");
  season.reports(second, 2, "7-5", "west");
  const { rows, counted, leftOut, ahead } = view(season);
  expect(counted.map(({ told, why }) => [told, why])).toEqual([["north beat south 5-1 in games", []]]);
  expect(leftOut.map(({ told, why }) => [told, why])).toEqual([
    [
      "south v west: not all in, so far 1-0",
      ["Match 2: the two reports differ.", "Matches 3, 4, 5 and 6: not reported."],
    ],
  ]);
  expect(rows.map(({ club, points, place }) => [nameOf(season)(club), points, place])).toEqual([
    ["north", 5, 1],
    ["south", 1, 2],
    ["west", 0, 3],
  ]);
  expect(ahead).toBe(0);
});

test("what was said of a fixture is told with who said it, and what was not followed too", () => {
  const season = openSeason(rules);
  const at = season.sets("first", "2026-05-10", "north", "south");
  season.marks(season.captains.north, at, "conceded", { by: season.keyOf("north") });
  season.marks(season.secretary, at, "void");
  expect(view(season).leftOut).toMatchObject([
    {
      told: "north v south: void",
      why: [
        "Void, says the league: told by the captains.",
        "Also said, and not followed: conceded, by north: told by the captains.",
      ],
    },
  ]);
});

test("what is still to come is counted and not listed; the day it was to be played on has passed, and it is listed", () => {
  const season = openSeason(rules);
  season.sets("first", "2026-07-01", "north", "south");
  const second = season.sets("second", "2026-05-10", "west", "south");
  season.marks(season.captains.west, second, "postponed", { to: "2026-08-01" });
  expect(view(season)).toMatchObject({ ahead: 2, leftOut: [] });
  expect(view(season, "2026-07-02").leftOut.map(({ told }) => told)).toEqual(["north v south: to play"]);
});

test("points are told apart by what they were earned for, and clubs that share a place say so in the order of their names", () => {
  const season = openSeason(rules);
  playOut(season, season.sets("first", "2026-05-10", "north", "south"), ["7-4", "7-5", "7-3", "4-7", "7-6", "7-0"]);
  const second = season.sets("second", "2026-05-17", "west", "south");
  season.marks(season.captains.south, second, "conceded", { by: season.keyOf("south") });
  const { earnedFor, rows, why } = view(season);
  expect(earnedFor).toEqual(["game", "forfeit"]);
  expect(rows[0]).toMatchObject({ points: 6, earned: { forfeit: 6, game: 0 } });
  expect(why).toEqual([]);
  const level = view(openSeason(rules));
  expect(level.rows.map(({ club, shared }) => [nameOf(season)(club), shared])).toEqual([
    ["north", true],
    ["south", true],
    ["west", true],
  ]);
  expect(level.why.at(-1)).toBe("north, south and west share a place: nothing in the rules tells them apart.");
  expect(level.why[0]).toMatch(/^north, south and west are level; by /);
});

test("a table is as of the last entry it is made of, whatever order entries came in, and not of others", () => {
  const season = openSeason(rules);
  const entries = [...season.book.ledger().counted()];
  const at = (one: (typeof entries)[number], moment: string) => ({ ...one, entry: { ...one.entry, at: moment } });
  const pick = (kind: string) => entries.find(({ entry }) => entry.kind === kind)!;
  const set = at(pick("league-rules-set"), "2026-03-01T10:00:00Z");
  const club = at(pick("club-admitted"), "2026-02-01T10:00:00Z");
  const joined = at(pick("player-joined"), "2026-09-01T10:00:00Z");
  expect(tableAsOf([set, club, joined])).toBe("2026-03-01T10:00:00Z");
  expect(tableAsOf([joined, club, set])).toBe("2026-03-01T10:00:00Z");
  expect(tableAsOf([joined])).toBe(null);
});
