/** Statements of a league against our own cards, over real entries. */
import type { BookState, Card } from "@sward/core";
import { findLeagueRules, readLeague } from "@sward/core";
import { expect, test } from "vitest";
import {
  changesSomething,
  statementsByClub,
  statementsDue,
  strokesShown,
} from "../../../../packages/client/src/app/league/statements-view.ts";
import { openSeason } from "../../../core/league/season.ts";
import { player } from "../../../support/cast.ts";

test("our club is first; a statement is due where our card says another handicap or index, or nothing is stated", () => {
  const season = openSeason(findLeagueRules("even-games")!, 3);
  const [captain, own] = [season.captains.south, season.keyOf("south")];
  const home = season.clubs.south;
  for (const [seat, handicap] of [
    [1, 5],
    [2, 7],
  ] as const) {
    home.member(`south ${seat}`, handicap);
  }
  const cards = home.state().cards as ReadonlyMap<string, Card>;
  const index = cards.get(player("south 1"))!.index;
  captain.writes("handicap-stated", { player: player("south 1"), handicap: 5, index, on: "2026-05-01" });
  captain.writes("handicap-stated", { player: player("south 2"), handicap: 8, index: 1300, on: "2026-05-01" });
  const ledger = season.book.ledger();
  const state: BookState = ledger.state();
  const { statements } = readLeague({ state, counted: [...ledger.counted()] }, "2026-05-10");
  const here = { league: state, club: { cards: home.state().cards }, own, statements, day: "2026-05-10" };
  const clubs = statementsByClub(here, (who) => who);
  expect(clubs.map(({ name }) => name)).toEqual(["south", "north", "west"]);
  const lines = clubs[0]!.lines;
  expect(lines.map(({ player: who, isDue, card }) => [who, isDue, card?.handicap ?? null]).sort()).toEqual(
    [
      [player("south 1"), false, 5],
      [player("south 2"), true, 7],
      [player("south 3"), false, null],
    ].sort(),
  );
  expect(statementsDue(lines, "2026-05-10")).toEqual([
    {
      kind: "handicap-stated",
      body: { player: player("south 2"), handicap: 7, index: cards.get(player("south 2"))!.index, on: "2026-05-10" },
    },
  ]);
  // Before the day of a statement there is none, and other clubs' cards are not ours to state.
  const early = statementsByClub({ ...here, day: "2026-04-30" }, (who) => who)[0]!.lines;
  expect(early.filter(({ stated }) => stated !== null)).toEqual([]);
  expect(clubs.slice(1).flatMap(({ lines: others }) => others.filter(({ isDue }) => isDue))).toEqual([]);
});

test("strokes of a side are shown together, each lawful way once; something changes when strokes or points do", () => {
  const way = (...strokes: readonly (readonly [1 | 2, number])[]) => ({
    strokes: strokes.map(([side, extra]) => ({ side, extra, handicap: 9 })),
  });
  expect(strokesShown([way([1, 3]), way([1, 2], [1, 1]), way([2, 4])])).toEqual(["3–0", "0–4"]);
  const strokes = { was: [way([1, 3])], would: [way([1, 1], [1, 2])] };
  expect(changesSomething({ strokes, games: [{ game: 1, was: 10, would: 10 }] })).toBe(false);
  expect(changesSomething({ strokes, games: [{ game: 1, was: 10, would: 8 }] })).toBe(true);
  expect(changesSomething({ strokes: { ...strokes, would: [way([2, 3])] }, games: [] })).toBe(true);
});
