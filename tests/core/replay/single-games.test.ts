/**
 * A match that one report tells carries what its rows need in a whole number. Every kind of match there can be, from either side, against
 * the card folded line by line from the facts themselves, which reads no such number.
 */
import type { CardInput, EntryOf, EventId, Game, MatchReported, PlayedMatch, PlayerId } from "@sward/core";
import { compileRules, foldCard, matchFacts, matchKey, Occasion, ruleSets } from "@sward/core";
import { expect, test } from "vitest";
import { loneMatch } from "../../../packages/core/src/matches/reconcile.ts";
import { cardLineByLine } from "./line-by-line.ts";

const [ADA, BEN, CAT, DEE] = ["ada", "ben", "cat", "dee"] as unknown as [PlayerId, PlayerId, PlayerId, PlayerId];

/** The lowest and the highest an entry can hold, two of a table and one that none has. */
const handicaps = [-30, -6, 7, 13, 60];
const games: readonly Game[] = [
  { score: [7, 4] },
  { score: [4, 7] },
  { score: [0, 7] },
  { score: [5, 5], ended: "time" },
  { score: [6, 5], ended: "time" },
  { score: [7, 3], ended: "abandoned" },
  { score: [7, 0], ended: "walkover" },
] as unknown as readonly Game[];

const inTwo = (n: number): string => String(n).padStart(2, "0");

function bodies(): MatchReported[] {
  const all: MatchReported[] = [];
  const add = (more: Pick<MatchReported, "occasion" | "sides" | "games"> & Partial<MatchReported>): void => {
    const n = all.length;
    const date = `${2016 + (n % 9)}-${inTwo(1 + (n % 12))}-${inTwo(1 + (n % 28))}`;
    all.push({ date, n: 1 + (n % 50), play: n % 2 === 0 ? "handicap" : "level", format: 13, ...more });
  };
  for (const occasion of Occasion().options)
    for (const game of games)
      for (const [off, against] of handicaps.flatMap((one) => handicaps.map((other) => [one, other] as const))) {
        const n = all.length;
        const [ada, ben] = [[{ player: ADA, off }], [{ player: BEN, off: against }]];
        const sides: MatchReported["sides"] = n % 3 === 0 ? [ben, ada] : [ada, ben];
        const said = n % 7 === 0 ? ({ excluded: true } as const) : {};
        const start = n % 4 === 0 ? { start: `1${n % 10}:30` } : {};
        const event = n % 5 === 0 ? { event: `event ${n % 10}` as EventId } : {};
        add({ occasion, games: [game], sides, ...said, ...start, ...event });
      }
  const pair = (one: PlayerId, other: PlayerId) => [one, other].map((player, n) => ({ player, off: 3 + n }));
  add({ occasion: "league", sides: [pair(ADA, CAT), pair(BEN, DEE)], games: [games[0]!] });
  add({ occasion: "league", sides: [pair(BEN, DEE), pair(CAT, ADA)], games: [games[0]!, games[1]!] });
  add({ occasion: "league", sides: [[{ player: BEN, off: 3 }], [{ player: ADA, off: 5 }]], games: games.slice(0, 3) });
  return all;
}

const itself = (player: PlayerId): PlayerId => player;

const lone = (body: MatchReported): PlayedMatch =>
  loneMatch(matchKey(body, itself), { body } as EntryOf<"match-reported">, matchFacts(body, itself)) as PlayedMatch;

const start = (player: PlayerId) =>
  ({
    id: "start",
    author: "k",
    seq: 0,
    body: { player, handicap: 7, from: "2016-06-01", basis: "initial", reason: "start" },
  }) as unknown as EntryOf<"handicap-set">;

test.each(ruleSets.map(({ id }) => id))("RP2 RP40 a match of one game moves what its facts say, under %s", (id) => {
  const rules = compileRules(ruleSets.find((set) => set.id === id)!);
  const others = compileRules(ruleSets.find((set) => set.id !== id)!);
  const matches = bodies().map(lone);
  let moved = 0;
  for (const player of [ADA, BEN])
    for (const adoptions of [
      [{ from: "2010-01-01", rules }] as const,
      [
        { from: "2010-01-01", rules },
        { from: "2020-05-05", rules: others },
      ] as const,
    ]) {
      const input: CardInput = { player, adoptions, events: new Map(), sets: [start(player)], matches };
      const folded = foldCard(input);
      expect(folded).toEqual(cardLineByLine(input));
      moved += folded!.lines.filter((line) => line.line === "game" && line.points !== 0).length;
    }
  expect(moved).toBeGreaterThan(200);
});

test("RP2 RP40 a match of one report has the event and the starting time that its report says, or none", () => {
  for (const body of bodies()) {
    const { event, start } = lone(body);
    expect({ event, start }).toEqual({ event: body.event ?? null, start: body.start ?? null });
  }
});
