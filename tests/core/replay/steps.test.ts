/** Reading a book in steps, as a page does that must answer a finger meanwhile. */
import type { Arrival, Ledger } from "@sward/core";
import { createLedger } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { benchBook } from "../../../packages/client/bench/world.ts";
import { createSigner } from "../../../packages/client/src/keys/signer.ts";
import { stateText } from "../../support/state-text.ts";
import { enact, shuffled, worlds } from "./worlds.ts";

const SEED = 20261125;

/** Takes all steps, looking at what is made in each. @returns how many there were */
function step(ledger: Ledger, arrivals: readonly Arrival[]): number {
  const steps = ledger.adding(arrivals);
  let taken = 0;
  while (steps.next().done !== true) taken += 1;
  return taken;
}

test(`RP1 RP2 entries read in steps give the state they give when read at once (seed ${SEED})`, () => {
  fc.assert(
    fc.property(worlds, fc.nat(), fc.nat(80), (plan, seed, cut) => {
      const { book, held } = enact(plan);
      const order = shuffled([...held], seed);
      const [atOnce, inSteps] = [book.ledger(held), book.empty()];
      for (const part of [order.slice(0, cut % order.length), order.slice(cut % order.length)]) step(inSteps, part);
      expect(stateText(inSteps.state())).toBe(stateText(atOnce.state()));
      expect(inSteps.digest()).toBe(atOnce.digest());
    }),
    { seed: SEED, numRuns: 100 },
  );
});

test(`RP42 RP2 entries gathered in portions, with or without a look in between, give the state of adding them (seed ${SEED + 1})`, () => {
  let looks = 0;
  fc.assert(
    fc.property(worlds, fc.nat(), fc.array(fc.tuple(fc.nat(30), fc.boolean(), fc.nat(4))), (plan, seed, portions) => {
      const { book, held } = enact(plan);
      const order = shuffled([...held], seed);
      const gathered = book.empty();
      let from = 0;
      for (const [many, isAsked, cardsFirst] of [...portions, [order.length, true, 2] as const]) {
        gathered.gather(order.slice(from, from + many));
        from += many;
        const making = gathered.making();
        for (let made = 0; made < cardsFirst && making.next().done !== true; made += 1);
        if (!isAsked) continue;
        looks += 1;
        expect(stateText(gathered.state())).toBe(stateText(book.ledger(order.slice(0, from)).state()));
        // Made by whoever asked.
        expect(making.next()).toMatchObject({ done: true });
      }
      expect(gathered.digest()).toBe(book.ledger(held).digest());
    }),
    { seed: SEED + 1, numRuns: 60 },
  );
  expect(looks).toBeGreaterThan(60);
});

test("RP41 no step is long: each of the four passes over a book's entries stops at least every sixteen, and at each card", async () => {
  const signers = await Promise.all([1, 2, 3].map((n) => createSigner(new Uint8Array(32).fill(n))));
  const { book, arrivals } = await benchBook(2_000, signers, false);
  const ledger = createLedger(book);
  const taken = step(ledger, arrivals);
  console.info(`${arrivals.length} entries in ${taken} steps`);
  expect(taken).toBeGreaterThan((4 * (arrivals.length - 200)) / 16 + ledger.state().cards.size);
  expect(ledger.state().cards.size).toBe(60);
});
