/** A card kept up from marks against a fold from its first line, on invented runs of games, settings and events. Seeds pinned and printed. */
import type { EntryOf, EventId, Format, MatchKey, PlayerId } from "@sward/core";
import { findRuleSet } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { settleAdoptions } from "../../../packages/core/src/replay/adoption.ts";
import { RunningDigest } from "../../../packages/core/src/replay/card-digest.ts";
import type { PlayedMatch } from "../../../packages/core/src/replay/fold.ts";
import { foldCard } from "../../../packages/core/src/replay/fold.ts";
import { RunningCard } from "../../../packages/core/src/replay/running-card.ts";
import { cardToSign } from "../../../packages/core/src/replay/signatures.ts";

const SEED = 20_261_125;
const ME = "me" as PlayerId;
const EVENT = "weekend" as EventId;

const day = (n: number): string =>
  `2026-${String(1 + Math.floor(n / 28)).padStart(2, "0")}-${String(1 + (n % 28)).padStart(2, "0")}`;

interface Played {
  readonly n: number;
  readonly on: number;
  readonly off: number;
  readonly won: boolean;
  readonly inEvent: boolean;
}

const matchOf = ({ n, on, off, won, inEvent }: Played): PlayedMatch => ({
  key: `match ${n}` as MatchKey,
  event: inEvent ? EVENT : null,
  start: null,
  status: "confirmed",
  facts: {
    date: day(on),
    occasion: "club-competition",
    play: "handicap",
    format: 13 as Format,
    excluded: false,
    sides: [[{ player: ME, off }], [{ player: `other ${n}` as PlayerId, off: 6 }]],
    games: [{ score: won ? [7, 3] : [3, 7] }],
  } as unknown as PlayedMatch["facts"],
});

const setOf = ({ n, on, off }: { n: number; on: number; off: number }): EntryOf<"handicap-set"> =>
  ({
    id: `set ${String(n).padStart(3, "0")}`,
    author: "k",
    seq: n,
    at: "2026-01-01T10:00:00Z",
    body: {
      player: ME,
      handicap: off,
      from: day(on),
      basis: n === 0 ? "initial" : "discretionary",
      reason: "seen play",
    },
  }) as unknown as EntryOf<"handicap-set">;

const on = fc.nat(330);
const off = fc.integer({ min: 2, max: 10 });
const act = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.record({
      act: fc.constant("plays" as const),
      n: fc.nat(60),
      on,
      off,
      won: fc.boolean(),
      inEvent: fc.boolean(),
    }),
  },
  { weight: 2, arbitrary: fc.record({ act: fc.constant("drops" as const), n: fc.nat(60) }) },
  { weight: 2, arbitrary: fc.record({ act: fc.constant("sets" as const), n: fc.nat(5), on, off }) },
  { weight: 1, arbitrary: fc.record({ act: fc.constant("unsets" as const), n: fc.nat(5) }) },
  { weight: 1, arbitrary: fc.record({ act: fc.constant("moves" as const), on, days: fc.nat(3) }) },
);

const rulesNamed = (name: string) =>
  settleAdoptions(
    [{ id: "a", author: "k", seq: 0, body: { rules: name, from: day(0) } } as unknown as EntryOf<"rules-adopted">],
    findRuleSet,
  ).adoptions!;

test(`RP40 a card kept up from marks is, after every change, the card folded from its first line (seed ${SEED})`, () => {
  console.info(`seed ${SEED}`);
  const met = { resumed: 0, keptMost: 0, runs: 0 };
  fc.assert(
    fc.property(
      fc.array(act, { minLength: 20, maxLength: 120 }),
      fc.constantFrom(1, 2, 3, 8, 32),
      fc.constantFrom("england-2016", "new-south-wales-2022"),
      (acts, every, rules) => {
        const adoptions = rulesNamed(rules);
        const running = new RunningCard(every);
        const matches = new Map<number, PlayedMatch>();
        const sets = new Map<number, EntryOf<"handicap-set">>();
        let events = new Map([[EVENT, { occasion: "club-competition" as const, from: day(5), to: day(6) }]]);
        let before: readonly unknown[] = [];
        for (const [step, one] of acts.entries()) {
          if (one.act === "plays") {
            const old = matches.get(one.n);
            if (old !== undefined) running.drop(old);
            matches.set(one.n, matchOf(one));
            running.put(matches.get(one.n)!);
          } else if (one.act === "drops") {
            const old = matches.get(one.n);
            if (old !== undefined) running.drop(old);
            matches.delete(one.n);
          } else if (one.act === "sets") sets.set(one.n, setOf(one));
          else if (one.act === "unsets") sets.delete(one.n);
          else {
            events = new Map([
              [EVENT, { occasion: "club-competition", from: day(one.on), to: day(one.on + one.days) }],
            ]);
            running.forget();
          }
          const input = { player: ME, adoptions, events };
          const folded = running.fold(input, [...sets.values()]);
          const whole = foldCard({ ...input, sets: [...sets.values()], matches: [...matches.values()] });
          if (folded === null) {
            expect(whole, `step ${step}`).toBeNull();
            before = [];
            continue;
          }
          const { kept, ...card } = folded;
          expect(card, `step ${step}`).toEqual(whole);
          for (let place = 0; place < kept; place++) expect(card.lines[place]).toBe(before[place]);
          met.runs += 1;
          if (kept > 0) met.resumed += 1;
          if (kept > card.lines.length / 2) met.keptMost += 1;
          before = card.lines;
        }
      },
    ),
    { seed: SEED, numRuns: 300 },
  );
  // That it went on from marks at all, and from late ones.
  expect(met.resumed).toBeGreaterThan(met.runs / 4);
  expect(met.keptMost).toBeGreaterThan(met.runs / 10);
});

test(`RP40 RP22 a digest that goes on from where lines changed is the digest from nothing (seed ${SEED + 1})`, () => {
  console.info(`seed ${SEED + 1}`);
  const adoptions = rulesNamed("england-2016");
  const start = [setOf({ n: 0, on: 0, off: 6 })];
  const linesOf = (many: number, lost: number) =>
    foldCard({
      player: ME,
      adoptions,
      events: new Map(),
      sets: start,
      matches: Array.from({ length: many }, (_, n) =>
        matchOf({ n, on: n % 330, off: 6, won: n % 330 !== lost, inEvent: false }),
      ),
    })!.lines;
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 500 }), fc.nat(329), fc.nat(520), fc.nat(520), (many, lost, upto, again) => {
      const running = new RunningDigest();
      const one = linesOf(many, -1);
      const two = linesOf(many, lost);
      running.of(one, Math.min(upto, one.length));
      const same = two.findIndex((line, place) => JSON.stringify(line) !== JSON.stringify(one[place]));
      running.cut(same === -1 ? two.length : same);
      const count = Math.min(again, two.length);
      expect(running.of(two, count)).toBe(new RunningDigest().of(two, count));
      const last = two.at(-1)!.date;
      running.cut(0);
      expect(running.of(two, two.length)).toBe(cardToSign({ lines: two }, last)?.digest);
    }),
    { seed: SEED + 1, numRuns: 60 },
  );
});
