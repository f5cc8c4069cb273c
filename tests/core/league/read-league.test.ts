import type { Day, LeagueRules } from "@sward/core";
import { findLeagueRules, readLeague } from "@sward/core";
import { expect, test } from "vitest";
import { clubs, league } from "../../support/cast.ts";
import type { Season } from "./season.ts";
import { openSeason } from "./season.ts";

const rules: LeagueRules = { ...findLeagueRules("even-games")!, deadline: "08-31" };

const read = ({ book }: Pick<Season, "book">, day: Day) => {
  const ledger = book.ledger();
  return readLeague({ state: ledger.state(), counted: ledger.counted() }, day);
};

test("LG47 a league is read for a day's season: its fixtures and table, and nobody else's", () => {
  const season = openSeason(rules);
  const first = season.sets("first", "2026-05-10", "north", "south");
  const second = season.sets("second", "2027-05-10", "south", "north");
  season.marks(season.secretary, first, "conceded", { by: season.keyOf("north") });
  season.marks(season.secretary, second, "conceded", { by: season.keyOf("north") });
  season.secretary.writes("league-rules-set", { rules: { ...rules, title: "the second" }, from: "2027-01-01" });
  const [one, two] = [read(season, "2026-07-01"), read(season, "2027-07-01")];
  expect(one.outcomes.map(({ fixture }) => fixture)).toEqual([first.id]);
  expect(two.outcomes.map(({ fixture }) => fixture)).toEqual([second.id]);
  expect([one.rules?.title, two.rules?.title]).toEqual([rules.title, "the second"]);
  expect(one.table?.rows.map(({ points }) => points)).toEqual([6, 0, 0]);
  expect(one.season).toEqual({ from: null, before: "2027-01-01" });
  expect(read(season, "2030-01-01").outcomes.map(({ fixture }) => fixture)).toEqual([second.id]);
});

test("LG47 without rules that can be read there is no table", () => {
  const { league: border } = league("border", clubs("north", "south"));
  border.root.writes("league-rules-set", { rules: { later: true }, from: "2026-01-01" });
  expect(read({ book: border }, "2026-07-01")).toMatchObject({ rules: null, table: null, outcomes: [], overdue: [] });
});

test("LG47 what is not settled is overdue after the deadline, the first on or after the fixture's day", () => {
  const season = openSeason(rules);
  const early = season.sets("early", "2026-05-10", "north", "south");
  const late = season.sets("late", "2026-09-20", "south", "west");
  const done = season.sets("done", "2026-05-11", "west", "north");
  season.marks(season.secretary, done, "void");
  const overdue = (day: Day) => read(season, day).overdue.map(({ fixture }) => fixture);
  expect(overdue("2026-08-31")).toEqual([]);
  expect(overdue("2026-09-01")).toEqual([early.id]);
  expect(overdue("2027-09-01")).toEqual([early.id, late.id]);
});
