import type { RuleSet } from "@sward/core";
import { exchangePoints, findRuleSet, settle, triggerOf } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Start } from "../../../packages/client/src/cli/results-card.ts";
import { cardOfResults } from "../../../packages/client/src/cli/results-card.ts";
import type { ResultRow } from "../../../packages/client/src/cli/results-file.ts";

const SEED = 2_031;

const england = findRuleSet("england-2016") as RuleSet;
const nsw = findRuleSet("new-south-wales-2022") as RuleSet;
const handicap = fc.constantFrom(...england.triggers.map((row) => row.handicap));

/** Some weeks of single games, several on many days, in the file's order of lines. */
const season: fc.Arbitrary<readonly ResultRow[]> = fc
  .array(
    fc.record({
      day: fc.integer({ min: 1, max: 28 }),
      opponentHandicap: handicap,
      play: fc.constantFrom<"handicap" | "level">("handicap", "level", "level"),
      // Long runs of wins or losses, so that handicaps change often.
      won: fc.integer({ min: 0, max: 9 }).map((draw) => draw < 8),
    }),
    { minLength: 1, maxLength: 120, size: "max" },
  )
  .map((games) =>
    games.map(
      ({ day, opponentHandicap, play, won }, at): ResultRow => ({
        line: at + 2,
        date: `2031-05-${String(day).padStart(2, "0")}`,
        opponent: "Ada Finch",
        opponentHandicap,
        play,
        format: 13,
        game: { score: won ? [7, 3] : [3, 7] },
        occasion: "league",
        event: "",
      }),
    ),
  );

/** The card as a person would do it: game by game with a pencil, the handicap looked at after each game or each day. */
function byPencil(set: RuleSet, start: Start, rows: readonly ResultRow[], when: "game" | "day") {
  let { handicap: held, index } = start;
  const ordered = [...rows].sort((a, b) => Number(a.date > b.date) - Number(a.date < b.date) || a.line - b.line);
  return ordered.map(({ line, date, opponentHandicap, play, game }, at) => {
    const won = game.score[0] > game.score[1];
    const [winner, loser] = won ? [[held], [opponentHandicap]] : [[opponentHandicap], [held]];
    const result = exchangePoints(set, { play, winner, loser });
    if (!result.ok) throw new Error(JSON.stringify(result.fault));
    index += won ? result.value.points : -result.value.points;
    if (when === "game" || ordered[at + 1]?.date !== date) held = settle(set, held, index)?.handicap ?? held;
    return { line, index, handicap: held };
  });
}

const startOf = (set: RuleSet, at: number): Start => ({ handicap: at, index: triggerOf(set, at) ?? 0 });

test.each([
  ["england-2016", england, "day"],
  ["new-south-wales-2022", nsw, "game"],
] as const)(`a card of results is what a pencil makes of them, %s (seed ${SEED})`, (_, set, when) => {
  let changes = 0;
  fc.assert(
    fc.property(handicap, season, (at, rows) => {
      const start = startOf(set, at);
      const expected = byPencil(set, start, rows, when);
      const card = cardOfResults(set, start, rows);
      expect(card.lines.map(({ row, line: { index, handicap } }) => ({ line: row.line, index, handicap }))).toEqual(
        expected,
      );
      expect(card).toMatchObject({ handicap: expected.at(-1)?.handicap, index: expected.at(-1)?.index });
      changes += card.lines.filter(({ line }) => line.moved !== null).length;
    }),
    { seed: SEED, numRuns: 300 },
  );
  // Else the property would not have met what it is about.
  expect(changes).toBeGreaterThan(500);
});
