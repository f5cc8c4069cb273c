/** What one start found of a book's signatures, given to the next one: against a start that is given nothing. Seed pinned and printed. */
import type { Arrival, Ledger, Signature, Touched } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { stateText } from "../../support/state-text.ts";
import { enact, shuffled, worlds } from "./worlds.ts";

const SEED = 20_261_126;

/** Worlds of a club whose handicapper also signs a card after every few things that happen. */
const signedWorlds = fc.tuple(worlds, fc.nat(20)).map(([{ acts }, from]) => ({
  as: "club" as const,
  acts: acts.flatMap((act, n) => {
    const place = n + from;
    return n % 3 === 2 ? [act, { what: "signs" as const, by: 1, a: place, b: place % 7, c: 0 }] : [act];
  }),
}));

function add(ledger: Ledger, arrivals: readonly Arrival[], known?: ReturnType<Ledger["known"]>): Touched {
  const steps = ledger.adding(arrivals, known);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

test(`RP43 RP2 a start that is given what was found of the signatures has the states of one that is not, and hashes nothing (seed ${SEED})`, () => {
  console.info(`seed ${SEED}`);
  const met = { known: 0, touched: 0, spared: 0, later: 0 };
  fc.assert(
    fc.property(signedWorlds, fc.nat(), fc.nat(), fc.nat(20), (plan, seed, cut, portion) => {
      const { book, held } = enact(plan);
      const order = shuffled([...held], seed);
      const many = order.length - (cut % Math.min(order.length, 12));
      const [first, rest] = [order.slice(0, many), order.slice(many)];
      // Found along a life of its own: entry after entry, in another order than they are read in again.
      const before = book.empty();
      const lived = shuffled([...first], seed + 1);
      for (let from = 0; from < lived.length; from += portion + 1) before.add(lived.slice(from, from + portion + 1));
      const found = before.known();
      const given = book.empty();
      expect(add(given, first, found).cost.hashed).toBe(0);
      const bare = book.empty();
      met.spared += add(bare, first).cost.hashed;
      expect(stateText(given.state())).toBe(stateText(bare.state()));
      expect([...given.known()].sort()).toEqual([...found].sort());
      for (const one of rest) {
        expect(add(given, [one]).players).toEqual(add(bare, [one]).players);
        expect(stateText(given.state())).toBe(stateText(bare.state()));
        met.later += 1;
      }
      met.known += found.size;
      for (const { touched } of found.values()) if (touched !== null) met.touched += 1;
    }),
    { seed: SEED, numRuns: 150 },
  );
  console.info(JSON.stringify(met));
  expect(Math.min(...Object.values(met))).toBeGreaterThan(20);
});

test(`RP43 what cannot be of this card is passed over: none is said to hold that does not stand where it was signed (seed ${SEED + 1})`, () => {
  console.info(`seed ${SEED + 1}`);
  const met = { passedOver: 0, lies: 0 };
  fc.assert(
    fc.property(signedWorlds, fc.nat(), (plan, seed) => {
      const { book, held } = enact(plan);
      const order = shuffled([...held], seed);
      const found = [...book.ledger(order).known()];
      met.passedOver += found.length;
      const longer = found.map(([id, { lines }]) => [id, { lines: lines + 1, touched: null, agreed: ALL }] as const);
      const given = book.empty();
      add(given, order, new Map(longer));
      expect(stateText(given.state())).toBe(stateText(book.ledger(order).state()));

      const lying = book.empty();
      add(lying, order, new Map(found.map(([id, one]) => [id, { ...one, touched: null }])));
      for (const { lines, signatures } of lying.state().cards.values()) {
        for (const one of signatures) {
          if (one.standing !== "holds") met.lies += 1;
          else expect(lines.filter(({ date }) => date <= one.upto).at(-1)).toMatchObject(standingOf(one));
        }
      }
    }),
    { seed: SEED + 1, numRuns: 100 },
  );
  expect(Math.min(...Object.values(met))).toBeGreaterThan(20);
});

const ALL = { from: 0, to: 1_000 };
const standingOf = ({ handicap, index }: Signature) => ({ handicap, index });
