/** Digests of many lines that whoever goes through the steps makes: against node:crypto, and against a ledger that makes its own. */
import { createHash } from "node:crypto";
import type { Arrival, Ledger, PlayerId, Signature } from "@sward/core";
import { cardToSign, createLedger } from "@sward/core";
import { beforeAll, expect, test } from "vitest";
import { benchSigners } from "../../../packages/client/bench/signed.ts";
import { benchBook } from "../../../packages/client/bench/world.ts";
import type { Steps } from "../../../packages/core/src/replay/steps.ts";
import { stateText } from "../../support/state-text.ts";
import { writtenBy } from "./written-by.ts";

let ledgerOf: (arrivals: readonly Arrival[]) => Ledger;
/** Six cards of some three hundred lines and more, each signed near its end and, later, up to a day near its beginning. */
let arrivals: Arrival[];
let games: number;

beforeAll(async () => {
  const signers = await benchSigners();
  const bench = await benchBook(1_200, signers, false, { members: 6 });
  ledgerOf = (some) => {
    const ledger = createLedger(bench.book);
    ledger.add(some);
    return ledger;
  };
  arrivals = [...bench.arrivals];
  games = arrivals.length;
  const ledger = ledgerOf(arrivals);
  for (const [player, { lines }] of [...ledger.state().cards]) {
    for (const place of [lines.length - 20, 280, 30]) {
      const signed = cardToSign({ lines }, lines[place]!.date)!;
      const written = writtenBy(ledger, signers[1]!.id, { kind: "card-signed", body: { player, ...signed } });
      ledger.add([written]);
      arrivals.push(written);
    }
  }
});

const sha256 = (text: string): Uint8Array => new Uint8Array(createHash("sha256").update(text, "utf8").digest());

/** @returns how often a digest was asked for, and what else it gave */
function answered<T>(steps: Steps<T>, answer: (text: string) => Uint8Array | undefined): [asked: number, gave: T] {
  let asked = 0;
  for (let step = steps.next(); ; ) {
    if (step.done === true) return [asked, step.value];
    if (step.value) asked += 1;
    step = steps.next(step.value ? answer(step.value()) : undefined);
  }
}

const signaturesIn = (ledger: Ledger): readonly Signature[] =>
  [...ledger.state().cards.values()].flatMap(({ signatures }) => signatures);

test("RP44 RP2 with digests made by node:crypto the state is that of a ledger that makes its own, and few lines are left to a script", () => {
  const own = ledgerOf(arrivals);
  expect(signaturesIn(own).map(({ standing }) => standing)).toEqual(Array(18).fill("holds"));
  const given = ledgerOf([]);
  // Of two of three signatures; the lines of the third are too few to wait for.
  const [asked, { cost }] = answered(given.adding(arrivals), sha256);
  expect(asked).toBe(12);
  // No line is written out for each signature anew, but for the last few before which nothing was left.
  const lines = [...own.state().cards.values()].reduce((sum, card) => sum + card.lines.length, 0);
  expect(cost.hashed).toBeLessThanOrEqual(lines + 18 * 64);
  expect(stateText(given.state())).toBe(stateText(own.state()));
  expect([...given.known()]).toEqual([...own.known()]);
});

test("RP44 it is the answer that counts: a wrong one makes the signature one of other lines", () => {
  const given = ledgerOf([]);
  answered(given.adding(arrivals), () => new Uint8Array(32));
  expect(signaturesIn(given).filter(({ standing }) => standing === "touched")).toHaveLength(12);
});

test("RP44 RP42 who asks for the state, or gathers more, while a digest is awaited finds it whole, and the answer changes nothing then", () => {
  const own = ledgerOf(arrivals);
  let looks = 0;
  for (const lookAt of [0, 1, 5]) {
    const given = ledgerOf([]);
    given.gather(arrivals);
    let asked = 0;
    answered(given.making(), () => {
      if (asked++ !== lookAt) return undefined;
      looks += 1;
      expect(stateText(given.state())).toBe(stateText(own.state()));
      // Too late to be believed.
      return new Uint8Array(32);
    });
    expect(asked).toBe(lookAt + 1);
    expect(stateText(given.state())).toBe(stateText(own.state()));
  }
  expect(looks).toBe(3);

  const signer = arrivals.at(-1)!.entry.author;
  // The end of every chain but that of whoever signed.
  const isLast = ({ entry }: Arrival, n: number): boolean => n >= games - 40 && n < games && entry.author !== signer;
  const most = arrivals.filter((one, n) => !isLast(one, n));
  const growing = ledgerOf([]);
  growing.gather(most);
  let hasGrown = false;
  answered(growing.making(), (text) => {
    if (!hasGrown) growing.gather(arrivals.filter(isLast));
    hasGrown = true;
    return sha256(text);
  });
  expect(hasGrown).toBe(true);
  expect(stateText(growing.state())).toBe(stateText(own.state()));
});

test("RP44 late games under signatures that were given their digest touch them, and taken back they hold again", () => {
  const given = ledgerOf([]);
  answered(given.adding(arrivals), sha256);
  const report = arrivals.find(({ entry }) => entry.understood && entry.kind === "match-reported")!.entry;
  if (!report.understood || report.kind !== "match-reported") throw new Error("a match");
  const players = report.body.sides.flat().map(({ player }): PlayerId => player);
  const touched = (): number => signaturesIn(given).filter(({ standing }) => standing === "touched").length;
  const late = [41, 42].map((n) => {
    const one = writtenBy(given, report.author, { kind: "match-reported", body: { ...report.body, n } });
    given.add([one]);
    return one.entry.id;
  });
  expect(touched()).toBe(players.length * 3);
  const before = given.state().cards;
  // Both at once: what the card was with one of them less is known.
  for (const withdraws of late) {
    const body = { withdraws, reason: "another day" };
    given.gather([writtenBy(given, report.author, { kind: "entry-withdrawn", body })]);
  }
  const [asked] = answered(given.making(), (text) => {
    // Who holds a state still has every card.
    expect(before.size).toBe(6);
    return sha256(text);
  });
  expect(asked).toBe(players.length * 2);
  expect(touched()).toBe(0);
});
