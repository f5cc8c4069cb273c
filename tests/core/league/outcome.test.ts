import type { LeagueRules } from "@sward/core";
import { findLeagueRules, viewLeague } from "@sward/core";
import { expect, test } from "vitest";
import { keyOf, Pen, player } from "../../support/cast.ts";
import type { Season } from "./season.ts";
import { lineup, openSeason } from "./season.ts";

/** Two doubles and four singles, a point a game, one report counts, an even number of games when it rains. */
const evening = findLeagueRules("even-games")!;
const withRules = (change: Partial<LeagueRules>): LeagueRules => ({ ...evening, ...change });

/** Slots reported alike by both clubs. */
function plays(season: Season, at: ReturnType<Season["sets"]>, scores: readonly string[]): void {
  for (const [place, score] of scores.entries()) season.reports(at, place + 1, score, at.home, at.away);
}

test("LG13 LG16 a fixture counts when all its slots are settled; before, its tally is shown", () => {
  const season = openSeason(evening);
  const at = season.sets("first", "2026-05-10", "north", "south");
  expect(season.outcome(at)).toMatchObject({ standing: "to-play", result: null });
  plays(season, at, ["7-4", "7-6", "2-7", "7-1", "0-7"]);
  expect(season.outcome(at)).toMatchObject({
    standing: "in-play",
    result: null,
    tally: { slots: [3, 2], games: [3, 2], hoops: [23, 25] },
  });
  season.reports(at, 6, "6-7", "south");
  const outcome = season.outcome(at);
  expect(outcome).toMatchObject({
    standing: "played",
    result: { winner: null, tally: { games: [3, 3], hoops: [29, 32] } },
  });
  expect(season.table().rows.map(({ club, points }) => [club, points])).toEqual([
    [season.keyOf("south"), 3],
    [season.keyOf("north"), 3],
    [season.keyOf("west"), 0],
  ]);
});

test("LG13 reports that differ leave a slot open until one is replaced", () => {
  const season = openSeason(evening);
  const at = season.sets("first", "2026-05-10", "north", "south");
  plays(season, at, ["7-4", "7-6", "2-7", "7-1", "0-7"]);
  season.reports(at, 6, "7-6", "north");
  const [theirs] = season.reports(at, 6, "6-7", "south");
  expect(season.outcome(at).slots[5]).toEqual({ number: 6, standing: "differs", games: [] });
  expect(season.outcome(at).result).toBeNull();
  season.captains.south.reports(season.match(at, 6, "7-6"), theirs);
  expect(season.outcome(at)).toMatchObject({ standing: "played", result: { winner: 0, by: "games" } });
});

test("LG13 LG16 a dispute is settled by the league's ruling, for a report or for none", () => {
  const season = openSeason(evening);
  const at = season.sets("first", "2026-05-10", "north", "south");
  plays(season, at, ["7-4", "7-6", "2-7", "7-1", "0-7"]);
  const [ours] = season.reports(at, 6, "7-6", "north");
  season.reports(at, 6, "6-7", "south");
  const ruled = season.secretary.rules(`slot:${at.id}:6`, ours!);
  expect(season.outcome(at)).toMatchObject({ standing: "played", result: { winner: 0 } });
  season.secretary.withdraws(ruled);
  expect(season.outcome(at).standing).toBe("in-play");
  season.secretary.rules(`slot:${at.id}:6`, null);
  expect(season.outcome(at).slots[5]).toMatchObject({ standing: "ruled-void" });
  expect(season.outcome(at)).toMatchObject({ standing: "played", result: { tally: { games: [3, 2] } } });
});

test.each([
  ["counts", "north", "counts"],
  ["counts", "south", "counts"],
  ["waits", "north", "one-report"],
  ["home-counts", "north", "counts"],
  ["home-counts", "south", "one-report"],
  ["waits", "league", "counts"],
] as const)("LG13 where one report %s, that of %s alone: %s", (oneReport, by, standing) => {
  const season = openSeason(withRules({ oneReport }));
  const at = season.sets("first", "2026-05-10", "north", "south");
  season.reports(at, 1, "7-4", by);
  expect(season.outcome(at).slots[0]?.standing).toBe(standing);
  // What moves an index is the book's policy, and what counts in the table the league's rule.
  season.secretary.writes("policy-set", { unconfirmed: "waits" });
  expect(season.outcome(at).slots[0]?.standing).toBe(standing);
});

test("LG14 sides are told by the teams named, else by the players' homes, else they are unknown", () => {
  const season = openSeason(evening);
  const at = season.sets("first", "2026-05-10", "north", "south");
  // South lends its sixth player to north.
  const lent = season.match(at, 3, "7-4", { sides: [[lineup("south", 6)], [lineup("south", 1)]] });
  season.captains.north.reports(lent);
  expect(season.outcome(at).slots[2]?.standing).toBe("sides-unknown");
  season.captains.north.writes("lineup-named", {
    fixture: at.id,
    club: season.keyOf("north"),
    players: [lineup("south", 6), lineup("north", 1)],
  });
  expect(season.outcome(at).slots[2]).toEqual({ number: 3, standing: "counts", games: [[7, 4]] });
  // Whichever side was written first.
  const turned = season.match(at, 4, "4-7", { sides: [[lineup("south", 2)], [lineup("north", 2)]] });
  season.captains.north.reports(turned);
  expect(season.outcome(at).slots[3]?.games).toEqual([[7, 4]]);
  const strangers = season.match(at, 5, "4-7", {
    sides: [[{ player: player("x"), off: 3 }], [{ player: player("y"), off: 3 }]],
  });
  season.captains.north.reports(strangers);
  expect(season.outcome(at).slots[4]?.standing).toBe("sides-unknown");
});

test("LG15 a game abandoned counts for nothing, one forfeited as the rules say, a level score is a drawn game", () => {
  for (const [gameForfeited, games] of [
    ["counts", [1, 0]],
    ["does-not-count", [0, 0]],
  ] as const) {
    const season = openSeason(withRules({ gameForfeited }));
    const at = season.sets("first", "2026-05-10", "north", "south");
    plays(season, at, ["7-0w", "6-2a", "5-5t"]);
    expect(season.outcome(at).tally).toMatchObject({ games, drawnGames: 1 });
  }
});

test("LG15 LG19 a best of three is one slot won, whatever its games", () => {
  const season = openSeason(findLeagueRules("hoops-decide")!);
  const at = season.sets("first", "2026-05-10", "north", "south");
  plays(season, at, ["7-4 2-7 7-6", "7-1 7-1", "0-7 7-6 0-7", "4-7 4-7", "7-5 7-5", "6-7 5-7", "7-6 7-6"]);
  expect(season.outcome(at)).toMatchObject({
    standing: "played",
    result: { winner: 0, by: "slots", tally: { slots: [4, 3], games: [9, 7] } },
  });
});

test("LG17 conceded: the other club has the forfeit; void: nobody has anything", () => {
  const season = openSeason(evening);
  const [first, second] = [
    season.sets("first", "2026-05-10", "north", "south"),
    season.sets("second", "2026-05-17", "west", "north"),
  ];
  plays(season, first, ["7-4"]);
  const conceded = season.marks(season.captains.north, first, "conceded", { by: season.keyOf("north") });
  expect(season.outcome(first)).toMatchObject({ standing: "conceded", result: { winner: 1, by: "forfeit" } });
  expect(season.table().rows[0]).toMatchObject({
    club: season.keyOf("south"),
    points: 6,
    games: [6, 0],
    hoops: [42, 0],
  });
  season.marks(season.secretary, second, "void");
  expect(season.outcome(second)).toMatchObject({ standing: "void", result: null });
  // Taken back, all is as before.
  season.captains.north.withdraws(conceded);
  expect(season.outcome(first)).toMatchObject({ standing: "in-play", result: null });
});

/**
 * "only an even number of completed games counts (drop the last)", "all off = draw": Golf croquet team league rules, Tunbridge Wells,
 * https://tunbridgewellscroquet.org.uk/golf-croquet-team-league-fraser-tankard-rules/. A match stopped by flood at 10-5 of 18 stood: GC
 * leagues, East Anglian Croquet Federation, https://angliacroquet.uk/2019/gc_leagues.php
 */
test("LG18 rained off part-way: it stands, an even number counts, or it is void", () => {
  const scores = ["7-4", "7-6", "2-7", "7-1", "6-7"];
  const rainedOff = (some: LeagueRules["unfinished"]["some"], played = scores) => {
    const season = openSeason(withRules({ unfinished: { some, none: "draw" } }));
    const at = season.sets("first", "2026-05-10", "north", "south");
    plays(season, at, played);
    season.marks(season.captains.south, at, "rained-off");
    return season.outcome(at);
  };
  expect(rainedOff("stands")).toMatchObject({ dropped: null, result: { tally: { games: [3, 2], hoops: [29, 25] } } });
  expect(rainedOff("even-games")).toMatchObject({
    standing: "rained-off",
    dropped: { slot: 5, game: 1 },
    result: { winner: 0, tally: { games: [3, 1], hoops: [23, 18] } },
  });
  expect(rainedOff("even-games", scores.slice(0, 4))).toMatchObject({
    dropped: null,
    result: { tally: { games: [3, 1] } },
  });
  expect(rainedOff("void")).toMatchObject({ result: null });
  // One game is no even number: with it gone none was played.
  expect(rainedOff("even-games", ["7-4"])).toMatchObject({ result: { winner: null, tally: { games: [0, 0] } } });
});

test("LG18 rained off with no game played is a draw, or nothing", () => {
  for (const [none, expected] of [
    ["draw", { winner: null, by: null }],
    ["void", null],
  ] as const) {
    const season = openSeason(withRules({ unfinished: { some: "stands", none } }));
    const at = season.sets("first", "2026-05-10", "north", "south");
    season.marks(season.secretary, at, "rained-off");
    const { result } = season.outcome(at);
    if (expected === null) expect(result).toBeNull();
    else expect(result).toMatchObject(expected);
  }
});

test("LG16 a fixture all of whose matches were ruled to be none is void", () => {
  const season = openSeason(withRules({ slots: evening.slots.slice(0, 1) }));
  const at = season.sets("first", "2026-05-10", "north", "south");
  season.reports(at, 1, "7-4", "north");
  season.secretary.rules(`slot:${at.id}:1`, null);
  expect(season.outcome(at)).toMatchObject({ standing: "void", result: null });
});

test("LG8 the rules for a day are the last set from it or before, and those that cannot be read are named", () => {
  const season = openSeason(evening);
  const later = season.secretary.writes("league-rules-set", {
    rules: { ...evening, title: "the second season" },
    from: "2027-01-01",
  });
  const bad = season.secretary.writes("league-rules-set", { rules: { referees: 3 }, from: "2026-06-01" });
  const captain = season.captains.north.writes("league-rules-set", { rules: { ...evening }, from: "2026-02-01" });
  const { rules, unreadable } = season.view();
  expect(rules.map(({ from, rules: { title } }) => [from, title])).toEqual([
    ["2026-01-01", evening.title],
    ["2027-01-01", "the second season"],
  ]);
  expect(unreadable).toMatchObject([{ entry: bad.id, from: "2026-06-01", fault: { type: "league-rules-form" } }]);
  expect(season.book.state().uncounted.get(captain.id)).toBe("role-may-not");
  season.secretary.withdraws(later);
  expect(season.view().rules.length).toBe(1);
});

test("LG7 rules replaced or taken back are corrected as everything is", () => {
  const season = openSeason(evening);
  const first = season.secretary.writes("league-rules-set", { rules: { ...evening, title: "a" }, from: "2026-03-01" });
  const better = { rules: { ...evening, title: "b" }, from: "2026-03-01", replaces: first.id };
  const second = season.secretary.writes("league-rules-set", better);
  const title = () => season.view().rules.at(-1)?.rules.title;
  expect(title()).toBe("b");
  season.captains.north.withdraws(second);
  expect(title()).toBe("b");
  season.book.root.withdraws(second);
  expect(title()).toBe("a");
});

test("LG9 LG12 a fixture postponed is on its new day, in the order of days", () => {
  const season = openSeason(evening);
  const first = season.sets("first", "2026-05-10", "north", "south");
  const second = season.sets("second", "2026-05-17", "west", "north");
  season.marks(season.captains.south, first, "postponed", { to: "2026-06-01" });
  expect(season.view().fixtures.map(({ fixture, day }) => [fixture, day])).toEqual([
    [second.id, "2026-05-17"],
    [first.id, "2026-06-01"],
  ]);
  expect(season.outcome(first)).toMatchObject({ standing: "postponed", day: "2026-06-01" });
  season.reports(first, 1, "7-4", "north");
  expect(season.outcome(first).standing).toBe("in-play");
});

test("LG10 the league's word on a fixture goes first; a club speaks for its own and concedes for itself", () => {
  const season = openSeason(evening);
  const at = season.sets("first", "2026-05-10", "north", "south");
  const mark = () => season.view().fixtures[0]!;
  const { north, south, west } = season.captains;
  season.marks(west, at, "rained-off");
  season.marks(north, at, "void");
  season.marks(north, at, "conceded", { by: season.keyOf("south") });
  season.marks(season.secretary, at, "conceded", { by: season.keyOf("west") });
  season.marks(season.secretary, at, "conceded");
  expect(mark()).toMatchObject({ mark: null, otherMarks: [] });
  season.marks(south, at, "rained-off");
  season.marks(north, at, "postponed");
  const league = season.marks(season.secretary, at, "void");
  expect(mark().mark).toMatchObject({ entry: league.id, as: "void", said: null });
  expect(
    mark()
      .otherMarks.map(({ as }) => as)
      .sort(),
  ).toEqual(["postponed", "rained-off"]);
});

test("LG11 a club names its own team, the league where it has not, and no other club", () => {
  const season = openSeason(evening);
  const at = season.sets("first", "2026-05-10", "north", "south");
  const team = () => season.view().fixtures[0]?.teams[0]?.players.map(({ off }) => off) ?? null;
  season.names(at, "north", [1, 2, 3, 4], season.captains.south);
  season.names(at, "north", [1, 2, 3, 4], new Pen(season.book, keyOf("stranger")));
  expect(team()).toBeNull();
  season.names(at, "north", [6, 5, 4, 3], season.secretary);
  expect(team()).toEqual([12, 11, 9, 7]);
  season.names(at, "north", [1, 2, 3, 4]);
  expect(team()).toEqual([2, 5, 7, 9]);
  season.names(at, "north", [1, 2, 3, 5]);
  expect(team()).toEqual([2, 5, 7, 11]);
  expect(season.view().fixtures[0]?.teams[1]).toBeNull();
});

test("LG7 a club's root takes back what its own devices wrote, and no other club's", () => {
  const season = openSeason(evening);
  const at = season.sets("first", "2026-05-10", "north", "south");
  const named = season.names(at, "north", [1, 2, 3, 4]);
  season.roots.south.withdraws(named);
  expect(season.view().fixtures[0]?.teams[0]?.entry).toBe(named.id);
  season.roots.north.withdraws(named);
  expect(season.view().fixtures[0]?.teams[0]).toBeNull();
});

test("LG7 a book's own entries are read, and none that only passed by", () => {
  const season = openSeason(evening);
  const ledger = season.book.ledger();
  const counted = [...ledger.counted()].map((one) => ({ ...one, origin: season.clubs.north.id }));
  expect(viewLeague({ state: ledger.state(), counted }).rules).toEqual([]);
});
