import type { LeagueRules, RuleSet, SheetSlot } from "@sward/core";
import { extrasBySeat, findLeagueRules, findRuleSet, matchSheet } from "@sward/core";
import { expect, test } from "vitest";
import { player } from "../../support/cast.ts";
import { nameOf, openSeason } from "./season.ts";

const handicap = { play: "handicap", format: 13, bestOf: 1 } as const;
const rules: LeagueRules = {
  ...findLeagueRules("everyone-meets")!,
  slots: [
    { ...handicap, home: [1, 2], away: [1, 2] },
    { ...handicap, home: [1], away: [4] },
    { ...handicap, play: "level", home: [2], away: [2] },
    { ...handicap, format: 7, home: [1, 2], away: [1, 2] },
  ],
};
const now = findRuleSet("england-2016")!;
const older = findRuleSet("england-2016-like-pairing")!;

/** Sheet of a fixture with these handicaps, home and away. */
function sheetOf(set: RuleSet, home: readonly number[], away: readonly number[]): readonly SheetSlot[] {
  const season = openSeason(rules);
  const at = season.sets("first", "2026-05-10", "north", "south");
  for (const [club, offs] of [
    ["north", home],
    ["south", away],
  ] as const) {
    const players = offs.map((off, place) => ({ player: player(nameOf(club, place + 1)), off }));
    season.captains[club].writes("lineup-named", { fixture: at.id, club: season.keyOf(club), players });
  }
  return matchSheet(rules, set, season.view().fixtures[0]!);
}

const strokesOf = ({ strokes, home, away }: SheetSlot) => {
  if (strokes.is !== "given") return strokes.is;
  const sides = [home, away].map((side) => side.map(({ off }) => off ?? 0));
  return strokes.choices.map((choice) => extrasBySeat(choice, sides));
};

/**
 * The revised allocation: 4 and 9 against 10 and 6, "3 to the 10, 2 to the 9": Tournaments, Hassocks Croquet Club,
 * https://www.hassockscroquetclub.net/tournaments
 */
test("LG38 the sheet's doubles by the allocation of now", () => {
  const [doubles] = sheetOf(now, [4, 9], [10, 6]);
  expect(strokesOf(doubles!)).toEqual([
    [
      [0, 2],
      [3, 0],
    ],
  ]);
});

/**
 * The older allocation: 2 and 7 against 3 and 4, one stroke to the 3 and two to the 7, in a 7-point game one and one: Handicap Golf
 * Croquet: Introduction, Croquet North Carolina, 2013, http://croquetnc.org/reference/handicap-golf-croquet-introduction
 */
test("LG38 the sheet's doubles by the older allocation, in 13 and in 7 points", () => {
  const sheet = sheetOf(older, [2, 7], [3, 4]);
  expect(strokesOf(sheet[0]!)).toEqual([
    [
      [0, 2],
      [1, 0],
    ],
  ]);
  expect(strokesOf(sheet[3]!)).toEqual([
    [
      [0, 1],
      [1, 0],
    ],
  ]);
  // The allocation of now gives the same four players other strokes.
  expect(strokesOf(sheetOf(now, [2, 7], [3, 4])[0]!)).not.toEqual(strokesOf(sheet[0]!));
});

/** Difference of the handicaps, "5 against 9 ... 4": Golf singles competition 2024, Auchincruive Croquet Club, https://auchincruivecroquet.club/2024-acc-golf-singles-competition */
test("LG38 the sheet's singles, by the places the rules name, and none in level play", () => {
  const sheet = sheetOf(now, [5, 7, 8, 9], [3, 4, 6, 9]);
  expect(sheet[1]).toMatchObject({ number: 2, home: [{ seat: 1, off: 5 }], away: [{ seat: 4, off: 9 }] });
  expect(strokesOf(sheet[1]!)).toEqual([[[0], [4]]]);
  expect(sheet[2]?.strokes).toEqual({ is: "level" });
});

test("LG39 a place nobody is named for has no player and no strokes; a handicap there is not is said", () => {
  const sheet = sheetOf(now, [5, 7], [3, 4]);
  expect(sheet[1]).toMatchObject({ away: [{ seat: 4, player: null, off: null }], strokes: { is: "not-named" } });
  expect(sheetOf(now, [5, 13], [3, 4])[0]?.strokes).toMatchObject({
    is: "cannot-be",
    fault: { type: "strokes-unknown-handicap", handicap: 13 },
  });
  const bare = matchSheet(rules, now, { teams: [null, null] });
  expect(bare.map(({ strokes }) => strokes.is)).toEqual(["not-named", "not-named", "level", "not-named"]);
});
