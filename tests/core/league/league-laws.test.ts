/**
 * A league's book in any order: rules, fixtures, teams, marks, statements, proposals, reports, with corrections by those who may and may
 * not, and devices that are barred. Whatever was written, reading it does not fail and says the same in every order. Seed in the title.
 */
import type { Day, Ledger } from "@sward/core";
import { canonicalText, findLeagueRules, fixtureSlots, readLeague } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Book, Pen, Written } from "../../support/cast.ts";
import { fixture, keyOf, Pen as PenOf, player } from "../../support/cast.ts";
import { shuffled } from "../replay/worlds.ts";
import type { Season } from "./season.ts";
import { lineup, openSeason } from "./season.ts";

const SEED = 20_261_128;
const base = findLeagueRules("even-games")!;
const rules = { ...base, slots: base.slots.slice(1, 4) };

interface Act {
  readonly what: keyof typeof acts;
  readonly by: number;
  readonly a: number;
  readonly b: number;
}

const CLUBS = ["north", "south", "west"] as const;
const pick = <T>(list: readonly T[], at: number): T => list[at % list.length] as T;
const day = (at: number): Day => `2026-0${5 + (at % 3)}-1${at % 4}`;
const which = (at: number) => fixture(`fixture ${at % 3}`);

/** The last entry of a kind, or another, to be replaced by one of the same. */
const earlier = (book: Book, kind: string, at: number): { replaces?: Written["id"] } => {
  const found = book.written.filter(({ entry }) => entry.kind === kind);
  return found.length === 0 || at % 3 === 0 ? {} : { replaces: pick(found, at).id };
};

const acts = {
  rules: ({ book }: Season, pen: Pen, { a, b }: Act) =>
    pen.writes("league-rules-set", {
      rules: pick(
        [{ ...rules }, { ...rules, oneReport: "waits" }, { ...rules, later: 1 }, { ...rules, tieBreaks: [] }],
        a,
      ),
      from: day(b),
      ...earlier(book, "league-rules-set", b),
    }),
  sets: ({ book, ...season }: Season, pen: Pen, { a, b }: Act) =>
    pen.writes("fixture-set", {
      fixture: which(a),
      date: day(b),
      home: season.clubs[pick(CLUBS, a)].root.id,
      away: season.clubs[pick(CLUBS, a + 1 + (b % 2))].root.id,
      slots: fixtureSlots(rules),
      ...earlier(book, "fixture-set", b),
    }),
  names: ({ book, clubs }: Season, pen: Pen, { a, b }: Act) =>
    pen.writes("lineup-named", {
      fixture: which(b),
      club: clubs[pick(CLUBS, a)].root.id,
      players: [1, 2, 3].map((seat) => lineup(pick(CLUBS, a + (b % 5 === 0 ? 1 : 0)), seat + (b % 2))),
      ...(a % 2 === 0 ? { reserves: [lineup(pick(CLUBS, a), 2).player] } : {}),
      ...earlier(book, "lineup-named", a),
    }),
  marks: ({ book, clubs }: Season, pen: Pen, { a, b }: Act) =>
    pen.writes("fixture-marked", {
      fixture: which(a),
      as: pick(["postponed", "conceded", "void", "rained-off"] as const, b),
      ...(b % 3 === 0 ? { to: day(a) } : {}),
      ...(b % 2 === 1 ? { by: clubs[pick(CLUBS, b)].root.id } : {}),
      reason: "so it was",
      ...earlier(book, "fixture-marked", a),
    }),
  states: (_: Season, pen: Pen, { a, b }: Act) =>
    pen.writes("handicap-stated", {
      player: lineup(pick(CLUBS, a), 1 + (b % 3)).player,
      handicap: b % 9,
      index: 1400,
      on: day(b),
    }),
  proposes: (_: Season, pen: Pen, { a, b }: Act) =>
    pen.writes("change-proposed", {
      player: lineup(pick(CLUBS, a), 1).player,
      handicap: b % 9,
      on: day(b),
      reason: "watched",
    }),
  answers: ({ book }: Season, pen: Pen, { a, b }: Act) => {
    const proposals = book.written.filter(({ entry }) => entry.kind === "change-proposed");
    if (proposals.length > 0) {
      pen.writes("change-answered", { proposal: pick(proposals, a).id, accepts: b % 2 === 0, reason: "looked at" });
    }
  },
  reports: (season: Season, pen: Pen, { a, b }: Act) => {
    const at = { id: which(a), day: day(b), home: pick(CLUBS, a), away: pick(CLUBS, a + 1) };
    pen.reports(season.match(at, 1 + (b % 3), pick(["7-4", "4-7", "7-6", "5-5t", "6-2a"], a + b)));
  },
  links: (_: Season, pen: Pen, { a, b }: Act) =>
    pen.links(`north ${1 + (a % 3)}`, pick(["south 1", "stranger", "north 1"], b)),
  withdraws: ({ book }: Season, pen: Pen, { a }: Act) => pen.withdraws(pick(book.written.slice(12), a)),
  bars: ({ captains, book }: Season, pen: Pen, { a, b }: Act) => {
    const target = pick(Object.values(captains), a);
    const own = book.written.filter(({ entry }) => entry.author === target.id);
    pen.bars(target, own.length === 0 || b % 2 === 0 ? null : pick(own, b));
  },
} as const;

const number = fc.nat(59);
const act: fc.Arbitrary<Act> = fc.record({
  what: fc.constantFrom(...(Object.keys(acts) as (keyof typeof acts)[])),
  by: number,
  a: number,
  b: number,
});

function enact(list: readonly Act[]): Season {
  const season = openSeason(rules, 3);
  for (const at of [0, 1, 2]) season.sets(`fixture ${at}`, day(at), pick(CLUBS, at), pick(CLUBS, at + 1));
  const { secretary, captains, book } = season;
  const pens = [
    secretary,
    captains.north,
    captains.south,
    captains.west,
    book.root,
    new PenOf(book, keyOf("stranger")),
  ];
  for (const one of list) acts[one.what](season, pick(pens, one.by), one);
  return season;
}

/** All that is read of a league, as one text; statements as a sorted list. */
function told(ledger: Ledger): string {
  const { statements, ...rest } = readLeague({ state: ledger.state(), counted: ledger.counted() }, "2026-12-01");
  return canonicalText({ ...rest, statements: [...statements].sort(([a], [b]) => (a < b ? -1 : 1)) });
}

test(`LG25 LG7 a league's book says the same in any order, all at once or one by one (seed ${SEED})`, () => {
  const seen = { teams: 0, marks: 0, rules: 0, answers: 0, results: 0, statements: 0 };
  const law = fc.property(fc.array(act, { minLength: 1, maxLength: 40, size: "max" }), fc.nat(), (list, order) => {
    const { book } = enact(list);
    const whole = book.ledger();
    const expected = told(whole);
    const mixed = shuffled(book.written, order);
    expect(told(book.ledger(mixed))).toBe(expected);
    const ledger = book.empty();
    for (const one of mixed) ledger.add([one]);
    expect(told(ledger)).toBe(expected);
    const reading = readLeague({ state: whole.state(), counted: whole.counted() }, "2026-12-01");
    const { fixtures, rules: inForce } = reading.league;
    seen.teams += fixtures.filter(({ teams }) => teams.some((team) => team !== null)).length;
    seen.marks += fixtures.filter(({ mark }) => mark !== null).length;
    seen.rules += inForce.length > 1 ? 1 : 0;
    seen.answers += reading.proposals.filter(({ answer }) => answer !== null).length;
    seen.results += reading.outcomes.filter(({ result }) => result !== null).length;
    seen.statements += reading.statements.size;
  });
  fc.assert(law, { seed: SEED, numRuns: 120 });
  // Of everything there was enough to be wrong about.
  for (const [what, times] of Object.entries(seen)) expect(times, what).toBeGreaterThan(9);
});

test("LG7 a player is one person in all of a league's readings", () => {
  const season = openSeason(rules, 3);
  const at = season.sets("first", "2026-05-10", "north", "south");
  season.captains.north.joins("other", "visitor");
  season.captains.north.links("other", "north 1");
  const players = [{ player: player("other"), off: 2 }, lineup("north", 2), lineup("north", 3)];
  season.captains.north.writes("lineup-named", { fixture: at.id, club: season.keyOf("north"), players });
  expect(season.view().fixtures[0]?.teams[0]?.players[0]?.player).toBe(player("north 1"));
});
