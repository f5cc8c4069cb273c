import type { Bodies, KeyId, LeagueRules } from "@sward/core";
import { findLeagueRules, findRuleSet, readLeague } from "@sward/core";
import { expect, test } from "vitest";
import type { Matter } from "../../../../packages/client/src/app/league/league-matters.ts";
import { leagueMatters } from "../../../../packages/client/src/app/league/league-matters.ts";
import { matterTold } from "../../../../packages/client/src/app/words/league-matters.ts";
import type { FixtureCast, Season } from "../../../core/league/season.ts";
import { lineup, nameOf, openSeason } from "../../../core/league/season.ts";
import { player } from "../../../support/cast.ts";

/** Six matches, seven days to report, the last day the last of August. */
const rules: LeagueRules = { ...findLeagueRules("even-games")!, reportWithin: 7, deadline: "08-31" };

function matters(season: Season, today: string, club: KeyId | null = null) {
  const ledger = season.book.ledger();
  const state = ledger.state();
  const reading = readLeague({ state, counted: [...ledger.counted()] }, today);
  return leagueMatters(reading, state, { today, club, set: findRuleSet("england-2016") });
}
const of = (season: Season, today: string, club: KeyId | null = null): readonly Matter[] =>
  matters(season, today, club).flatMap((one) => one.matters);
const season = (): { season: Season; at: FixtureCast } => {
  const made = openSeason(rules);
  return { season: made, at: made.sets("first", "2026-05-10", "north", "south") };
};

test("reports that differ wait from the first moment, for the league and for both clubs and nobody else", () => {
  const { season: made, at } = season();
  made.reports(at, 3, "7-4", "north");
  made.reports(at, 3, "7-5", "south");
  const found = [{ type: "differs", matches: [3] }];
  expect(of(made, "2026-05-10")).toEqual(found);
  expect(of(made, "2026-05-10", made.keyOf("south"))).toEqual(found);
  expect(of(made, "2026-05-10", made.keyOf("west"))).toEqual([]);
});

test("one club's word alone waits when the days to report are over, and not on the last of them; the league's own word is enough", () => {
  const { season: made, at } = season();
  for (const slot of [1, 2, 3, 4]) made.reports(at, slot, "7-4", "north");
  made.reports(at, 5, "7-4", "north", "south");
  made.reports(at, 6, "7-4", "league");
  expect(of(made, "2026-05-17")).toEqual([]);
  expect(of(made, "2026-05-19")).toEqual([
    { type: "one-sided", matches: [1, 2, 3, 4], by: made.keyOf("north"), late: 2 },
  ]);
});

test("what nobody has reported waits when the days are over: all of a fixture, or what is missing; not once it is said what became of it", () => {
  const { season: made, at } = season();
  expect(of(made, "2026-05-18")).toEqual([{ type: "unreported", matches: [1, 2, 3, 4, 5, 6], all: true, late: 1 }]);
  for (const slot of [1, 2]) made.reports(at, slot, "7-4", "north", "south");
  expect(of(made, "2026-05-18")).toEqual([{ type: "unreported", matches: [3, 4, 5, 6], all: false, late: 1 }]);
  expect(of(made, "2026-09-01").map(({ type }) => type)).toEqual(["unreported", "overdue"]);
  made.marks(made.captains.north, at, "rained-off");
  expect(of(made, "2026-09-01")).toEqual([]);
  const { season: other, at: first } = season();
  other.marks(other.captains.south, first, "conceded", { by: other.keyOf("south") });
  expect(of(other, "2026-09-01")).toEqual([]);
});

test("clubs that say different things of a fixture wait for the league's word", () => {
  const { season: made, at } = season();
  made.marks(made.captains.north, at, "rained-off");
  expect(of(made, "2026-05-10")).toEqual([]);
  made.marks(made.captains.south, at, "postponed", { to: "2026-06-01" });
  const [found] = of(made, "2026-05-10");
  expect(found).toMatchObject({ type: "said-differently" });
  expect(found?.type === "said-differently" && found.marks.map(({ as }) => as).sort()).toEqual([
    "postponed",
    "rained-off",
  ]);
  made.marks(made.secretary, at, "rained-off");
  expect(of(made, "2026-05-10")).toEqual([]);
});

test("a team that the rules have something to say about is shown before play and a fortnight after", () => {
  const strict: LeagueRules = {
    ...rules,
    reportWithin: null,
    deadline: null,
    handicaps: { least: null, most: 8, totalAtLeast: null },
  };
  const made = openSeason(strict);
  const at = made.sets("first", "2026-05-10", "north", "south");
  made.names(at, "north", [1, 4]);
  const told = (today: string) =>
    of(made, today).flatMap((one) => (one.type === "team" ? one.warnings.map(({ about }) => about) : []));
  expect(told("2026-05-01")).toEqual(["short", "not-stated", "handicap-above", "not-stated"]);
  expect(told("2026-05-24").length).toBe(4);
  expect(told("2026-05-25")).toEqual([]);
  // A team that came from elsewhere and could not have been saved here.
  const twice: Bodies["lineup-named"] = {
    fixture: at.id,
    club: made.keyOf("south"),
    players: [lineup("south", 1), lineup("south", 1)],
  };
  made.captains.south.writes("lineup-named", twice);
  expect(of(made, "2026-05-01").at(-1)).toEqual({
    type: "team-wrong",
    club: made.keyOf("south"),
    fault: { type: "team-player-twice", player: player(nameOf("south", 1)) },
  });
});

test("every matter has its sentences, with what is to be done by who reads it", () => {
  const names = { player: (id: string) => id, club: (key: KeyId) => key, day: (day: string) => day };
  const north = "north" as KeyId;
  const mark = { entry: "e", as: "void", by: null, to: null, reason: "Flood", said: null, at: "" } as never;
  const all: readonly Matter[] = [
    { type: "differs", matches: [1] },
    { type: "sides-unknown", matches: [1, 2] },
    { type: "one-sided", matches: [2, 3], by: north, late: 1 },
    { type: "unreported", matches: [1], all: true, late: 2 },
    { type: "unreported", matches: [4], all: false, late: 2 },
    { type: "overdue" },
    { type: "said-differently", marks: [mark] },
    { type: "team", club: north, warnings: [{ about: "short", players: 2, wanted: 4 }] },
    { type: "team-wrong", club: north, fault: { type: "team-order", seat: 2, off: 3, before: 4 } },
  ];
  expect(all.map((matter) => matterTold(matter, names, null).lines.join(" "))).toEqual([
    "In match 1 the two clubs report different things.",
    "Of matches 1 and 2 it cannot be told which side played for which club.",
    "north alone has reported matches 2 and 3; 1 day past the days the rules give.",
    "Nobody has reported the fixture; 2 days past the days the rules give.",
    "Nobody has reported match 4; 2 days past the days the rules give.",
    "It is not settled, and the last day for all fixtures is past.",
    "Void, says the league: Flood.",
    "The team has 2 of 4 players. The games of an empty place are forfeited.",
    "Place 2 has handicap 3, and the place before it 4. In this league teams stand in the order of handicaps, the lowest first.",
  ]);
  for (const matter of all) {
    for (const reader of [null, north]) expect(matterTold(matter, names, reader).todo).not.toBe("");
  }
  // Who has told it is not asked to tell it again.
  const alone: Matter = { type: "one-sided", matches: [2], by: north, late: 1 };
  expect(matterTold(alone, names, north).todo).toContain("We have told it");
  expect(matterTold(alone, names, "south" as KeyId).todo).toContain("Confirm it");
});
