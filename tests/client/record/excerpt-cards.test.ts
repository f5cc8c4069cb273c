import type { PlayerId } from "@sward/core";
import { canonicalText, createLedger, findRuleSet } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { excerptOf, personOf, withoutWaiting } from "../../../packages/client/src/record/excerpt.ts";
import type { Written } from "../../support/cast.ts";
import { player } from "../../support/cast.ts";
import type { Op } from "./random-book.ts";
import { ACTS, NAMES, randomBook } from "./random-book.ts";

const nat = fc.nat(1000);
const ops = fc.array(fc.record({ what: nat, who: nat, a: nat, b: nat, c: nat }), { minLength: 30, maxLength: 150 });
const SEED = 20_310_614;

const excerptLedger = (book: Parameters<typeof createLedger>[0]) =>
  createLedger(book, { findRules: findRuleSet, chains: "excerpt" });

/** The book's own state, and of a person the part that is their record. */
function partOf(
  held: readonly Written[],
  state: ReturnType<ReturnType<typeof createLedger>["state"]>,
  person: PlayerId,
) {
  const byId = new Map(held.map((one) => [one.id, one]));
  return excerptOf(withoutWaiting(held, state), state, person).map(({ entry }) => byId.get(entry.id)!);
}

test(`RE10 the card from a player's record is the card in the whole book, byte for byte (seed ${SEED})`, () => {
  const did = new Map<string, number>();
  let [cards, lines, smaller, linked] = [0, 0, 0, 0];
  fc.assert(
    fc.property(ops, (list: Op[]) => {
      const { club, held, did: here } = randomBook(list);
      for (const [act, times] of here) did.set(act, (did.get(act) ?? 0) + times);
      const ledger = createLedger(club.id);
      ledger.add(held);
      const state = ledger.state();
      for (const name of NAMES) {
        const person = personOf(state, player(name));
        if (person === null) continue;
        const part = partOf(held, state, person);
        const excerpt = excerptLedger(club.id);
        excerpt.add(part);
        const [whole, own] = [state.cards.get(person) ?? null, excerpt.state().cards.get(person) ?? null];
        expect(canonicalText(own)).toBe(canonicalText(whole));
        // What counts in the record counts in the book, and what does not has the same reason.
        const reasons = (of: typeof state) => part.map(({ id }) => [id, of.uncounted.get(id) ?? "counts"]);
        expect(reasons(excerpt.state())).toEqual(reasons(state));
        cards += whole === null ? 0 : 1;
        lines += whole?.lines.length ?? 0;
        smaller += part.length < held.length ? 1 : 0;
        linked += person === player(name) ? 0 : 1;
      }
    }),
    { seed: SEED, numRuns: 100 },
  );
  console.info(`seed ${SEED}: ${cards} cards, ${lines} lines, ${linked} by a linked id; ${JSON.stringify([...did])}`);
  // The run was about something.
  expect(cards).toBeGreaterThan(200);
  expect(lines).toBeGreaterThan(4 * cards);
  expect(smaller).toBeGreaterThan(cards / 2);
  expect(linked).toBeGreaterThan(20);
  expect(did.size).toBe(ACTS);
});
