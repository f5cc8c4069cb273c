/**
 * What a saved game costs, counted in lines made and hashed and in matches settled, never in time: in a book of 100,000 games as in one of
 * 2,000. A machine's speed cannot make these fail or pass.
 */
import type { Arrival, CardSigned, Draft, Ledger, Payload } from "@sward/core";
import { cardToSign, createLedger, decodeEntry, signingInput } from "@sward/core";
import { expect, test } from "vitest";
import { benchBook } from "../../../packages/client/bench/world.ts";
import { createSigner } from "../../../packages/client/src/keys/signer.ts";

const MARK_EVERY = 32;
const HASH_EVERY = 64;

async function openLong(size: number) {
  const signers = await Promise.all([1, 2, 3, 4, 5, 6].map((n) => createSigner(new Uint8Array(32).fill(n))));
  const bench = await benchBook(size, signers, false);
  const ledger = createLedger(bench.book);
  ledger.add(bench.arrivals);
  const [, device] = signers;
  return { bench, ledger, write: (draft: Draft) => writtenBy(ledger, device!.id, draft) };
}

function writtenBy(ledger: Ledger, author: Parameters<Ledger["next"]>[0], { kind, body }: Draft): Arrival {
  const payload: Payload = {
    v: 1,
    book: ledger.book,
    ...ledger.next(author),
    at: "2026-11-01T10:00:00Z",
    kind,
    body: { ...body },
  };
  const entry = decodeEntry(`${signingInput(author, payload)}.${"A".repeat(86)}`);
  if (!entry.ok) throw new Error(entry.fault.type);
  return { entry: entry.value };
}

async function costsOf(size: number) {
  const { bench, ledger, write } = await openLong(size);
  const { draft, arrival } = await bench.next();
  if (draft.kind !== "match-reported") throw new Error("a match");
  const players = draft.body.sides.map(([seat]) => ledger.state().cards.get(seat!.player)!);
  // Both cards are signed up to the day before the last, as after a yearly check.
  const lastDay = players[0]!.lines.at(-1)!.date;
  const eve = players[0]!.lines.findLast(({ date }) => date < lastDay)!.date;
  for (const card of players) {
    const signed: CardSigned = { player: card.player, ...cardToSign(card, eve)! };
    expect(ledger.add([write({ kind: "card-signed", body: signed })]).players.size).toBe(1);
    expect(ledger.state().cards.get(card.player)!.signatures[0]!.standing).toBe("holds");
  }
  const today = ledger.add([arrival]);
  const dayBefore = (back: number) => players[0]!.lines.at(-1 - back)!.date;
  const late = { ...draft.body, date: dayBefore(20), n: 41 };
  const since = players.map(({ lines }) => lines.filter(({ date }) => date >= late.date).length);
  const lateCost = ledger.add([write({ kind: "match-reported", body: late })]);
  return { lines: players.map(({ lines }) => lines.length), today, late: lateCost, since: since[0]! + since[1]! };
}

test("RP41 RP36 a game of today and a late one cost no more in a book of 100,000 games than in one of 2,000", async () => {
  const costs = await Promise.all([2_000, 10_000, 100_000].map(costsOf));
  for (const { lines, today, late, since } of costs) {
    expect(today.matches.size).toBe(1);
    expect(today.players.size).toBe(2);
    // From the last mark on, on two cards.
    expect(today.lines).toBeLessThanOrEqual(2 * (MARK_EVERY + 1));
    expect(today.lines).toBeGreaterThanOrEqual(2);
    // A signature is looked at again only where it reaches past the mark, and hashed from the last state of the hash on.
    expect(today.hashed).toBeLessThanOrEqual(2 * (MARK_EVERY + HASH_EVERY));
    expect(late.matches.size).toBe(1);
    expect(late.lines).toBeLessThanOrEqual(since + 2 * (MARK_EVERY + 1));
    expect(late.lines).toBeGreaterThanOrEqual(since);
    // The signature is over changed lines now, so they are hashed again, and those since the last state of the hash.
    expect(late.hashed).toBeLessThanOrEqual(since + 2 * HASH_EVERY + 2 * MARK_EVERY + 4);
    console.info(
      `cards of ${lines.join(" and ")} lines: today ${today.lines}, late ${late.lines} made and ${late.hashed} hashed of ${since} since`,
    );
  }
  // The long cards really were long: what it costs has nothing to do with them.
  expect(Math.min(...costs[2]!.lines)).toBeGreaterThan(2_000);
}, 90_000);
