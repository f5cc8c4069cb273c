/**
 * Believable books for property tests: what a club's or a league's devices might write, good and bad, told as a list of small acts
 * that shrink well. An act is a name and four numbers; each number picks from what there is at that moment, so that any list makes
 * a book. Devices are barred, forked, unknown; entries are withheld, corrected by those who may and may not, carried and adopted.
 */
import type { Day, EntryId, MatchReported } from "@sward/core";
import fc from "fast-check";
import type { Book, Written } from "../../support/cast.ts";
import { clubs, event, fixture, keyOf, keyOfMatch, league, Pen, played, player } from "../../support/cast.ts";

export interface Act {
  readonly what: keyof typeof acts;
  readonly by: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

export interface World {
  readonly book: Book;
  /** What a device may come to hold: all that was written but what was withheld. */
  readonly held: readonly Written[];
}

/** The last two are ids of people who have another one too, once linked. */
const names = ["ada", "ben", "cat", "dan", "vera", "wilma"] as const;
const scores = ["7-4", "4-7", "7-6", "5-5t", "6-2a", "7-0w", "7-4 4-7", "7-1 7-2 7-3 7-4 7-5", "7-7"] as const;
const offs = [16, 9, 7, 6, 4, 13] as const;
const bases = ["initial", "discretionary", "transfer"] as const;
const slots = [{ discipline: "singles", play: "handicap", format: 13 } as const];

class Scene {
  readonly book: Book;
  /** The book entries are carried from. */
  readonly away: Book;
  readonly pens: Pen[];
  readonly awayPens: readonly Pen[];
  readonly withheld = new Set<Written>();
  readonly reported: MatchReported[] = [];

  constructor(as: "club" | "league") {
    const { north, south } = clubs("north", "south");
    const border = league("border", { north, south });
    const stranger = keyOf("stranger");
    const lent = border.captains.south.admits("telephone", "recorder");
    const leaguePens = [border.captains.north, border.captains.south, lent, border.league.root];
    this.book = as === "club" ? north : border.league;
    this.away = as === "club" ? border.league : south;
    this.awayPens = as === "club" ? leaguePens : [south.recorder, south.handicapper];
    const known =
      as === "club"
        ? [north.recorder, north.handicapper, north.root, north.recorder, north.reader]
        : [...leaguePens, border.roots.north, border.roots.south];
    this.pens = [...known, new Pen(this.book, stranger), new Pen(this.book, keyOf("telephone"))];
    if (as === "club") for (const name of names.slice(0, 4)) north.member(name, 7, { index: 1390 });
    else border.league.root.adopts("england-2016");
  }
}

const pick = <T>(list: readonly T[], place: number): T | undefined => list[place % list.length];
const must = <T>(list: readonly T[], place: number): T => list[place % list.length] as T;
const dayOf = (number: number): Day => `2026-05-0${1 + (number % 6)}`;

function matchOf({ a, b, c }: Act): MatchReported {
  const who = (place: number, off: number): string => `${must(names, place)} ${must(offs, off)}`;
  const doubles = c % 5 === 0;
  const one = doubles ? `${who(a, c)} + ${who(a + 1, b)}` : who(a, c % 4);
  const two = doubles ? `${who(a + 2, b)} + ${who(a + 3, c)}` : who(a + 1 + (b % 5), b % 3);
  return played(dayOf(b), one, two, must(scores, c + b), {
    play: c % 3 === 0 ? "level" : "handicap",
    occasion: c % 7 === 0 ? "ad-hoc" : "league",
    n: 1 + (c % 2),
    ...(b % 3 === 0 ? { start: `1${c % 10}:00` } : {}),
    ...(b % 4 === 0 ? { event: event(`event ${a % 2}`) } : {}),
    ...(c % 6 === 1 ? { slot: { fixture: fixture("first"), number: 1 } } : {}),
    ...(a % 11 === 10 ? { excluded: true as const } : {}),
  });
}

const reportsOf = (book: Book): readonly Written[] =>
  book.written.filter(({ entry }) => entry.kind === "match-reported");

/** The same match with another score, another player, another time, in the other order, or on another day. */
function twisted(match: MatchReported, how: number): MatchReported {
  const [one, two] = match.sides;
  if (how % 9 === 8) return { ...match, sides: [[{ player: player(must(names, how)), off: 7 }, ...one.slice(1)], two] };
  if (how % 4 === 0) return { ...match, games: [{ score: [7, how % 7] }] };
  if (how % 4 === 1) return { ...match, date: dayOf(how) };
  if (how % 4 === 2) return { ...match, start: "08:00" };
  return {
    ...match,
    sides: [two, one],
    games: match.games.map((game) => ({ ...game, score: [game.score[1], game.score[0]] })),
  };
}

const bodyOf = (written: Written | undefined): MatchReported | undefined =>
  written?.entry.understood && written.entry.kind === "match-reported" ? written.entry.body : undefined;

const acts = {
  reports: (scene: Scene, pen: Pen, act: Act) => {
    const match = matchOf(act);
    scene.reported.push(match);
    pen.reports(match);
  },
  repeats: (scene: Scene, pen: Pen, { a, b }: Act) => {
    const match = pick(scene.reported, a);
    if (match !== undefined) pen.reports(b % 3 === 0 ? twisted(match, b) : twisted(match, 3 + 4 * (b % 2)));
  },
  corrects: (scene: Scene, pen: Pen, { a, b }: Act) => {
    const report = pick(reportsOf(scene.book), a);
    const match = bodyOf(report);
    if (report !== undefined && match !== undefined) pen.reports(twisted(match, b), report);
  },
  withdraws: (scene: Scene, pen: Pen, { a }: Act) => {
    const target = pick(scene.book.written.slice(4), a);
    if (target !== undefined) pen.withdraws(target);
  },
  rules: (scene: Scene, pen: Pen, { a, b }: Act) => {
    const report = pick(reportsOf(scene.book), a);
    const match = bodyOf(report);
    if (report !== undefined && match !== undefined) pen.rules(keyOfMatch(match), b % 3 === 0 ? null : report);
  },
  links: (_: Scene, pen: Pen, { a, b }: Act) => pen.links(must(names, 4 + (a % 2)), must(names, b)),
  sets: (_: Scene, pen: Pen, { a, b, c }: Act) =>
    pen.sets(must(names, a), must(offs, b), dayOf(c), {
      basis: must(bases, c),
      ...(c % 2 === 0 ? { index: 1000 + 50 * b } : {}),
    }),
  resets: (scene: Scene, pen: Pen, { a, b }: Act) => {
    const set = pick(
      scene.book.written.filter(({ entry }) => entry.kind === "handicap-set"),
      a,
    );
    if (set?.entry.understood && set.entry.kind === "handicap-set") {
      pen.writes("handicap-set", { ...set.entry.body, handicap: must(offs, b), replaces: set.id });
    }
  },
  signs: (scene: Scene, pen: Pen, { a, b }: Act) => {
    const name = must(names, a);
    const card = scene.book.state().cards.get(player(name));
    if (card?.lines.some(({ date }) => date <= dayOf(b))) pen.signs(name, dayOf(b));
  },
  joins: (_: Scene, pen: Pen, { a, b }: Act) => pen.joins(must(names, a), b % 2 === 0 ? "visitor" : "member"),
  leaves: (_: Scene, pen: Pen, { a, b }: Act) =>
    pen.writes("player-left", { player: player(must(names, a)), on: dayOf(b) }),
  adopts: (_: Scene, pen: Pen, { a, b }: Act) =>
    pen.adopts(must(["england-2016", "new-south-wales-2022", "rules-of-tomorrow"], a), dayOf(b)),
  decides: (_: Scene, pen: Pen, { a }: Act) =>
    pen.writes("policy-set", { unconfirmed: a % 2 === 0 ? "waits" : "counts" }),
  opens: (scene: Scene, pen: Pen, { a, b, c }: Act) => {
    const opened = pick(
      scene.book.written.filter(({ entry }) => entry.kind === "event-opened"),
      c,
    );
    const more = opened !== undefined && c % 2 === 0 ? { replaces: opened.id } : {};
    pen.opens(`event ${a % 2}`, dayOf(b), dayOf(b + (c % 3)), { title: `event ${c % 4}`, ...more });
  },
  admits: (scene: Scene, pen: Pen, { a, b }: Act) => {
    const name = must(["stranger", "telephone", "newcomer"], a);
    scene.pens.push(pen.admits(name, must(["recorder", "handicapper", "reader"], b)));
  },
  bars: (scene: Scene, pen: Pen, { a, b, c }: Act) => {
    const target = must(scene.pens, a);
    const own = scene.book.written.filter(({ entry }) => entry.author === target.id);
    const somewhere = { entry: { seq: c % 9 }, id: keyOf("nowhere").id as string as EntryId } as Written;
    pen.bars(target, b % 4 === 0 ? null : b % 4 === 1 ? somewhere : (pick(own, c) ?? null));
  },
  forks: (scene: Scene, pen: Pen) => {
    scene.pens.push(pen.twin());
  },
  garbles: (scene: Scene, pen: Pen, { a, b }: Act) => {
    const prev = pick(scene.book.written, b)?.id ?? null;
    if (a % 3 === 0) pen.writesRaw({ kind: "lawn-mown", body: { lawn: b } });
    else if (a % 3 === 1) pen.writesRaw({ kind: "policy-set", body: { unconfirmed: "waits" }, v: 2 });
    else pen.writesRaw({ kind: "policy-set", body: { unconfirmed: "waits" }, prev });
  },
  withholds: (scene: Scene, _: Pen, { a }: Act) => {
    const gone = pick(scene.book.written.slice(-6), a);
    if (gone !== undefined) scene.withheld.add(gone);
  },
  away: (scene: Scene, _: Pen, act: Act) => {
    const pen = must(scene.awayPens, act.by);
    const report = pick(reportsOf(scene.away), act.a);
    const match = bodyOf(report);
    if (report === undefined || match === undefined || act.b % 4 < 2)
      pen.reports(pick(scene.reported, act.c) ?? matchOf(act));
    else if (act.b % 4 === 2) pen.reports(twisted(match, act.c), report);
    else if (act.c % 3 === 0) pen.withdraws(report);
    else pen.rules(keyOfMatch(match), act.c % 3 === 1 ? report : null);
  },
  carries: (scene: Scene, pen: Pen, { a, b }: Act) => {
    const what = pick(b % 4 === 0 ? scene.book.written : scene.away.written.slice(3), a);
    if (what !== undefined) pen.carries(what, b % 7 === 6 ? { verified: false } : {});
  },
  wanders: (scene: Scene, _: Pen, { a }: Act) => {
    const what = pick(scene.away.written, a);
    if (what !== undefined) scene.book.written.push(what);
  },
  states: (_: Scene, pen: Pen, { a, b, c }: Act) =>
    pen.writes("handicap-stated", { player: player(must(names, a)), handicap: c % 9, index: 1000 + c, on: dayOf(b) }),
  fixes: (_: Scene, pen: Pen, { b }: Act) =>
    pen.writes("fixture-set", { fixture: fixture("first"), date: dayOf(b), home: pen.id, away: pen.id, slots }),
} as const;

/** Most of what happens in a season is play. */
const weights: Readonly<Partial<Record<keyof typeof acts, number>>> = {
  reports: 8,
  repeats: 4,
  corrects: 3,
  carries: 3,
  away: 3,
};

const kinds = Object.keys(acts) as (keyof typeof acts)[];
const number = fc.nat(59);
const act: fc.Arbitrary<Act> = fc.record({
  what: fc.oneof(...kinds.map((what) => ({ weight: weights[what] ?? 1, arbitrary: fc.constant(what) }))),
  by: number,
  a: number,
  b: number,
  c: number,
});

export const worlds: fc.Arbitrary<{ readonly as: "club" | "league"; readonly acts: readonly Act[] }> = fc.record({
  as: fc.constantFrom("club" as const, "club" as const, "league" as const),
  acts: fc.array(act, { minLength: 1, maxLength: 45, size: "max" }),
});

export function enact({ as, acts: list }: { readonly as: "club" | "league"; readonly acts: readonly Act[] }): World {
  const scene = new Scene(as);
  for (const one of list) acts[one.what](scene, must(scene.pens, one.by), one);
  return { book: scene.book, held: scene.book.written.filter((one) => !scene.withheld.has(one)) };
}

/** A list in an order of its own: sorted by a digest of a seed and each place. */
export function shuffled<T>(list: readonly T[], seed: number): T[] {
  return list
    .map((one, place) => ({ one, key: keyOf(`${seed} ${place}`).id }))
    .sort((x, y) => (x.key < y.key ? -1 : 1))
    .map(({ one }) => one);
}
