/** The laws of the fold, on invented books. Seeds are pinned and printed; a failure prints the acts that led to it. */
import type { BookState, Kind } from "@sward/core";
import { createLedger, findRuleSet } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { stateText } from "../../support/state-text.ts";
import { enact, shuffled, worlds } from "./worlds.ts";

const SEED = 20260601;

const kindsAsked: readonly ReadonlySet<Kind>[] = [
  new Set(["match-reported"]),
  new Set(["player-joined", "entry-withdrawn", "ruling-made", "event-opened"]),
  new Set(["match-reported", "entry-withdrawn", "card-signed"]),
];

const met = {
  statuses: new Set<string>(),
  reasons: new Set<string>(),
  questions: new Set<string>(),
  lines: new Set<string>(),
  runs: 0,
};

function note(state: BookState): void {
  met.runs += 1;
  for (const { status } of state.matches.values()) met.statuses.add(status);
  for (const reason of state.uncounted.values()) met.reasons.add(reason);
  for (const { about } of state.questions) met.questions.add(about);
  for (const { lines } of state.cards.values()) for (const { reason } of lines) met.lines.add(reason);
}

test(`RP1 RP35 any order, duplication and partition of the same entries gives the same state (seed ${SEED})`, () => {
  fc.assert(
    fc.property(
      worlds,
      fc.nat(),
      fc.array(fc.nat(80), { maxLength: 12 }),
      fc.array(fc.nat(80)),
      (plan, seed, cuts, again) => {
        const { book, held } = enact(plan);
        const whole = book.ledger(held);
        note(whole.state());
        const order = shuffled([...held, ...again.map((place) => held[place % held.length]!)], seed);
        const ledger = book.empty();
        const places = [0, ...cuts.map((cut) => cut % order.length), order.length].sort((a, b) => a - b);
        for (const [n, from] of places.entries()) ledger.add(order.slice(from, places[n + 1]));
        expect(stateText(ledger.state())).toBe(stateText(whole.state()));
        expect(ledger.digest()).toBe(whole.digest());
      },
    ),
    { seed: SEED, numRuns: 300 },
  );
});

test("RP1 the invented books were about something: every status, refusal, question and kind of line was met", () => {
  console.info(`${met.runs} books of seed ${SEED}`);
  expect([...met.statuses].sort()).toEqual(["confirmed", "held", "one-report", "ruled", "void", "waiting"]);
  expect([...met.reasons].sort()).toEqual([
    "after-bar",
    "cannot-be",
    "carried-copy-invalid",
    "forked",
    "may-not-correct",
    "not-admitted",
    "not-this-kind-of-book",
    "not-understood",
    "role-may-not",
    "waiting-for-earlier",
    "wrong-book",
  ]);
  expect([...met.questions].sort()).toEqual([
    "disputed-match",
    "forked-device",
    "no-handicap",
    "one-report",
    "played-off",
    "rival-corrections",
    "touched-signature",
    "unknown-rules",
    "unsigned-change",
  ]);
  expect(met.lines.size).toBeGreaterThanOrEqual(12);
});

test(`RP2 RP36 RP40 LE12 adding one by one gives, at every step, what reading from nothing gives, in whole books and excerpts (seed ${SEED + 1})`, () => {
  fc.assert(
    fc.property(worlds, fc.nat(), (plan, seed) => {
      const { book, held } = enact(plan);
      const chains = seed % 4 === 3 ? "excerpt" : "whole";
      const fromNothing = () => createLedger(book.id, { findRules: findRuleSet, chains });
      const ledger = fromNothing();
      // The opening first half the time: else hardly anything counts before the end.
      const order = seed % 2 === 0 ? [...held.slice(0, 6), ...shuffled(held.slice(6), seed)] : shuffled(held, seed);
      for (const [place, one] of order.entries()) {
        const cards = new Map(ledger.state().cards);
        const matches = new Map(ledger.state().matches);
        const touched = ledger.add([one]);
        const fresh = fromNothing();
        fresh.add(order.slice(0, place + 1));
        expect(stateText(ledger.state()), `step ${place} of ${order.length}`).toBe(stateText(fresh.state()));
        // Read by kinds, what counts is what counts.
        const counted = [...ledger.counted()];
        for (const kinds of kindsAsked) {
          const ids = [...ledger.counted().of(kinds)].map(({ entry, origin }) => `${origin} ${entry.id}`);
          const wanted = counted.filter(({ entry }) => kinds.has(entry.kind));
          expect(ids.sort(), `step ${place}`).toEqual(
            wanted.map(({ entry, origin }) => `${origin} ${entry.id}`).sort(),
          );
        }
        // Whatever changed, came or went was told.
        const now = ledger.state();
        for (const id of new Set([...cards.keys(), ...now.cards.keys()])) {
          if (cards.get(id) !== now.cards.get(id)) expect(touched.players).toContain(id);
        }
        for (const key of new Set([...matches.keys(), ...now.matches.keys()])) {
          if (matches.get(key) !== now.matches.get(key)) expect(touched.matches).toContain(key);
        }
      }
    }),
    { seed: SEED + 1, numRuns: 100 },
  );
});

test(`RP21 in singles, points lost and gained add up to zero when both have cards (seed ${SEED + 2})`, () => {
  let sums = 0;
  fc.assert(
    fc.property(worlds, (plan) => {
      const { book, held } = enact({ ...plan, as: "club" });
      const { cards } = book.ledger(held).state();
      const points = new Map<string, number[]>();
      for (const { lines } of cards.values()) {
        for (const line of lines) {
          if (line.line !== "game" || line.opponents.length > 1 || line.reason === "before-start") continue;
          const key = `${line.match} ${line.game}`;
          points.set(key, [...(points.get(key) ?? []), line.points]);
        }
      }
      for (const both of points.values()) {
        if (both.length !== 2) continue;
        sums += both[0] === 0 ? 0 : 1;
        expect(both[0]! + both[1]!).toBe(0);
      }
    }),
    { seed: SEED + 2, numRuns: 200 },
  );
  expect(sums).toBeGreaterThan(50);
});

test(`RP37 what is written by a device not admitted, or after a bar, changes nothing (seed ${SEED + 3})`, () => {
  let left = 0;
  fc.assert(
    fc.property(worlds, (plan) => {
      const { book, held } = enact(plan);
      const state = book.ledger(held).state();
      const out = held.filter(({ id }) => ["not-admitted", "after-bar"].includes(state.uncounted.get(id) ?? ""));
      const without = book.ledger(held.filter((one) => !out.includes(one))).state();
      left += out.length;
      expect(stateText(shown(without))).toBe(stateText(shown(state)));
    }),
    { seed: SEED + 3, numRuns: 200 },
  );
  expect(left).toBeGreaterThan(200);
});

test(`RP37 what a fork keeps out changes nothing but that there is a fork (seed ${SEED + 4})`, () => {
  let left = 0;
  fc.assert(
    fc.property(worlds, (plan) => {
      const { book, held } = enact(plan);
      const state = book.ledger(held).state();
      const forked = held.filter(({ id }) => state.uncounted.get(id) === "forked");
      left += forked.length;
      const without = book.ledger(held.filter((one) => !forked.includes(one))).state();
      expect(stateText(shown(without))).toBe(stateText(shown(state)));
    }),
    { seed: SEED + 4, numRuns: 200 },
  );
  expect(left).toBeGreaterThan(100);
});

/** A state without the list of what does not count, the number of entries, and the forks shown. */
function shown(state: BookState): BookState {
  const devices = [...state.devices].map(([id, device]) => [id, { ...device, forkedAt: null }] as const);
  return {
    ...state,
    entries: 0,
    devices: new Map(devices),
    fixtures: state.fixtures,
    stated: state.stated,
    questions: state.questions.filter(({ about }) => about !== "forked-device"),
    uncounted: new Map(),
  };
}
