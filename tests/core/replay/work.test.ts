/**
 * What a saved game costs, counted in lines folded, written, made and hashed and in matches settled, never in time: in a book of 100,000 games as in one of
 * 2,000. A machine's speed cannot make these fail or pass.
 */
import type { CardSigned, Draft } from "@sward/core";
import { cardToSign, createLedger } from "@sward/core";
import { expect, test } from "vitest";
import { benchSigners } from "../../../packages/client/bench/signed.ts";
import { benchBook } from "../../../packages/client/bench/world.ts";
import { linesOf } from "../../../packages/core/src/replay/card-lines.ts";
import { writtenBy } from "./written-by.ts";

/** A state of the hash is left after so many lines. */
const HASH_EVERY = 64;
/** A signature's marks reach so many lines. */
const MARKED = 256;

async function openLong(size: number) {
  const signers = await benchSigners();
  const bench = await benchBook(size, signers, false);
  const ledger = createLedger(bench.book);
  ledger.add(bench.arrivals);
  const [, device] = signers;
  return { bench, ledger, write: (draft: Draft) => writtenBy(ledger, device!.id, draft) };
}

const placesOf = ({ count }: { readonly count: number }): readonly number[] =>
  Array.from({ length: count }, (_, n) => n);

async function costsOf(size: number) {
  const { bench, ledger, write } = await openLong(size);
  const { draft, arrival } = await bench.next();
  if (draft.kind !== "match-reported") throw new Error("a match");
  const players = draft.body.sides.map(([seat]) => ledger.state().cards.get(seat!.player)!);
  // Both cards are signed up to the day before the last, as after a yearly check. Nobody reads them: what is read need not be made.
  const mine = linesOf(players[0]!);
  const lastDay = mine.dateAt(mine.count - 1);
  const eve = mine.dateAt(placesOf(mine).findLast((place) => mine.dateAt(place) < lastDay)!);
  for (const card of players) {
    const signed: CardSigned = { player: card.player, ...cardToSign(card, eve)! };
    expect(ledger.add([write({ kind: "card-signed", body: signed })]).players.size).toBe(1);
    expect(ledger.state().cards.get(card.player)!.signatures[0]!.standing).toBe("holds");
  }
  const today = ledger.add([arrival]);
  const late = { ...draft.body, date: mine.dateAt(mine.count - 21), n: 41 };
  const now = players.map(({ player }) => linesOf(ledger.state().cards.get(player)!));
  const linesSince = (day: string): number =>
    now.reduce((sum, lines) => sum + placesOf(lines).filter((place) => lines.dateAt(place) >= day).length, 0);
  const after = linesSince(`${late.date} `);
  const written = write({ kind: "match-reported", body: late });
  const lateCost = ledger.add([written]);
  const takeBack = ({ entry }: typeof written) =>
    write({ kind: "entry-withdrawn", body: { withdraws: entry.id, reason: "another day" } });
  const back = ledger.add([takeBack(written)]);
  for (const card of players) expect(ledger.state().cards.get(card.player)!.signatures[0]!.standing).toBe("holds");
  const second = write({ kind: "match-reported", body: { ...late, n: 42 } });
  const again = ledger.add([second]);
  const third = write({ kind: "match-reported", body: { ...late, n: 43 } });
  ledger.add([third]);
  ledger.gather([takeBack(second)]);
  const both = ledger.add([takeBack(third)]);
  for (const card of players) expect(ledger.state().cards.get(card.player)!.signatures[0]!.standing).toBe("holds");
  const lines = now.map(({ count }) => count);
  return {
    lines,
    today,
    late: lateCost,
    back,
    again,
    both,
    ofDay: linesSince(draft.body.date),
    since: linesSince(late.date),
    after,
  };
}

test("RP41 RP36 a game of today and a late one cost no more in a book of 100,000 games than in one of 2,000", async () => {
  const costs = await Promise.all([2_000, 10_000, 100_000].map(costsOf));
  for (const { lines, today, late, back, again, both, ofDay, since, after } of costs) {
    expect(today.matches.size).toBe(1);
    expect(today.players.size).toBe(2);
    // The new row, the one before it, whose window it may end or go on with, and what stands behind it of its day; on two cards.
    expect(today.cost.folded).toBeLessThanOrEqual(ofDay + 2 * 2);
    expect(today.cost.folded).toBeGreaterThanOrEqual(2 * 2);
    expect(today.cost.written).toBe(2);
    // The signature is up to the day before, so it is not looked at, and nobody reads the card.
    expect([today.cost.hashed, today.cost.made]).toEqual([0, 0]);
    expect(late.matches.size).toBe(1);
    // What is since the day of the late game, itself, and the row before.
    expect(late.cost.folded).toBeLessThanOrEqual(since + 2 * 2);
    expect(late.cost.folded).toBeGreaterThanOrEqual(after + 2);
    expect(late.cost.written).toBe(2);
    // The signature is over one line more now: that it does not hold is told by the count.
    expect(late.cost.hashed).toBe(0);
    // To say where it was touched, the lines its marks reach are made, and no others.
    expect(late.cost.made).toBeLessThanOrEqual(2 * MARKED);
    expect(late.cost.made).toBeGreaterThan(0);
    // The same game taken back: the card is what it was, and so is what was found of its signature.
    expect(back.cost).toEqual({ ...back.cost, folded: 0, written: 0, hashed: 0, made: 0 });
    // How far its marks agree is known by now: on each card the first line that does not, and no other.
    expect(again.cost.made).toBeLessThanOrEqual(2);
    expect([again.cost.hashed, again.cost.written]).toEqual([0, 2]);
    // Two of them taken back at once: the rows since, and hashed from the last state of the hash on.
    expect(both.cost.folded).toBeLessThanOrEqual(since + 2 * 2);
    expect(both.cost.folded).toBeGreaterThanOrEqual(after);
    expect(both.cost.written).toBe(0);
    expect(both.cost.hashed).toBeLessThanOrEqual(since + 2 * HASH_EVERY);
    expect(both.cost.hashed).toBeGreaterThan(0);
    expect(both.cost.made).toBe(both.cost.hashed);
    console.info(
      `cards of ${lines.join(" and ")} lines, ${since} since: ${[today, late, back, again, both].map(({ cost }) => JSON.stringify(cost)).join(", ")}`,
    );
  }
  // The long cards really were long: what it costs has nothing to do with them.
  expect(Math.min(...costs[2]!.lines)).toBeGreaterThan(2_000);
}, 300_000);
