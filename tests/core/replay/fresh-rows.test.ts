/**
 * A card to which more comes at once than its rows are usually worked on in, several matches a day in any order, against the card folded
 * line by line; and small cards made after it, which work in the same place.
 */
import type { CardInput, EntryOf, PlayedMatch, PlayerId } from "@sward/core";
import { compileRules, findRuleSet, foldCard } from "@sward/core";
import { expect, test } from "vitest";
import { cardLineByLine } from "./line-by-line.ts";

const rules = compileRules(findRuleSet("england-2016")!);
const ME = "me" as PlayerId;

const inTwo = (n: number): string => String(n).padStart(2, "0");

/** Three hundred days, the last one first; starting times and keys against each other. */
const matchOf = (n: number, games: number): PlayedMatch => {
  const sides = [[{ player: ME, off: 5 }], [{ player: `other ${n % 9}`, off: 5 + (n % 4) }]];
  return {
    key: `match ${(n * 7_919) % 10_007}`,
    event: null,
    start: n % 3 === 0 ? null : `1${n % 10}:00`,
    status: "one-report",
    facts: {
      date: `${2025 - (n % 6)}-${inTwo(12 - (n % 12))}-${inTwo(1 + (n % 25))}`,
      occasion: "club-competition",
      play: n % 5 === 0 ? "level" : "handicap",
      format: 13,
      excluded: false,
      sides: n % 2 === 0 ? sides : sides.toReversed(),
      games: [{ score: [7, n % 7] }, { score: [n % 6, 7] }, { score: n % 4 === 0 ? [7, 1] : [2, 7] }].slice(0, games),
    },
  } as unknown as PlayedMatch;
};

const start = {
  id: "start",
  author: "k",
  seq: 0,
  body: { player: ME, handicap: 5, from: "2019-01-01", basis: "initial", reason: "start" },
} as unknown as EntryOf<"handicap-set">;

const cardOf = (to: number, games: number): CardInput => ({
  player: ME,
  adoptions: [{ from: "2016-01-01", rules }],
  events: new Map(),
  sets: [start],
  matches: Array.from({ length: to }, (_, n) => matchOf(n, games)),
});

test("RP40 RP2 as much as comes at once is in the order of play, whether it is more or less than there is room for", () => {
  for (const input of [cardOf(2_000, 3), cardOf(40, 1), cardOf(600, 1), cardOf(1_365, 3), cardOf(4_096, 1)]) {
    const folded = foldCard(input);
    expect(folded?.lines).toHaveLength(1 + input.matches.flatMap(({ facts }) => facts.games).length);
    expect(folded).toEqual(cardLineByLine(input));
  }
});
