/**
 * A card kept up as matches come and go, against a card folded line by line from its first (`line-by-line.ts`), on invented runs of games,
 * settings, events and rules of every kind of window. Seeds pinned and printed.
 */
import type { Adoptions, CardLine, Effective, EntryOf, EventId, FoldedCard, PlayedMatch, PlayerId } from "@sward/core";
import { atOnce, compileRules, findRuleSet, foldCard } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { RunningDigest } from "../../../packages/core/src/replay/card-digest.ts";
import { cardOf, linesOf } from "../../../packages/core/src/replay/card-lines.ts";
import { RunningCard } from "../../../packages/core/src/replay/running-card.ts";
import { cardToSign } from "../../../packages/core/src/replay/signatures.ts";
import { cardLineByLine } from "./line-by-line.ts";

const SEED = 20_261_125;
const ME = "me" as PlayerId;
/** Another id of the player, in matches of another club's record. */
const ALSO = "me elsewhere" as PlayerId;

/** Fewer days than there are matches, so that days are shared and windows overlap. */
const DAYS = 16;
const day = (n: number): string =>
  `2026-${String(1 + Math.floor(n / 28)).padStart(2, "0")}-${String(1 + (n % 28)).padStart(2, "0")}`;

const england = findRuleSet("england-2016")!;
const units = ["game", "match", "day", "event"] as const;
/** So close that a game or two reach the next. */
const triggers = england.triggers.map((row) => ({ ...row, trigger: 1_500 - 12 * row.handicap }));
const sets = units.map((unit: Effective["unit"]) =>
  compileRules({ ...england, triggers, id: `by ${unit}`, effective: { ...england.effective, unit } }),
);

interface Played {
  readonly n: number;
  readonly on: number;
  readonly off: number;
  readonly scores: readonly boolean[];
  readonly how: number;
}

const events = ["weekend", "week"] as const;
const occasions = ["club-competition", "ad-hoc", "league"] as const;
const statuses = ["confirmed", "one-report", "ruled"] as const;

const matchOf = ({ n, on, off, scores, how }: Played): PlayedMatch => {
  const me = { player: how % 5 === 0 ? ALSO : ME, off };
  const mine = how % 7 === 0 ? [{ player: `partner ${n}`, off: 7 }, me] : [me];
  const theirs = mine.map((_, place) => ({ player: `other ${n} ${place}`, off: 6 }));
  const won = how % 2 === 0 ? ([7, 3] as const) : ([3, 7] as const);
  return {
    key: `match ${n}`,
    event: how % 3 === 2 ? null : events[how % 3]!,
    start: how % 4 === 0 ? `1${how % 10}:00` : null,
    status: statuses[how % 3]!,
    facts: {
      date: day(on),
      occasion: occasions[how % 11 === 10 ? 1 : 0]!,
      play: how % 13 === 0 ? "level" : "handicap",
      format: 13,
      excluded: how % 17 === 0,
      sides: how % 2 === 0 ? [mine, theirs] : [theirs, mine],
      games: scores.map((wins, place) => ({
        score: wins ? won : [won[1], won[0]],
        ...(how % 19 === 0 && place === 1 ? { ended: "abandoned" } : {}),
      })),
    },
  } as unknown as PlayedMatch;
};

const bases = ["initial", "discretionary", "transfer"] as const;

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
      basis: bases[n % 3]!,
      reason: "seen play",
      ...(n % 2 === 0 ? { index: 1_500 - 10 * off } : {}),
    },
  }) as unknown as EntryOf<"handicap-set">;

const on = fc.nat(DAYS - 1);
const off = fc.integer({ min: 2, max: 10 });
const plays = fc.record({
  act: fc.constant("plays" as const),
  n: fc.nat(40),
  on,
  off,
  scores: fc.array(fc.boolean(), { minLength: 1, maxLength: 4 }),
  how: fc.nat(5_000),
});
const act = fc.oneof(
  { weight: 8, arbitrary: plays },
  { weight: 1, arbitrary: fc.record({ act: fc.constant("many" as const), all: fc.array(plays, { maxLength: 8 }) }) },
  { weight: 2, arbitrary: fc.record({ act: fc.constant("drops" as const), n: fc.nat(40) }) },
  { weight: 2, arbitrary: fc.record({ act: fc.constant("takes back" as const) }) },
  { weight: 2, arbitrary: fc.record({ act: fc.constant("sets" as const), n: fc.nat(5), on, off }) },
  { weight: 1, arbitrary: fc.record({ act: fc.constant("unsets" as const), n: fc.nat(5) }) },
  {
    weight: 1,
    arbitrary: fc.record({ act: fc.constant("moves" as const), which: fc.nat(1), on, days: fc.nat(6) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      act: fc.constant("adopts" as const),
      from: fc.array(on, { maxLength: 3 }),
      rules: fc.nat(3),
    }),
  },
);

const adopted = (from: readonly number[], rules: number): Adoptions => {
  const [first, ...rest] = [0, ...[...new Set(from)].sort((a, b) => a - b)].map((n, place) => ({
    from: day(n),
    rules: sets[(rules + place) % 4]!,
  }));
  return [first!, ...rest];
};

test(`RP40 RP2 a card kept up is, after every change, the card folded line by line from its first, and one handed out stays what it was (seed ${SEED})`, () => {
  console.info(`seed ${SEED}`);
  const met = { runs: 0, kept: 0, keptMost: 0, moved: 0, noticed: 0, atOnce: 0, untouched: 0, back: 0, same: 0 };
  const reasons = new Set<string>();
  fc.assert(
    fc.property(fc.array(act, { minLength: 20, maxLength: 80 }), fc.nat(3), (acts, unit) => {
      const running = new RunningCard();
      const matches = new Map<number, PlayedMatch>();
      const standing = new Map<number, EntryOf<"handicap-set">>();
      let adoptions = adopted([], unit);
      const spans = new Map<EventId, { occasion: "club-competition"; from: string; to: string }>();
      let before: readonly CardLine[] = [];
      let rowsBefore: object | null = null;
      /** Cards as they were handed out, every third one unread until the end. */
      const handedOut: { readonly card: FoldedCard; readonly whole: FoldedCard }[] = [];
      const play = (one: Played): void => {
        const old = matches.get(one.n);
        if (old !== undefined) running.drop(old);
        matches.set(one.n, matchOf(one));
        running.put(matches.get(one.n)!);
        last = one.n;
      };
      let last = -1;
      for (const [step, one] of acts.entries()) {
        if (one.act === "plays") play(one);
        else if (one.act === "many") one.all.forEach(play);
        else if (one.act === "drops" || one.act === "takes back") {
          const n = one.act === "drops" ? one.n : last;
          const old = matches.get(n);
          if (old !== undefined) running.drop(old);
          matches.delete(n);
        } else if (one.act === "sets") standing.set(one.n, setOf(one));
        else if (one.act === "unsets") standing.delete(one.n);
        else {
          if (one.act === "adopts") adoptions = adopted(one.from, one.rules);
          else {
            const to = day(one.on + one.days);
            spans.set(events[one.which] as EventId, { occasion: "club-competition", from: day(one.on), to });
          }
          running.forget();
        }
        const input = { player: ME, adoptions, events: new Map(spans), also: new Set([ALSO]) };
        const folded = running.fold(input, [...standing.values()]);
        const all = { ...input, sets: [...standing.values()], matches: [...matches.values()] };
        const whole = cardLineByLine(all);
        expect(running.matches.map(({ key }) => key).sort()).toEqual(
          [...matches.values()].map(({ key }) => key).sort(),
        );
        if (folded === null || whole === null) {
          expect([folded, whole], `step ${step}`).toEqual([null, null]);
          before = [];
          continue;
        }
        const { rows, kept } = folded;
        const card = cardOf(ME, rows, { signatures: [], unsigned: [] });
        if (rows !== rowsBefore && handedOut.some(({ card: one }) => linesOf(one) === rows)) met.back += 1;
        rowsBefore = rows;
        handedOut.push({ card, whole });
        met.runs += 1;
        if (kept > 0) met.kept += 1;
        if (kept > rows.count / 2) met.keptMost += 1;
        if (kept === rows.count) met.untouched += 1;
        const games = whole.lines.flatMap((line, place) => (line.line === "game" ? [{ ...line, place }] : []));
        const moved = games.filter((line) => line.moved !== null);
        const noticed = games.filter((line) => line.notice !== null);
        met.moved += moved.length;
        met.noticed += noticed.length;
        met.atOnce += moved.filter((line) => line.moved?.after === null).length;
        for (const { reason } of whole.lines) reasons.add(reason);
        // What is told without making lines is what the lines say.
        expect(rows.movedFrom(0), `step ${step}`).toEqual(moved.map(({ place }) => place));
        expect(rows.noticedFrom(1), `step ${step}`).toEqual(
          noticed.map(({ place }) => place).filter((place) => place >= 1),
        );
        expect(card, `step ${step}`).toMatchObject({ handicap: whole.handicap, index: whole.index });
        if (step % 3 === 0) {
          before = [];
          continue;
        }
        expect(card.lines, `step ${step}`).toEqual(whole.lines);
        for (let place = 0; place < Math.min(kept, before.length); place++) {
          met.same += 1;
          expect(card.lines[place]).toBe(before[place]);
        }
        before = card.lines;
      }
      for (const { card, whole } of handedOut) {
        const lines = linesOf(card);
        for (let place = 0; place < lines.count; place++) expect(lines.lineAt(place)).toEqual(whole.lines[place]);
        expect({ lines: card.lines, handicap: card.handicap, index: card.index }).toEqual(whole);
      }
    }),
    { seed: SEED, numRuns: 200 },
  );
  console.info(JSON.stringify({ ...met, reasons: [...reasons] }));
  // That it went on from rows at all, and from late ones, and that the cards were about something.
  expect(met.kept).toBeGreaterThan(met.runs / 4);
  expect(met.keptMost).toBeGreaterThan(met.runs / 10);
  expect(met.untouched).toBeGreaterThan(50);
  expect(Math.min(met.moved, met.noticed, met.atOnce)).toBeGreaterThan(1.5 * met.runs);
  expect(met.back).toBeGreaterThan(50);
  expect(met.same).toBeGreaterThan(1_000);
  expect(reasons.size).toBeGreaterThanOrEqual(9);
});

test("RP40 RP41 a game taken back when the rules have changed leaves no row of before", () => {
  const running = new RunningCard();
  const sets = [setOf({ n: 0, on: 0, off: 6 })];
  const all = [2, 5].map((on, n) => matchOf({ n, on, off: 6, scores: [true], how: 1 }));
  const slip = matchOf({ n: 9, on: 3, off: 6, scores: [false], how: 1 });
  const [old, now] = [0, 1].map((rules) => ({ player: ME, adoptions: adopted([], rules), events: new Map() }));
  for (const match of all) running.put(match);
  running.fold(old!, sets);
  running.put(slip);
  running.fold(old!, sets);
  running.drop(slip);
  running.forget();
  const { rows } = running.fold(now!, sets)!;
  const { lines } = cardOf(ME, rows, { signatures: [], unsigned: [] });
  expect(lines).toEqual(cardLineByLine({ ...now!, sets, matches: all })!.lines);
  expect(lines).not.toEqual(cardLineByLine({ ...old!, sets, matches: all })!.lines);
});

test(`RP40 RP22 a digest that goes on from where lines changed is the digest from nothing (seed ${SEED + 1})`, () => {
  console.info(`seed ${SEED + 1}`);
  const adoptions = adopted([], units.indexOf("event"));
  const start = [setOf({ n: 0, on: 0, off: 6 })];
  const folded = (many: number, lost: number) =>
    foldCard({
      player: ME,
      adoptions,
      events: new Map(),
      sets: start,
      matches: Array.from({ length: many }, (_, n) =>
        matchOf({ n, on: n % 330, off: 6, scores: [n % 330 !== lost], how: 1 }),
      ),
    })!.lines;
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 500 }), fc.nat(329), fc.nat(520), fc.nat(520), (many, lost, upto, again) => {
      const running = new RunningDigest();
      const one = folded(many, -1);
      const two = folded(many, lost);
      atOnce(running.of(linesOf({ lines: one }), Math.min(upto, one.length)));
      const same = two.findIndex((line, place) => JSON.stringify(line) !== JSON.stringify(one[place]));
      running.cut(same === -1 ? two.length : same);
      const count = Math.min(again, two.length);
      expect(atOnce(running.of(linesOf({ lines: two }), count))).toBe(
        atOnce(new RunningDigest().of(linesOf({ lines: two }), count)),
      );
      const last = two.at(-1)!.date;
      running.cut(0);
      expect(atOnce(running.of(linesOf({ lines: two }), two.length))).toBe(cardToSign({ lines: two }, last)?.digest);
    }),
    { seed: SEED + 1, numRuns: 60 },
  );
});
