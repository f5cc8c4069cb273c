/** Set-ups and taps for tests of the score pad, and taps by chance for its laws. */
import type { Format } from "@sward/core";
import fc from "fast-check";
import type { PadState } from "../../../../packages/client/src/app/lawn/game.ts";
import { apply, newState } from "../../../../packages/client/src/app/lawn/game.ts";
import type { PadEvent, PadSetup } from "../../../../packages/client/src/app/lawn/pad.ts";

const seat = (name: string, given = 0): PadSetup["sides"][0][number] => ({ player: null, name, off: "", given });

export const singles = (given: readonly [number, number] = [0, 0], change: Partial<PadSetup> = {}): PadSetup => ({
  format: 13,
  play: "handicap",
  doubles: false,
  sides: [[seat("Ann", given[0])], [seat("Ben", given[1])]],
  first: 0,
  leads: [0, 0],
  colours: "primary",
  limit: null,
  slot: null,
  ...change,
});

export const doubles = (
  given: readonly [number, number, number, number],
  change: Partial<PadSetup> = {},
): PadSetup => ({
  ...singles(),
  doubles: true,
  sides: [
    [seat("Ann", given[0]), seat("Amy", given[1])],
    [seat("Ben", given[2]), seat("Bob", given[3])],
  ],
  ...change,
});

export const played: PadEvent = { type: "stroke", hoop: null };
export const hoopTo = (hoop: 0 | 1): PadEvent => ({ type: "stroke", hoop });
export const take: PadEvent = { type: "take" };
export const decline: PadEvent = { type: "decline" };
export const withdraw: PadEvent = { type: "withdraw" };
export const time: PadEvent = { type: "time" };

/** All taps, every one of which must be possible. @throws at the first that is refused */
export function tapped(setup: PadSetup, ...events: readonly PadEvent[]): PadState {
  let state = newState(setup);
  for (const [at, event] of events.entries()) {
    const next = apply(setup, state, event);
    if (!next.ok) throw new Error(`tap ${at} refused: ${JSON.stringify(next.fault)}`);
    state = next.value;
  }
  return state;
}

/** Why a tap is refused; null when it is not. */
export function refusal(setup: PadSetup, state: PadState, event: PadEvent) {
  const next = apply(setup, state, event);
  return next.ok ? null : next.fault;
}

const side = fc.constantFrom<0 | 1>(0, 1);
const at = fc.integer({ min: 0, max: 10_000_000 });

export const anyEvent: fc.Arbitrary<PadEvent> = fc.oneof(
  { weight: 12, arbitrary: fc.record({ type: fc.constant("stroke" as const), hoop: fc.option(side, { nil: null }) }) },
  { weight: 4, arbitrary: fc.constant(take) },
  { weight: 1, arbitrary: fc.constantFrom(decline, withdraw) },
  { weight: 1, arbitrary: fc.record({ type: fc.constant("also" as const), side }) },
  { weight: 1, arbitrary: fc.record({ type: fc.constant("ball" as const), ball: fc.constantFrom(0, 1, 2, 3) }) },
  { weight: 1, arbitrary: fc.record({ type: fc.constantFrom("clock-on" as const, "clock-off" as const), at }) },
  { weight: 1, arbitrary: fc.constant(time) },
  { weight: 1, arbitrary: fc.record({ type: fc.constant("next-game" as const), first: side }) },
);

const given = fc.integer({ min: 0, max: 12 });

export const anySetup: fc.Arbitrary<PadSetup> = fc
  .record({
    format: fc.constantFrom<Format>(7, 13, 19),
    pair: fc.boolean(),
    given: fc.tuple(given, given, given, given),
    first: side,
    leads: fc.tuple(side, side),
    limit: fc.option(
      fc.record({
        minutes: fc.integer({ min: 1, max: 90 }),
        turns: fc.integer({ min: 0, max: 9 }),
        level: fc.constantFrom("next-hoop" as const, "stands" as const),
      }),
      { nil: null },
    ),
  })
  .map(({ pair, given: [a, b, c, d], ...rest }) => (pair ? doubles([a, b, c, d], rest) : singles([a, c], rest)));
