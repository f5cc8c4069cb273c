/**
 * Signatures kept up with a card, against signatures looked at for the first time: whatever was known of them before, and whether or not
 * the marks in them are those of the lines they were made on. Seed pinned and printed.
 */
import type { Card, EntryOf, PlayedMatch, PlayerId } from "@sward/core";
import { atOnce, cardToSign, compileRules, findRuleSet } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { canonicalText } from "../../../packages/core/src/ledger/canonical.ts";
import { lineText } from "../../../packages/core/src/replay/card-digest.ts";
import { cardOf } from "../../../packages/core/src/replay/card-lines.ts";
import { RunningCard } from "../../../packages/core/src/replay/running-card.ts";
import { RunningSignatures } from "../../../packages/core/src/replay/signatures.ts";

const SEED = 20_261_126;
const ME = "me" as PlayerId;
const DAYS = 12;
const day = (n: number): string => `2026-05-${String(n + 1).padStart(2, "0")}`;
const input = {
  player: ME,
  adoptions: [{ from: day(0), rules: compileRules(findRuleSet("england-2016")!) }],
  events: new Map(),
} as const;

const start = {
  id: "set",
  author: "k",
  seq: 0,
  at: "2026-01-01T10:00:00Z",
  body: { player: ME, handicap: 6, from: day(0), basis: "initial", reason: 'said "six"' },
} as unknown as EntryOf<"handicap-set">;

const matchOf = (n: number, on: number, wins: boolean): PlayedMatch =>
  ({
    key: `match ${n}`,
    event: null,
    start: null,
    status: "confirmed",
    facts: {
      date: day(on),
      occasion: "club-competition",
      play: "handicap",
      format: 13,
      excluded: false,
      sides: [[{ player: ME, off: 6 }], [{ player: `other ${n % 3}`, off: 7 }]],
      games: [{ score: wins ? [7, 3] : [3, 7] }],
    },
  }) as unknown as PlayedMatch;

const act = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.record({
      act: fc.constant("plays" as const),
      n: fc.nat(30),
      on: fc.nat(DAYS - 1),
      wins: fc.boolean(),
    }),
  },
  { weight: 2, arbitrary: fc.record({ act: fc.constant("drops" as const), n: fc.nat(30) }) },
  { weight: 3, arbitrary: fc.record({ act: fc.constant("takes back" as const) }) },
  {
    weight: 2,
    arbitrary: fc.record({
      act: fc.constant("signs" as const),
      upto: fc.nat(DAYS - 1),
      // Beside true ones: none, too few, another card's.
      marks: fc.constantFrom("true" as const, "true" as const, "", "AAAA", "AAAABBBBCCCC"),
    }),
  },
  { weight: 1, arbitrary: fc.record({ act: fc.constant("unsigns" as const), which: fc.nat(3) }) },
);

test(`RP2 RP22 RP23 signatures kept up with a card say what they say when they are looked at for the first time (seed ${SEED})`, () => {
  console.info(`seed ${SEED}`);
  const met = { holds: 0, within: 0, again: 0, spared: 0, back: 0 };
  fc.assert(
    fc.property(fc.array(act, { minLength: 20, maxLength: 60 }), (acts) => {
      const running = new RunningCard();
      const kept = new RunningSignatures();
      const matches = new Map<number, PlayedMatch>();
      let signed: EntryOf<"card-signed">[] = [];
      let card: Card | null = null;
      const were = new Map<string, string>();
      const handedOut = new Set<object>();
      let last: number | null = null;
      for (const [step, one] of acts.entries()) {
        if (one.act === "takes back") {
          const match = last === null ? undefined : matches.get(last);
          if (match === undefined) continue;
          matches.delete(last!);
          running.drop(match);
        } else if (one.act === "plays" || one.act === "drops") {
          const old = matches.get(one.n);
          if (old !== undefined) running.drop(old);
          matches.delete(one.n);
          if (one.act === "plays") {
            const match = matchOf(one.n, one.on, one.wins);
            matches.set(one.n, match);
            running.put(match);
            last = one.n;
          }
        } else if (one.act === "signs") {
          const stands = card === null ? null : cardToSign(card, day(one.upto));
          if (stands === null) continue;
          const marks = one.marks === "true" ? stands.marks : one.marks;
          const body = { player: ME, ...stands, marks };
          signed = [...signed, { id: `signed ${step}`, author: "k", at: day(one.upto), body } as never];
        } else signed = signed.filter((_, place) => place !== one.which);
        const folded = running.fold(input, [start])!;
        const { rows } = folded;
        const incremental = atOnce(kept.settling(folded, signed));
        const made = rows.made;
        const anew = atOnce(new RunningSignatures().settling({ rows, kept: 0, before: null }, signed));
        expect(incremental, `step ${step}`).toEqual(anew);
        if (rows.made > made) met.spared += 1;
        if (one.act === "takes back" && handedOut.has(rows)) met.back += 1;
        handedOut.add(rows);
        card = cardOf(ME, rows, { signatures: [], unsigned: [] });
        for (const { entry, standing, firstTouched } of anew.signatures) {
          if (standing === "holds") met.holds += 1;
          else if (firstTouched! > 0) met.within += 1;
          if (were.get(entry) === "touched" && standing === "holds") met.again += 1;
          were.set(entry, standing);
        }
      }
    }),
    { seed: SEED, numRuns: 200 },
  );
  console.info(JSON.stringify(met));
  expect(Math.min(...Object.values(met))).toBeGreaterThan(20);
});

test("RP41 RP22 what was hashed while a game stood that was taken back is not gone on from", () => {
  const running = new RunningCard();
  const kept = new RunningSignatures();
  for (let n = 0; n < 300; n++) running.put(matchOf(n, n % DAYS, n % 2 === 0));
  let signed: EntryOf<"card-signed">[] = [];
  const settle = () => {
    const folded = running.fold(input, [start])!;
    const found = atOnce(kept.settling(folded, signed));
    expect(found).toEqual(atOnce(new RunningSignatures().settling({ ...folded, kept: 0, before: null }, signed)));
    return { card: cardOf(ME, folded.rows, { signatures: [], unsigned: [] }), found };
  };
  const sign = (upto: number): void => {
    const body = { player: ME, ...cardToSign(settle().card, day(upto))! };
    signed = [...signed, { id: `signed ${signed.length}`, author: "k", at: day(upto), body } as never];
    expect(settle().found.signatures.some(({ standing }) => standing === "holds")).toBe(true);
  };
  sign(6);
  const slip = matchOf(999, 2, true);
  running.put(slip);
  sign(8);
  running.drop(slip);
  const { found } = settle();
  expect(found.signatures.map(({ standing }) => standing)).toEqual(["holds", "touched"]);
  const before = kept.hashed;
  sign(10);
  // On from the last state of the hash that was left before the slip, and not from the slip's.
  expect(kept.hashed - before).toBeLessThan(150);
});

test("RP22 a line's text is the canonical form of what a signature vouches for", () => {
  const running = new RunningCard();
  running.put(matchOf(1, 2, true));
  const { rows } = running.fold(input, [start])!;
  const { lines } = cardOf(ME, rows, { signatures: [], unsigned: [] });
  expect(lines.map(({ line }) => line)).toEqual(["set", "game"]);
  for (const line of lines) {
    const { date, reason, index, handicap } = line;
    const own =
      line.line === "set"
        ? { entry: line.entry }
        : {
            match: line.match,
            game: line.game,
            score: line.score,
            points: line.points,
            off: line.off,
            opponents: line.opponents,
          };
    expect(lineText(line)).toBe(canonicalText({ date, reason, index, handicap, ...own }));
  }
  const odd = {
    ...lines[1]!,
    opponents: ['"', "\\", "\n", "é", "\u2028"].map((player) => ({ player, off: 3 })),
  } as never;
  expect(lineText(odd)).toContain(canonicalText(['"', "\\"].map((player) => ({ player, off: 3 }))).slice(1, -1));
});
