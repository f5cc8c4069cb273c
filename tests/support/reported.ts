/** Reports by chance: whatever the form of one allows, and so also what no match can be. */
import type { MatchReported } from "@sward/core";
import { digestOf } from "@sward/core";
import fc from "fast-check";
import { event, fixture, player } from "./cast.ts";

const oneOf = <T>(...values: readonly T[]) => fc.constantFrom(...values);
const lineup = fc.record({ player: oneOf("ada", "ben", "cat", "dan", "vera").map(player), off: oneOf(-3, 0, 7) });
const side = fc.array(lineup, { minLength: 1, maxLength: 2 });
const given = fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 1, maxLength: 2 });
const seat = oneOf(0 as const, 1 as const);
const game = fc.record(
  {
    score: fc.oneof(
      oneOf<[number, number]>([4, 1], [3, 7], [10, 6], [7, 0]),
      fc.tuple(fc.integer({ min: 0, max: 19 }), fc.integer({ min: 0, max: 19 })),
    ),
    ended: oneOf("time" as const, "abandoned" as const, "walkover" as const),
    hoops: fc.array(seat, { maxLength: 4 }),
    taken: fc.array(fc.record({ side: seat, seat, hoop: fc.integer({ min: 1, max: 13 }) }), { maxLength: 2 }),
  },
  { requiredKeys: ["score"] },
);
export const reportedBodies: fc.Arbitrary<MatchReported> = fc.record(
  {
    date: oneOf("0001-01-01", "2026-05-01", "9999-12-31"),
    start: oneOf("00:00", "23:59"),
    occasion: oneOf("league" as const, "ad-hoc" as const),
    event: oneOf("cup", "plate").map(event),
    slot: fc.constant({ fixture: fixture("first"), number: 200 }),
    n: fc.integer({ min: 1, max: 50 }),
    play: oneOf("handicap" as const, "level" as const),
    format: oneOf(7 as const, 13 as const, 19 as const),
    sides: fc.tuple(side, side),
    games: fc.oneof(fc.array(game, { minLength: 1, maxLength: 1 }), fc.array(game, { minLength: 1, maxLength: 9 })),
    given: fc.tuple(given, given),
    excluded: fc.constant(true as const),
    replaces: oneOf("one", "another").map(digestOf),
  },
  { requiredKeys: ["date", "occasion", "n", "play", "format", "sides", "games"] },
);
