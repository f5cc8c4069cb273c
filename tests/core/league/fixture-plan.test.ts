import type { Bodies, FixtureId, KeyId, LeagueRules } from "@sward/core";
import { checkFixture, findLeagueRules, fixtureSlots, planFixtures } from "@sward/core";
import { expect, test } from "vitest";
import { fixture, keyOf } from "../../support/cast.ts";
import type { ClubName, Season } from "./season.ts";
import { openSeason } from "./season.ts";

const rules = findLeagueRules("even-games")!;
const twice: LeagueRules = { ...rules, meetings: "home-and-away" };
const clubs = ["ash", "birch", "cedar"].map((name) => keyOf(name).id);

const counter = (): (() => FixtureId) => {
  let count = 0;
  return () => {
    count += 1;
    return fixture(`planned ${count}`);
  };
};

test("LG40 a season's fixtures by rounds and days, each with the rules' slots and an id of its own, and the byes", () => {
  const days = ["2026-05-02", "2026-05-16", "2026-05-30"];
  const plan = planFixtures(rules, clubs, days, counter());
  if (!plan.ok) throw new Error(plan.fault.type);
  const [ash, birch, cedar] = clubs as [KeyId, KeyId, KeyId];
  expect(plan.value.drafts.map(({ body: { date, home, away } }) => [date, home, away])).toEqual([
    ["2026-05-02", birch, cedar],
    ["2026-05-16", ash, birch],
    ["2026-05-30", cedar, ash],
  ]);
  expect(plan.value.byes).toEqual([
    { day: "2026-05-02", club: ash },
    { day: "2026-05-16", club: cedar },
    { day: "2026-05-30", club: birch },
  ]);
  expect(new Set(plan.value.drafts.map(({ body }) => body.fixture)).size).toBe(3);
  for (const { body } of plan.value.drafts) expect(body.slots).toEqual(fixtureSlots(rules));
});

test("LG40 refused: one club, a club twice, another number of days than rounds", () => {
  const faultOf = (who: readonly KeyId[], days: readonly string[]) => {
    const plan = planFixtures(twice, who, days, counter());
    return plan.ok ? null : plan.fault;
  };
  expect(faultOf(clubs.slice(0, 1), [])).toEqual({ type: "fixtures-too-few-clubs", clubs: 1 });
  expect(faultOf([...clubs, clubs[0]!], [])).toEqual({ type: "fixtures-club-twice", club: clubs[0] });
  expect(faultOf(clubs, ["2026-05-02"])).toEqual({ type: "fixtures-days", days: 1, rounds: 6 });
});

const body = (
  season: Season,
  name: string,
  home: ClubName,
  away: ClubName,
  date = "2026-05-10",
): Bodies["fixture-set"] => ({
  fixture: fixture(name),
  date,
  home: season.keyOf(home),
  away: season.keyOf(away),
  slots: fixtureSlots(season.rules),
});
const check = (season: Season, what: Bodies["fixture-set"]) => checkFixture(what, season.view(), season.book.state());

test("LG41 refused: a club against itself, and a club that is not in the league", () => {
  const season = openSeason(rules);
  expect(check(season, body(season, "first", "north", "south"))).toBeNull();
  expect(check(season, body(season, "first", "north", "north"))).toEqual({
    type: "fixture-same-club",
    club: season.keyOf("north"),
  });
  const stranger = keyOf("stranger").id;
  expect(check(season, { ...body(season, "first", "north", "south"), away: stranger })).toEqual({
    type: "fixture-unknown-club",
    club: stranger,
  });
});

test("LG41 refused: a meeting there is already in the season, once or home and away as the rules say", () => {
  const season = openSeason(rules);
  const at = season.sets("first", "2026-05-10", "north", "south");
  const duplicate = { type: "fixture-duplicate", fixture: at.id, day: "2026-05-10" };
  expect(check(season, body(season, "second", "north", "south", "2026-07-01"))).toEqual(duplicate);
  expect(check(season, body(season, "second", "south", "north", "2026-07-01"))).toEqual(duplicate);
  expect(check(season, body(season, "first", "west", "north"))).toEqual(duplicate);
  expect(check(season, body(season, "second", "west", "south"))).toBeNull();
  // Set anew, or void, or in another season.
  const anew = season.book.written.at(-1)!;
  expect(check(season, { ...body(season, "first", "north", "south", "2026-05-11"), replaces: anew.id })).toBeNull();
  season.secretary.writes("league-rules-set", { rules: { ...rules }, from: "2027-01-01" });
  expect(check(season, body(season, "third", "north", "south", "2027-05-10"))).toBeNull();
  season.marks(season.secretary, at, "void");
  expect(check(season, body(season, "second", "north", "south", "2026-07-01"))).toBeNull();

  const both = openSeason(twice);
  both.sets("first", "2026-05-10", "north", "south");
  expect(check(both, body(both, "second", "south", "north", "2026-07-01"))).toBeNull();
  expect(check(both, body(both, "second", "north", "south", "2026-07-01"))).toMatchObject({
    type: "fixture-duplicate",
  });
});

test("LG26 LG27 a season is what one set of rules is in force for", () => {
  const season = openSeason(rules);
  season.sets("first", "2025-12-10", "north", "south");
  // Before the first rules it is their season.
  expect(check(season, body(season, "second", "north", "south", "2026-07-01"))).toMatchObject({ day: "2025-12-10" });
});
