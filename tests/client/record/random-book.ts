/**
 * A club's book as it may come to be: matches, corrections, links, rulings, bars, forks, gaps, entries of a league carried in, and
 * people writing what they may not. Driven by a list of numbers, so that a failing run shrinks to few of them. Signatures are
 * invented; the entries are real.
 */
import type { Occasion } from "@sward/core";
import { cardToSign } from "@sward/core";
import type { Book, Written } from "../../support/cast.ts";
import { clubs, event, fixture, keyOf, keyOfMatch, league, Pen, played, player } from "../../support/cast.ts";

export interface Op {
  readonly what: number;
  readonly who: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

export const NAMES = ["ada", "ben", "cat", "dan", "eve", "fay", "gus"] as const;

export interface RandomBook {
  readonly club: Book;
  /** Some of what was written never came: gaps. */
  readonly held: readonly Written[];
  readonly did: ReadonlyMap<string, number>;
}

const EVENTS = ["spring", "summer", "autumn"] as const;

/** What ends a chain is rare, else little would be left to compare. */
const often: Readonly<Record<string, number>> = {
  report: 12,
  again: 5,
  slot: 5,
  replace: 5,
  withdraw: 3,
  set: 3,
  link: 2,
  rule: 3,
  event: 2,
  sign: 2,
  league: 5,
  leagueCorrects: 2,
  leagueRules: 2,
  carry: 6,
};

/** Everything a run can do. */
export const ACTS = 24;

const day = (n: number): string => `2026-05-${String((n % 20) + 1).padStart(2, "0")}`;
const name = (n: number): (typeof NAMES)[number] => NAMES[n % NAMES.length]!;
const handicap = (n: number): number => [2, 4, 6, 7, 9, 10, 12][n % 7]!;
const occasions: readonly Occasion[] = ["club-competition", "club-friendly", "league", "calendar-event"];

export function randomBook(ops: readonly Op[]): RandomBook {
  const { north, south } = clubs("north", "south");
  const { league: ring, captains } = league("ring", { north, south });
  const did = new Map<string, number>();
  const gone = new Set<Written>();
  for (const [at, who] of NAMES.entries()) {
    if (at < 4) north.member(who, handicap(at));
    else if (at < 6) north.recorder.joins(who, "visitor", { club: "elsewhere" });
  }
  const second = north.root.admits("second handicapper", "handicapper");
  const pens: Pen[] = [
    north.recorder,
    second,
    north.handicapper,
    north.root,
    north.handicapper.admits("spare", "recorder"),
  ];
  pens.push(new Pen(north, keyOf("stranger")), north.reader);

  const pick = <T>(from: readonly T[], n: number): T | undefined => from[n % Math.max(1, from.length)];
  const ofKind = (kind: string, book: Book = north) => book.written.filter(({ entry }) => entry.kind === kind);
  const match = ({ a, b, c }: Op, slot: boolean) => {
    const [one, two] = [name(a), name(a + 1 + (b % (NAMES.length - 1)))];
    const sides =
      c % 5 === 0
        ? [`${one} 7 + ${name(a + 2)} 9`, `${two} 4 + ${name(a + 3)} 10`]
        : [`${one} ${handicap(b)}`, `${two} ${handicap(c)}`];
    return played(day(a + b + c), sides[0]!, sides[1]!, c % 2 === 0 ? `7-${b % 7}` : `${b % 7}-7 7-${a % 7}`, {
      n: 1 + (c % 2),
      occasion: occasions[b % 4]!,
      play: a % 3 === 0 ? "level" : "handicap",
      ...(b % 3 === 0 ? { start: `1${a % 10}:00` } : {}),
      ...(slot ? { slot: { fixture: fixture("cup"), number: 1 + (a % 3) } } : {}),
      ...(c % 4 === 1 ? { event: event(EVENTS[a % 3]!) } : {}),
    });
  };

  const acts: Readonly<Record<string, (op: Op, pen: Pen) => unknown>> = {
    report: (op, pen) => pen.reports(match(op, false)),
    again: ({ a }, pen) => {
      const before = pick(ofKind("match-reported"), a);
      if (before?.entry.kind !== "match-reported" || !before.entry.understood) return null;
      const { replaces: _, ...same } = before.entry.body;
      return pen.reports(same);
    },
    slot: (op, pen) => pen.reports(match(op, true)),
    replace: (op, pen) => {
      const before = pick(ofKind("match-reported"), op.a + op.c);
      return before === undefined ? null : pen.reports(match(op, op.b % 4 === 0), before);
    },
    withdraw: ({ a, b }, pen) => {
      const what = pick(north.written, a * 7 + b);
      return what === undefined ? null : pen.withdraws(what);
    },
    set: ({ a, b, c }, pen) => {
      const before = pick(ofKind("handicap-set"), b);
      const more = c % 3 === 0 && before !== undefined ? { replaces: before.id } : {};
      return pen.sets(name(a), handicap(b + c), day(b), { ...more, basis: c % 2 === 0 ? "discretionary" : "transfer" });
    },
    link: ({ a, b }, pen) => pen.links(name(a), name(a + 1 + (b % (NAMES.length - 1)))),
    rule: ({ a, b, c }, pen) => {
      const of = pick(ofKind("match-reported"), a);
      if (of?.entry.kind !== "match-reported" || !of.entry.understood) return null;
      return pen.rules(
        keyOfMatch(of.entry.body),
        c % 3 === 0 ? null : (pick(ofKind("match-reported"), a + (b % 2)) ?? null),
      );
    },
    bar: ({ a, b }, pen) => {
      const whom = pens[a % pens.length]!;
      const last = pick(
        north.written.filter(({ entry }) => entry.author === whom.id),
        b,
      );
      return pen.bars(whom, last ?? null);
    },
    fork: (op, pen) => {
      const twin = pen.twin();
      pen.reports(match(op, false));
      twin.reports(match({ ...op, a: op.a + 1 }, false));
      return pen.reports(match({ ...op, b: op.b + 1 }, false));
    },
    lose: ({ a }) => {
      const lost = pick(
        north.written.filter(({ entry }) => entry.seq > 3),
        a,
      );
      return lost === undefined ? null : gone.add(lost);
    },
    event: ({ a, b, c }, pen) => {
      const before = pick(ofKind("event-opened"), c);
      const more = c % 2 === 0 && before !== undefined ? { replaces: before.id } : {};
      const [from = "", to = ""] = [day(b), day(b + 2)].sort();
      return pen.opens(EVENTS[a % 3]!, from, to, more);
    },
    sign: ({ a, b }, pen) => {
      const id = player(name(a));
      const card = north
        .ledger(north.written.filter((one) => !gone.has(one)))
        .state()
        .cards.get(id);
      const said = card === undefined ? null : cardToSign(card, day(b));
      return said === null ? null : pen.writes("card-signed", { player: id, ...said });
    },
    league: (op) => {
      const captain = op.who % 2 === 0 ? captains.north : captains.south;
      return captain.reports(match(op, op.b % 2 === 0));
    },
    leagueCorrects: (op) => {
      const before = pick(ofKind("match-reported", ring), op.a);
      if (before === undefined) return null;
      const captain = op.who % 2 === 0 ? captains.north : captains.south;
      return op.c % 2 === 0 ? captain.withdraws(before) : captain.reports(match(op, op.b % 2 === 0), before);
    },
    leagueRules: ({ a, c }) => {
      const of = pick(ofKind("match-reported", ring), a);
      if (of?.entry.kind !== "match-reported" || !of.entry.understood) return null;
      return ring.root.rules(keyOfMatch(of.entry.body), c % 2 === 0 ? of : null);
    },
    carry: ({ a, c }, pen) => {
      const what = pick(ring.written, a);
      return what === undefined ? null : pen.carries(what, { verified: c % 5 !== 0 });
    },
    adopt: ({ a }, pen) => {
      const what = pick(ofKind("match-reported"), a);
      return what === undefined ? null : pen.carries(what);
    },
    policy: ({ a }, pen) => pen.writes("policy-set", { unconfirmed: a % 2 === 0 ? "waits" : "counts" }),
    rules: ({ a, b }, pen) => pen.adopts(a % 2 === 0 ? "new-south-wales-2022" : "england-2016", day(b)),
    leave: ({ a, b }, pen) => pen.writes("player-left", { player: player(name(a)), on: day(b) }),
    join: ({ a }, pen) => pen.joins(name(a), a % 2 === 0 ? "member" : "visitor"),
    later: ({ a }, pen) => pen.writesRaw({ v: 2, kind: "match-reported", body: { of: player(name(a)) } }),
    broken: (op, pen) => pen.writesRaw({ kind: "match-reported", body: match(op, false), prev: null }),
  };
  const names = Object.keys(acts).flatMap((act) => Array.from({ length: often[act] ?? 1 }, () => act));
  for (const op of ops) {
    const act = names[op.what % names.length]!;
    const pen = pens[op.who % pens.length]!;
    if (acts[act]!(op, pen) !== null) did.set(act, (did.get(act) ?? 0) + 1);
  }
  return { club: north, held: north.written.filter((one) => !gone.has(one)), did };
}
