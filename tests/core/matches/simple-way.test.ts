/** Keys and facts are made with nothing thrown away, and common games are shared: beside them the simple way, with lists and sorting. */
import type { Game, Lineup, MatchFacts, MatchReported, PlayerId } from "@sward/core";
import { matchFacts, matchKey } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { player } from "../../support/cast.ts";

const SEED = 20261127;

type Resolve = (id: PlayerId) => PlayerId;

const oneOf = <T>(...values: readonly T[]) => fc.constantFrom(...values);
const itself: Resolve = (id) => id;
const linked: Resolve = (id) => (id === player("vera") ? player("ada") : id);

const lineup = fc.record({ player: oneOf("ada", "ben", "cat", "dan", "vera").map(player), off: oneOf(-3, 0, 7) });
const side = fc.array(lineup, { minLength: 1, maxLength: 2 });
/** Scores of both sides of where a common one ends. */
const score = fc.oneof(oneOf(0, 4, 7, 13), oneOf(30, 31, 32, 33, 100));
const game = fc.record(
  { score: fc.tuple(score, score), ended: oneOf("time" as const, "walkover" as const), hoops: fc.constant([0, 1]) },
  { requiredKeys: ["score"] },
) as fc.Arbitrary<Game>;
const bodies: fc.Arbitrary<MatchReported> = fc.record({
  date: oneOf("2026-05-01", "2026-05-02"),
  occasion: oneOf("league" as const, "ad-hoc" as const),
  n: fc.integer({ min: 1, max: 50 }),
  play: oneOf("handicap" as const, "level" as const),
  format: oneOf(7 as const, 13 as const),
  sides: fc.tuple(side, side),
  games: fc.array(game, { minLength: 1, maxLength: 3 }),
});

const namesOf = (seats: readonly Lineup[]) => seats.map((seat) => seat.player).join("+");

function simpleKey({ date, play, format, sides, n }: MatchReported, resolve: Resolve): string {
  const names = sides.map((seats) =>
    seats
      .map((seat) => resolve(seat.player))
      .sort()
      .join("+"),
  );
  return `${date}|${play}|${format}|${names.sort().join("v")}|${n}`;
}

function simpleFacts({ date, occasion, play, format, sides, games }: MatchReported, resolve: Resolve): MatchFacts {
  const ordered = sides.map((seats) =>
    seats
      .map((seat) => ({ player: resolve(seat.player), off: seat.off }))
      .sort((a, b) => (a.player < b.player ? -1 : a.player > b.player ? 1 : 0)),
  ) as [Lineup[], Lineup[]];
  const isTurned = namesOf(ordered[0]) > namesOf(ordered[1]);
  const told = games.map(({ score: [one, two], ended }) => ({
    score: isTurned ? ([two, one] as const) : ([one, two] as const),
    ...(ended === undefined ? {} : { ended }),
  }));
  const inOrder = isTurned ? ([ordered[1], ordered[0]] as const) : ordered;
  return { date, occasion, play, format, sides: inOrder, games: told as unknown as Game[], excluded: false };
}

test(`MA1 MA3 MA12 the identity and the facts of a match are what the simple way makes of it (seed ${SEED})`, () => {
  let turned = 0;
  fc.assert(
    fc.property(bodies, oneOf(itself, linked), (body, resolve) => {
      const asTold = structuredClone(body);
      const facts = matchFacts(body, resolve);
      expect(matchKey(body, resolve)).toBe(simpleKey(body, resolve));
      expect(facts).toEqual(simpleFacts(body, resolve));
      expect(body).toEqual(asTold);
      if (facts.games[0]?.score[0] !== body.games[0]?.score[0]) turned += 1;
    }),
    { seed: SEED, numRuns: 1_000 },
  );
  expect(turned).toBeGreaterThan(100);
});
