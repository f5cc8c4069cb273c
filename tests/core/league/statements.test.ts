import type { Day, PlayedOffOther } from "@sward/core";
import {
  exchangePoints,
  extraStrokes,
  findLeagueRules,
  findRuleSet,
  playedOffOthers,
  statedOn,
  viewStatements,
} from "@sward/core";
import { expect, test } from "vitest";
import { clubs, league, played, player } from "../../support/cast.ts";
import type { Season } from "./season.ts";
import { openSeason } from "./season.ts";

const evening = findLeagueRules("even-games")!;
const set = findRuleSet("england-2016")!;

function read(season: Pick<Season, "book">) {
  const ledger = season.book.ledger();
  const state = ledger.state();
  const statements = viewStatements({ state, counted: ledger.counted() });
  return { state, statements, others: playedOffOthers(state, statements, () => set) };
}

const states = (by: Season["secretary"], handicap: number, on: Day) =>
  by.writes("handicap-stated", { player: player("north 1"), handicap, index: 1500 + handicap, on });

test("LG28 in force on a day is the statement for the latest day up to it, with who made it and when", () => {
  const season = openSeason(evening);
  const first = states(season.captains.north, 5, "2026-04-01");
  const second = states(season.captains.north, 4, "2026-06-01");
  const { statements } = read(season);
  const on = (day: Day) => statedOn(statements, player("north 1"), day);
  expect(on("2026-03-31")).toBeNull();
  expect(on("2026-05-31")).toEqual({
    entry: first.id,
    player: player("north 1"),
    handicap: 5,
    index: 1505,
    on: "2026-04-01",
    by: season.captains.north.id,
    club: season.keyOf("north"),
    at: first.entry.at,
  });
  expect([on("2026-06-01")?.entry, on("2030-01-01")?.entry]).toEqual([second.id, second.id]);
  expect(statedOn(statements, player("nobody"), "2026-06-01")).toBeNull();
  // Taken back, the one before is in force again.
  season.captains.north.withdraws(second);
  expect(statedOn(read(season).statements, player("north 1"), "2026-06-01")?.entry).toBe(first.id);
});

test("LG29 of a player whose home is in the league only that club is heard, and the league; of one day one statement", () => {
  const season = openSeason(evening);
  states(season.captains.south, 9, "2026-05-01");
  expect(read(season).statements.size).toBe(0);
  states(season.captains.north, 5, "2026-05-01");
  const corrected = states(season.captains.north, 4, "2026-05-01");
  const byLeague = states(season.secretary, 3, "2026-05-02");
  const all = read(season).statements.get(player("north 1"));
  expect(all?.map(({ entry, club }) => [entry, club])).toEqual([
    [corrected.id, season.keyOf("north")],
    [byLeague.id, null],
  ]);
});

test("LG29 statements under another id of a person are that person's", () => {
  const season = openSeason(evening);
  season.captains.north.joins("other id", "visitor", { book: season.clubs.north.id });
  season.captains.north.writes("handicap-stated", {
    player: player("other id"),
    handicap: 6,
    index: 1400,
    on: "2026-05-01",
  });
  season.captains.north.links("other id", "north 1");
  expect(statedOn(read(season).statements, player("north 1"), "2026-05-01")?.handicap).toBe(6);
});

test("LG30 LG31 a game off another handicap stands, and is seen with its strokes and points as they were and would have been", () => {
  const season = openSeason({ ...evening, slots: [{ play: "handicap", format: 13, bestOf: 3, home: [1], away: [1] }] });
  const at = season.sets("first", "2026-05-10", "north", "south");
  states(season.captains.north, 4, "2026-05-01");
  season.captains.south.writes("handicap-stated", {
    player: player("south 1"),
    handicap: 2,
    index: 1600,
    on: "2026-05-01",
  });
  // North's first played off 2 and was stated at 4.
  season.reports(at, 1, "7-4 5-7 6-2a", "north", "south");
  const { state, others } = read(season);
  expect(others.length).toBe(1);
  const [other] = others as readonly [PlayedOffOther];
  expect(other.players).toMatchObject([
    { player: player("north 1"), off: 2, stated: { handicap: 4, on: "2026-05-01" } },
  ]);
  const strokes = (offs: readonly number[]) => {
    const answer = extraStrokes(set, { format: 13, sides: offs.map((off) => [off]) });
    return answer.ok ? answer.value.choices : null;
  };
  const home = other.facts.sides[0][0]?.player === player("north 1") ? 0 : 1;
  const sides = (own: number) => (home === 0 ? [own, 2] : [2, own]);
  expect(other.strokes).toEqual({ was: strokes(sides(2)), would: strokes(sides(4)) });
  expect(other.strokes?.would[0]?.strokes).toMatchObject([{ handicap: 4, extra: 2 }]);
  // An abandoned game moves nothing, whatever anybody was off.
  expect(other.games).toEqual([
    { game: 1, was: 10, would: 10 },
    { game: 2, was: 10, would: 10 },
  ]);
  expect(state.matches.get(other.match)?.status).toBe("confirmed");
});

test("LG31 in level play the points differ, and there are no strokes", () => {
  const season = openSeason({ ...evening, slots: [{ play: "level", format: 13, bestOf: 1, home: [1], away: [1] }] });
  const at = season.sets("first", "2026-05-10", "north", "south");
  states(season.captains.north, 0, "2026-05-10");
  season.reports(at, 1, "7-4", "south");
  const [other] = read(season).others;
  const points = (winner: number) => {
    const answer = exchangePoints(set, { play: "level", winner: [winner], loser: [2] });
    return answer.ok ? answer.value.points : null;
  };
  expect(other?.strokes).toBeNull();
  expect(other?.games).toEqual([{ game: 1, was: points(2), would: points(0) }]);
  expect(points(2)).not.toBe(points(0));
});

test("LG30 nothing is noticed where nothing was stated, where it agrees, or where the match does not count", () => {
  const season = openSeason(evening);
  const at = season.sets("first", "2026-05-10", "north", "south");
  season.reports(at, 3, "7-4", "north");
  expect(read(season).others).toEqual([]);
  states(season.captains.north, 2, "2026-05-01");
  expect(read(season).others).toEqual([]);
  const wrong = states(season.captains.north, 3, "2026-05-02");
  expect(read(season).others.length).toBe(1);
  season.reports(at, 3, "4-7", "south");
  expect(read(season).others).toEqual([]);
  season.captains.north.withdraws(wrong);
  expect(read(season).others).toEqual([]);
});

test("LG30 the same is noticed at the home club: the carried match has a notice on the player's card", () => {
  const { north, south } = clubs("north", "south");
  const { league: border, captains } = league("border", { north, south });
  const ada = north.member("ada", 4);
  captains.north.writes("handicap-stated", { player: ada, handicap: 4, index: 1500, on: "2026-05-01" });
  captains.north.joins("ada", "visitor", { book: north.id });
  const report = captains.south.reports(played("2026-05-10", "ada 2", "ben 2", "7-4", { occasion: "league" }));
  expect(read({ book: border }).others[0]?.players).toMatchObject([{ player: ada, off: 2, stated: { handicap: 4 } }]);
  north.recorder.carries(report);
  expect(north.card(ada).lines.at(-1)).toMatchObject({ notice: { off: 2, record: 4 }, points: 10 });
  expect(north.state().questions).toContainEqual(expect.objectContaining({ about: "played-off", player: ada }));
});
