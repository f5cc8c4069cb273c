/** The law of a player's record, on two kinds of invented books. Seeds are pinned and printed. */
import type { PlayerId } from "@sward/core";
import { canonicalText, createLedger, findRuleSet } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { excerptOf, personOf, withoutWaiting } from "../../../packages/client/src/record/excerpt.ts";
import { enact, worlds } from "../../core/replay/worlds.ts";
import type { Book, Written } from "../../support/cast.ts";
import { player } from "../../support/cast.ts";
import type { Op } from "./random-book.ts";
import { ACTS, NAMES, randomBook } from "./random-book.ts";

interface Seen {
  cards: number;
  lines: number;
  /** Records that are less than the book. */
  smaller: number;
  /** Players asked for by an id that is not the person's own. */
  linked: number;
}

const nothingSeen = (): Seen => ({ cards: 0, lines: 0, smaller: 0, linked: 0 });

/** Each player's record, read as an excerpt, against the whole book. */
function compare(book: Book, written: readonly Written[], ids: readonly PlayerId[], seen: Seen): void {
  // A vault has each entry once and takes none of another book.
  const held = [...new Map(written.map((one) => [one.id, one])).values()].filter(({ entry }) => entry.book === book.id);
  const state = book.ledger(held).state();
  const byId = new Map(held.map((one) => [one.id, one]));
  for (const id of ids) {
    const person = personOf(state, id);
    if (person === null) continue;
    const part = excerptOf(withoutWaiting(held, state), state, person).map(({ entry }) => byId.get(entry.id)!);
    const ledger = createLedger(book.id, { findRules: findRuleSet, chains: "excerpt" });
    ledger.add(part);
    const excerpt = ledger.state();
    const card = state.cards.get(person) ?? null;
    expect(canonicalText(excerpt.cards.get(person) ?? null)).toBe(canonicalText(card));
    // What counts in the record counts in the book, and what does not has the same reason.
    const reasons = (of: typeof state) => part.map((one) => [one.id, of.uncounted.get(one.id) ?? "counts"]);
    expect(reasons(excerpt)).toEqual(reasons(state));
    seen.cards += card === null ? 0 : 1;
    seen.lines += card?.lines.length ?? 0;
    seen.smaller += part.length < held.length ? 1 : 0;
    seen.linked += person === id ? 0 : 1;
  }
}

const nat = fc.nat(1000);
const ops = fc.array(fc.record({ what: nat, who: nat, a: nat, b: nat, c: nat }), { minLength: 30, maxLength: 150 });
const SEED = 20_310_614;

test(`RE10 the card from a player's record is the card in the whole book, byte for byte (seed ${SEED})`, () => {
  const did = new Map<string, number>();
  const seen = nothingSeen();
  fc.assert(
    fc.property(ops, (list: Op[]) => {
      const { club, held, did: here } = randomBook(list);
      for (const [act, times] of here) did.set(act, (did.get(act) ?? 0) + times);
      compare(club, held, NAMES.map(player), seen);
    }),
    { seed: SEED, numRuns: 100 },
  );
  console.info(`seed ${SEED}: ${JSON.stringify(seen)}; ${JSON.stringify([...did])}`);
  // The run was about something.
  expect(seen.cards).toBeGreaterThan(200);
  expect(seen.lines).toBeGreaterThan(4 * seen.cards);
  expect(seen.smaller).toBeGreaterThan(seen.cards / 2);
  expect(seen.linked).toBeGreaterThan(20);
  expect(did.size).toBe(ACTS);
});

test(`RE10 so it is in the books of clubs and leagues that the laws of the fold are tested on (seed ${SEED})`, () => {
  const seen = nothingSeen();
  fc.assert(
    fc.property(worlds, (plan) => {
      const { book, held } = enact(plan);
      const named = new Set(
        held.flatMap(({ entry }) => (entry.kind === "player-joined" && entry.understood ? [entry.body.player] : [])),
      );
      compare(book, held, [...named], seen);
    }),
    { seed: SEED, numRuns: 200 },
  );
  console.info(`seed ${SEED}: ${JSON.stringify(seen)}`);
  expect(seen.cards).toBeGreaterThan(100);
  expect(seen.smaller).toBeGreaterThan(100);
});
