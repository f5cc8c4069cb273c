import type { Draft, LeagueFault } from "@sward/core";
import {
  checkLeagueDraft,
  digestOf,
  findLeagueRules,
  findRuleSet,
  fixtureSlots,
  viewProposals,
  viewStatements,
} from "@sward/core";
import { expect, test } from "vitest";
import type { Pen } from "../../support/cast.ts";
import { fixture, player } from "../../support/cast.ts";
import type { Season } from "./season.ts";
import { lineup, nameOf, openSeason } from "./season.ts";

const rules = findLeagueRules("three-each")!;

function check(season: Season, by: Pen, draft: Draft) {
  const ledger = season.book.ledger();
  const source = () => ({ state: ledger.state(), counted: ledger.counted() });
  return checkLeagueDraft(draft, {
    state: ledger.state(),
    league: season.view(),
    statements: viewStatements(source()),
    proposals: viewProposals(source()),
    rules: season.rules,
    set: findRuleSet("england-2016"),
    device: by.id,
  });
}

const faultOf = (season: Season, by: Pen, draft: Draft): LeagueFault | null => {
  const result = check(season, by, draft);
  return result.ok ? null : result.fault;
};

const setUp = () => {
  const season = openSeason(rules);
  const at = season.sets("first", "2026-05-10", "north", "south");
  return { season, at, ...season.captains };
};

test("LG44 each form is refused by its own check, and passes when it is in order", () => {
  const { season, at, north } = setUp();
  const pass = (draft: Draft, by: Pen = season.secretary) => expect(faultOf(season, by, draft)).toBeNull();
  pass({ kind: "league-rules-set", body: { rules: { ...rules }, from: "2027-01-01" } });
  expect(
    faultOf(season, season.secretary, { kind: "league-rules-set", body: { rules: {}, from: "2027-01-01" } }),
  ).toMatchObject({
    type: "league-rules-form",
  });
  const set = { fixture: fixture("x"), date: "2026-05-17", home: season.keyOf("west"), away: season.keyOf("north") };
  pass({ kind: "fixture-set", body: { ...set, slots: fixtureSlots(rules) } });
  const again = { ...set, home: at.home, away: at.away };
  expect(
    faultOf(season, season.secretary, {
      kind: "fixture-set",
      body: { ...again, home: season.keyOf("south"), away: season.keyOf("north"), slots: fixtureSlots(rules) },
    }),
  ).toMatchObject({ type: "fixture-duplicate", fixture: at.id });
  pass({ kind: "player-linked", body: { player: player("north 1"), to: player("elsewhere") } }, north);
  expect(
    faultOf(season, north, { kind: "player-linked", body: { player: player("north 1"), to: player("north 1") } }),
  ).toMatchObject({ type: "link-self" });
  // Other forms have no rule of the league's.
  pass({ kind: "policy-set", body: { unconfirmed: "waits" } });
});

test("LG44 a club names its own team: warnings come with what passes", () => {
  const { season, at, north, south } = setUp();
  const players = [1, 2, 3, 4].map((seat) => lineup("north", seat));
  const draft: Draft = { kind: "lineup-named", body: { fixture: at.id, club: season.keyOf("north"), players } };
  expect(faultOf(season, south, draft)).toEqual({ type: "team-of-another-club", club: season.keyOf("north") });
  const passed = check(season, north, draft);
  expect(passed.ok && passed.value.warnings.map(({ about }) => about)).toEqual(Array(4).fill("not-stated"));
  expect(faultOf(season, season.secretary, draft)).toBeNull();
  const disorder: Draft = { kind: "lineup-named", body: { ...draft.body, players: [...players].reverse() } };
  expect(faultOf(season, north, disorder)).toMatchObject({ type: "team-order", seat: 2 });
});

test("LG45 refused: said of an unknown fixture, of another club's, or what only the league may say", () => {
  const { season, at, north, west } = setUp();
  const mark = (by: Pen, as: "void" | "conceded" | "rained-off", of = at.id, who?: "north" | "south") =>
    faultOf(season, by, {
      kind: "fixture-marked",
      body: { fixture: of, as, reason: "told", ...(who === undefined ? {} : { by: season.keyOf(who) }) },
    });
  expect(mark(north, "rained-off", fixture("none"))).toEqual({
    type: "mark-unknown-fixture",
    fixture: fixture("none"),
  });
  expect(mark(west, "rained-off")).toEqual({ type: "mark-may-not", as: "rained-off" });
  expect(mark(north, "void")).toEqual({ type: "mark-may-not", as: "void" });
  expect(mark(north, "conceded", at.id, "south")).toEqual({ type: "mark-may-not", as: "conceded" });
  expect(mark(season.secretary, "conceded")).toEqual({ type: "mark-may-not", as: "conceded" });
  expect([mark(north, "rained-off"), mark(north, "conceded", at.id, "north"), mark(season.secretary, "void")]).toEqual([
    null,
    null,
    null,
  ]);
});

test("LG45 refused: a report of a slot there is not, of other clubs, or of another match than was set", () => {
  const { season, at, north, west } = setUp();
  const report = (by: Pen, slot: number, change: Partial<ReturnType<Season["match"]>> = {}) =>
    faultOf(season, by, { kind: "match-reported", body: { ...season.match(at, slot, "7-4"), ...change } });
  expect(report(north, 1)).toBeNull();
  expect(report(season.secretary, 1)).toBeNull();
  expect(report(north, 1, { slot: { fixture: at.id, number: 19 } })).toEqual({
    type: "slot-unknown",
    fixture: at.id,
    number: 19,
    slots: 18,
  });
  expect(report(north, 1, { slot: { fixture: fixture("none"), number: 1 } })).toMatchObject({
    type: "slot-unknown",
    slots: 0,
  });
  expect(report(west, 1)).toEqual({ type: "slot-of-others", fixture: at.id });
  expect(report(north, 1, { slot: { fixture: at.id, number: 13 } })).toMatchObject({ differs: "discipline" });
  expect(report(north, 1, { play: "handicap" })).toMatchObject({
    type: "slot-other-match",
    number: 1,
    differs: "play",
  });
  expect(report(north, 1, { format: 7 })).toMatchObject({ differs: "format" });
  const { slot: _, ...friendly } = season.match(at, 1, "7-4");
  expect(faultOf(season, west, { kind: "match-reported", body: friendly })).toBeNull();
});

test("LG46 refused: stating another club's player, proposing for nobody, answering for another club", () => {
  const { season, north, south } = setUp();
  const who = player(nameOf("north", 1));
  const stated: Draft = { kind: "handicap-stated", body: { player: who, handicap: 2, index: 1600, on: "2026-05-01" } };
  expect(faultOf(season, south, stated)).toEqual({ type: "stated-by-another-club", player: who });
  expect([faultOf(season, north, stated), faultOf(season, season.secretary, stated)]).toEqual([null, null]);
  const propose = (name: string): Draft => ({
    kind: "change-proposed",
    body: { player: player(name), handicap: 4, on: "2026-05-10", reason: "watched" },
  });
  expect(faultOf(season, south, propose("nobody"))).toEqual({
    type: "proposal-unknown-player",
    player: player("nobody"),
  });
  expect(faultOf(season, south, propose("north 1"))).toBeNull();
  const { id } = south.writes("change-proposed", { player: who, handicap: 4, on: "2026-05-10", reason: "watched" });
  const answer = (proposal = id): Draft => ({
    kind: "change-answered",
    body: { proposal, accepts: true, reason: "so it is" },
  });
  const none = digestOf("none");
  expect(faultOf(season, north, answer(none))).toEqual({ type: "answer-unknown-proposal", proposal: none });
  expect(faultOf(season, south, answer())).toEqual({ type: "answer-not-home-club", player: who });
  expect(faultOf(season, north, answer())).toBeNull();
});

test("LG44 to ask changes nothing", () => {
  const { season, at, south } = setUp();
  const before = season.book.ledger().digest();
  check(season, south, { kind: "fixture-marked", body: { fixture: at.id, as: "void", reason: "no" } });
  check(season, south, { kind: "match-reported", body: season.match(at, 1, "7-4") });
  expect(season.book.ledger().digest()).toBe(before);
});
