import type { Bodies, LeagueRules, TeamDraft } from "@sward/core";
import { checkTeam, findLeagueRules, findRuleSet, viewStatements } from "@sward/core";
import { expect, test } from "vitest";
import { fixture, keyOf, player } from "../../support/cast.ts";
import type { ClubName, FixtureCast, Season } from "./season.ts";
import { lineup, nameOf, openSeason } from "./season.ts";

const strict: LeagueRules = {
  ...findLeagueRules("three-each")!,
  handicaps: { least: 3, most: 11, totalAtLeast: 24 },
  team: {
    players: 4,
    order: "by-handicap",
    borrowed: 0,
    oneClub: true,
    reserves: { inFixture: 1, inSeason: 1 },
  },
};

function check(season: Season, team: TeamDraft) {
  const ledger = season.book.ledger();
  const source = { state: ledger.state(), counted: ledger.counted() };
  return checkTeam(team, {
    state: source.state,
    league: season.view(),
    statements: viewStatements({ state: source.state, counted: ledger.counted() }),
    rules: season.rules,
    set: findRuleSet("england-2016"),
  });
}

const team = (
  season: Season,
  at: FixtureCast,
  club: ClubName,
  seats: readonly number[],
  reserves: readonly number[] = [],
) => ({
  fixture: at.id,
  club: season.keyOf(club),
  players: seats.map((seat) => lineup(club, seat)),
  ...(reserves.length === 0 ? {} : { reserves: reserves.map((seat) => player(nameOf(club, seat))) }),
});

const faultOf = (season: Season, draft: TeamDraft) => {
  const result = check(season, draft);
  return result.ok ? null : result.fault;
};
const warned = (season: Season, draft: TeamDraft) => {
  const result = check(season, draft);
  if (!result.ok) throw new Error(JSON.stringify(result.fault));
  return result.value.warnings.filter(({ about }) => about !== "not-stated");
};

test("LG32 refused: an unknown fixture, a club that does not play in it, a player nobody knows", () => {
  const season = openSeason(strict);
  const at = season.sets("first", "2026-05-10", "north", "south");
  const fine = team(season, at, "north", [2, 3, 4, 5]);
  expect(faultOf(season, fine)).toBeNull();
  expect(faultOf(season, { ...fine, fixture: fixture("none") })).toEqual({
    type: "team-unknown-fixture",
    fixture: fixture("none"),
  });
  expect(faultOf(season, { ...fine, club: season.keyOf("west") })).toEqual({
    type: "team-unknown-club",
    club: season.keyOf("west"),
  });
  expect(faultOf(season, { ...fine, club: keyOf("nobody").id })).toMatchObject({ type: "team-unknown-club" });
  const stranger = { player: player("stranger"), off: 12 };
  expect(faultOf(season, { ...fine, players: [...fine.players.slice(0, 3), stranger] })).toEqual({
    type: "team-unknown-player",
    player: stranger.player,
  });
});

test("LG33 refused: too many players, a player twice, a reserve who is not in the team, a handicap there is not", () => {
  const season = openSeason(strict);
  const at = season.sets("first", "2026-05-10", "north", "south");
  expect(faultOf(season, team(season, at, "north", [1, 2, 3, 4, 5]))).toEqual({
    type: "team-count",
    players: 5,
    wanted: 4,
  });
  expect(faultOf(season, team(season, at, "north", [2, 2, 3, 4]))).toEqual({
    type: "team-player-twice",
    player: player("north 2"),
  });
  expect(faultOf(season, team(season, at, "north", [2, 3, 4, 5], [1]))).toEqual({
    type: "team-reserve-not-in-team",
    player: player("north 1"),
  });
  const odd = { player: player("north 5"), off: 13 };
  const players = [...team(season, at, "north", [2, 3, 4]).players, odd];
  expect(faultOf(season, { ...team(season, at, "north", [2]), players })).toEqual({
    type: "team-handicap-not-in-table",
    player: odd.player,
    off: 13,
    rules: "england-2016",
  });
});

test("LG33 one person under two ids is twice in a team", () => {
  const season = openSeason(strict);
  const at = season.sets("first", "2026-05-10", "north", "south");
  season.captains.north.joins("a visitor", "visitor");
  season.captains.north.links("a visitor", nameOf("north", 2));
  const players = [lineup("north", 2), { player: player("a visitor"), off: 7 }, lineup("north", 4), lineup("north", 5)];
  expect(faultOf(season, { ...team(season, at, "north", [2]), players })).toMatchObject({ type: "team-player-twice" });
});

test("LG34 refused: a player in two teams, of this fixture or of another on that day", () => {
  const season = openSeason(strict);
  const at = season.sets("first", "2026-05-10", "north", "south");
  const same = season.sets("second", "2026-05-10", "west", "south");
  const later = season.sets("third", "2026-05-17", "west", "north");
  season.names(at, "south", [2, 3, 4, 5]);
  const lent = [lineup("south", 2), lineup("west", 3), lineup("west", 4), lineup("west", 5)];
  const elsewhere = {
    type: "team-player-elsewhere",
    player: player("south 2"),
    fixture: at.id,
    club: season.keyOf("south"),
  };
  expect(faultOf(season, { ...team(season, same, "west", [2]), players: lent })).toEqual(elsewhere);
  expect(faultOf(season, { ...team(season, at, "north", [2]), players: lent })).toEqual(elsewhere);
  expect(faultOf(season, { ...team(season, later, "west", [2]), players: lent })).toBeNull();
  // Naming one's team anew is no second team.
  expect(faultOf(season, team(season, at, "south", [2, 3, 4, 6]))).toBeNull();
});

test("LG35 refused: a lower handicap after a higher one, where the rules order by handicap", () => {
  const season = openSeason(strict);
  const at = season.sets("first", "2026-05-10", "north", "south");
  expect(faultOf(season, team(season, at, "north", [2, 4, 3, 5]))).toEqual({
    type: "team-order",
    seat: 3,
    off: 7,
    before: 9,
  });
  const equal = team(season, at, "north", [2, 3, 4, 5]);
  const players = equal.players.map((one, seat) => (seat === 1 ? { ...one, off: 5 } : one));
  expect(faultOf(season, { ...equal, players })).toBeNull();
  const free = openSeason({ ...strict, team: { ...strict.team, order: "any" } });
  const there = free.sets("first", "2026-05-10", "north", "south");
  expect(faultOf(free, team(free, there, "north", [5, 4, 3, 2]))).toBeNull();
});

test("LG36 warnings: handicaps beyond the limits, a total too low, a short team", () => {
  const season = openSeason(strict);
  const at = season.sets("first", "2026-05-10", "north", "south");
  expect(warned(season, team(season, at, "north", [2, 3, 4, 5]))).toEqual([]);
  expect(warned(season, team(season, at, "north", [1, 2, 3, 6]))).toEqual([
    { about: "handicap-below", player: player("north 1"), off: 2, least: 3 },
    { about: "handicap-above", player: player("north 6"), off: 12, most: 11 },
  ]);
  expect(warned(season, team(season, at, "north", [2, 3, 4]))).toEqual([
    { about: "short", players: 3, wanted: 4 },
    { about: "total-below", total: 21, atLeast: 24 },
  ]);
});

test("LG36 warnings: played for another club, also where no team was named, but not in another season", () => {
  const season = openSeason(strict);
  const at = season.sets("first", "2026-05-10", "north", "south");
  const later = season.sets("second", "2026-06-10", "west", "north");
  season.names(at, "south", [2, 3, 4, 5]);
  const lent = {
    ...team(season, later, "west", [2]),
    players: [2, 3, 4, 5].map((seat) => lineup(seat === 2 ? "south" : "west", seat)),
  };
  const south = season.keyOf("south");
  const expected = { about: "played-for-another-club", player: player("south 2"), club: south, fixture: at.id };
  const about = () => warned(season, lent).filter((one) => one.about === "played-for-another-club");
  expect(about()).toEqual([expected]);
  expect(warned(season, lent)).toContainEqual({ about: "too-many-borrowed", players: [player("south 2")], allowed: 0 });
  const next = season.secretary.writes("league-rules-set", { rules: { ...strict }, from: "2026-06-01" });
  expect(about()).toEqual([]);
  season.secretary.withdraws(next);
  expect(about()).toEqual([expected]);
  season.marks(season.secretary, at, "void");
  expect(about()).toEqual([]);

  const other = openSeason(strict);
  const there = other.sets("first", "2026-05-10", "north", "south");
  const then = other.sets("second", "2026-06-10", "west", "north");
  other.reports(there, 1, "7-4", "south");
  const players = [lineup("south", 1), lineup("west", 2), lineup("west", 3), lineup("west", 4)];
  expect(warned(other, { ...team(other, then, "west", [2]), players })).toContainEqual({
    about: "played-for-another-club",
    player: player("south 1"),
    club: other.keyOf("south"),
    fixture: there.id,
  });
});

test("LG36 warnings: too many reserves, and one who stood in too often", () => {
  const season = openSeason(strict);
  const days = ["2026-05-10", "2026-05-17", "2026-05-24"] as const;
  const [first, second, third] = days.map((day) => season.sets(day, day, "north", "south"));
  const stands = (at: FixtureCast, reserves: readonly number[]): Bodies["lineup-named"] => ({
    ...team(season, at, "north", [2, 3, 4, 5], reserves),
    players: [...team(season, at, "north", [2, 3, 4, 5]).players],
    reserves: reserves.map((seat) => player(nameOf("north", seat))),
  });
  expect(warned(season, stands(first!, [5]))).toEqual([]);
  expect(warned(season, stands(first!, [4, 5]))).toEqual([
    { about: "too-many-reserves", players: [player("north 4"), player("north 5")], allowed: 1 },
  ]);
  season.captains.north.writes("lineup-named", stands(first!, [5]));
  expect(warned(season, stands(second!, [5]))).toEqual([
    { about: "reserve-too-often", player: player("north 5"), times: 2, allowed: 1 },
  ]);
  // Regular once is not a time he stood in, and the same fixture named anew is not a second time.
  season.captains.north.writes("lineup-named", stands(second!, []));
  expect(warned(season, stands(third!, [4]))).toEqual([]);
  expect(warned(season, stands(first!, [5]))).toEqual([]);
});

test("LG37 warnings: off another handicap than the one stated for the day, or none stated", () => {
  const season = openSeason(strict);
  const at = season.sets("first", "2026-05-10", "north", "south");
  const draft = team(season, at, "north", [2, 3, 4, 5]);
  const result = check(season, draft);
  expect(result.ok && result.value.warnings.map(({ about }) => about)).toEqual(Array(4).fill("not-stated"));
  const state = (seat: number, handicap: number, on: string) =>
    season.captains.north.writes("handicap-stated", {
      player: player(nameOf("north", seat)),
      handicap,
      index: 1500,
      on,
    });
  state(2, 5, "2026-05-01");
  const now = state(3, 8, "2026-05-09");
  state(3, 7, "2026-05-11");
  const after = check(season, draft);
  expect(after.ok && after.value.warnings.slice(0, 1)).toMatchObject([
    {
      about: "off-another",
      player: player("north 3"),
      off: 7,
      stated: { entry: now.id, handicap: 8, on: "2026-05-09" },
    },
  ]);
});

test("LG32 a team refused changes nothing, for nothing was signed", () => {
  const season = openSeason(strict);
  const at = season.sets("first", "2026-05-10", "north", "south");
  const before = season.book.written.length;
  check(season, team(season, at, "north", [2, 4, 3, 5]));
  expect(season.book.written.length).toBe(before);
  expect(season.view().fixtures[0]?.teams).toEqual([null, null]);
});
