/**
 * What the screen promises before saving is what the card says after it, for matches of every sort: each case is previewed, saved,
 * and compared with the card the book then has.
 */
import type { Draft, EventId, GameLine, MatchReported, PlayerId } from "@sward/core";
import { matchKey } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { previewMatch } from "../../../../packages/client/src/app/entry/preview.ts";
import { nextNumber } from "../../../../packages/client/src/app/entry/same-match.ts";
import type { MemoryClub } from "./club-in-memory.ts";
import { clubInMemory, report, TODAY } from "./club-in-memory.ts";

const members = [
  { name: "Bea Fairlamb", handicap: 7, index: 1390 },
  { name: "Carl Underhill", handicap: 4 },
  { name: "Dot Pemberley", handicap: 12 },
  { name: "Eli Garrow", handicap: 9 },
  { name: "Vera Ashdown", handicap: 3, visitor: "Winterbeck" },
];

test("7 at 1390 wins a handicap game: 1400, and 6 when the day is over", async () => {
  // Croquet England, Maintaining a GC Handicap: https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fmaintenance
  const club = await clubInMemory(members);
  const draft = report([[club.id("Bea"), 7]], [[club.id("Vera"), 3]], [7, 5]);
  expect(previewMatch(club.book, draft.body).effects).toEqual([
    {
      player: club.id("Bea"),
      index: { before: 1390, after: 1400 },
      points: 10,
      reasons: ["handicap-singles"],
      handicap: 7,
      moved: { from: 7, to: 6, trigger: 1400, after: TODAY },
      undone: null,
      later: null,
    },
  ]);
  await holds(club, draft);
});

test("a loss later the same day undoes the change that was coming, and says so", async () => {
  const club = await clubInMemory(members);
  await club.save(report([[club.id("Bea"), 7]], [[club.id("Carl"), 4]], [7, 5], { start: "10:00" }));
  const loss = report([[club.id("Bea"), 7]], [[club.id("Eli"), 9]], [3, 7], { start: "11:00" });
  const [bea] = previewMatch(club.book, loss.body).effects;
  expect(bea).toMatchObject({ index: { before: 1400, after: 1390 }, moved: null, undone: { from: 7, to: 6 } });
  await holds(club, loss);
});

test("a game of last week moves every line after it, and the card's end is told", async () => {
  const club = await clubInMemory(members);
  await club.save(report([[club.id("Bea"), 7]], [[club.id("Carl"), 4]], [2, 7]));
  const late = report([[club.id("Bea"), 7]], [[club.id("Eli"), 9]], [7, 6], { date: "2031-06-07" });
  const [bea] = previewMatch(club.book, late.body).effects;
  expect(bea).toMatchObject({
    index: { before: 1390, after: 1400 },
    moved: { from: 7, to: 6, after: "2031-06-07" },
    later: { lines: 1, index: { before: 1380, after: 1390 }, handicap: { before: 7, after: 6 } },
  });
  await holds(club, late);
});

test("a second account that differs holds the match and moves nothing; one that agrees changes nothing", async () => {
  const club = await clubInMemory(members);
  const first = report([[club.id("Bea"), 7]], [[club.id("Carl"), 4]], [7, 5]);
  await club.save(first);
  const other = { ...first.body, games: [{ score: [7, 4] as [number, number] }] };
  expect(previewMatch(club.book, other)).toEqual({ effects: [], standstill: "held" });
  await club.save({ kind: "match-reported", body: other });
  expect([...club.book.state().matches.values()][0]?.status).toBe("held");
});

test("a correction is previewed as if what it replaces had never been", async () => {
  const club = await clubInMemory(members);
  const wrong = report([[club.id("Bea"), 7]], [[club.id("Carl"), 4]], [5, 7]);
  const [replaces] = await club.save(wrong);
  const right = report([[club.id("Bea"), 7]], [[club.id("Carl"), 4]], [7, 5], { replaces: replaces! });
  expect(previewMatch(club.book, right.body).effects[0]).toMatchObject({ index: { before: 1390, after: 1400 } });
  await holds(club, right);
  const elsewhere = report([[club.id("Bea"), 7]], [[club.id("Eli"), 9]], [7, 5], {
    replaces: (await club.save(report([[club.id("Bea"), 7]], [[club.id("Dot"), 12]], [1, 7])))[0]!,
  });
  await holds(club, elsewhere);
});

test("while a book waits for a second report nothing moves; the second one moves it, and a ruling settles it", async () => {
  const club = await clubInMemory(members);
  await club.save({ kind: "policy-set", body: { unconfirmed: "waits" } });
  const { body } = report([[club.id("Bea"), 7]], [[club.id("Carl"), 4]], [7, 5]);
  expect(previewMatch(club.book, body)).toEqual({ effects: [], standstill: "waiting" });
  const [first] = await club.save({ kind: "match-reported", body });
  // As another device of the club sees it.
  const other = { ...club.book, device: "another" as never };
  expect(previewMatch(other, body)).toMatchObject({ standstill: null, effects: [{ points: 10 }, { points: -10 }] });
  const match = matchKey(body, (id) => id);
  await club.save({ kind: "ruling-made", body: { match, accepts: first!, reason: "seen by the umpire" } });
  expect(previewMatch(club.book, { ...body, games: [{ score: [5, 7] }] })).toEqual({
    effects: [],
    standstill: "ruled",
  });
});

test("in an event of some days the handicap changes when the event is over", async () => {
  const club = await clubInMemory(members);
  const event = "cupcupcupcupcupcupcupA" as EventId;
  const days = { from: "2031-06-12", to: "2031-06-14" };
  await club.save({
    kind: "event-opened",
    body: { event, title: "Cup", occasion: "club-competition", ...days },
  });
  const win = report([[club.id("Bea"), 7]], [[club.id("Eli"), 9]], [7, 5], { event, date: "2031-06-12" });
  expect(previewMatch(club.book, win.body).effects[0]!.moved).toEqual({
    from: 7,
    to: 6,
    trigger: 1400,
    after: days.to,
  });
  await holds(club, win);
  const loss = report([[club.id("Bea"), 7]], [[club.id("Carl"), 4]], [5, 7], { event, date: "2031-06-13" });
  expect(previewMatch(club.book, loss.body).effects[0]).toMatchObject({
    moved: null,
    undone: { to: 6, after: days.to },
  });
  await holds(club, loss);
});

const seed = 20_310_614;

test(`any run of matches, on any days, under either rule set, previewed one by one (seed ${seed})`, async () => {
  const day = fc.integer({ min: 1, max: 14 }).map((date) => `2031-06-${String(date).padStart(2, "0")}`);
  const seat = fc.constantFrom("Bea", "Carl", "Dot", "Eli", "Vera");
  const match = fc.record({
    date: day,
    names: fc.uniqueArray(seat, { minLength: 2, maxLength: 4 }),
    play: fc.constantFrom("handicap" as const, "level" as const),
    occasion: fc.constantFrom("club-competition" as const, "club-friendly" as const),
    won: fc.array(fc.boolean(), { minLength: 1, maxLength: 3 }),
    start: fc.constantFrom(undefined, "09:30", "15:00"),
    inEvent: fc.boolean(),
    offs: fc.array(fc.constantFrom(3, 4, 7, 9, 12), { minLength: 4, maxLength: 4 }),
  });
  const run = fc.record({
    rules: fc.constantFrom("england-2016", "new-south-wales-2022"),
    matches: fc.array(match, { maxLength: 8 }),
  });
  const event = "cupcupcupcupcupcupcupA" as EventId;
  const span = { from: "2031-06-04", to: "2031-06-07" };
  let moves = 0;
  await fc.assert(
    fc.asyncProperty(run, async ({ rules, matches }) => {
      const club = await clubInMemory(members, { rules });
      await club.save({ kind: "event-opened", body: { event, title: "Cup", occasion: "club-competition", ...span } });
      for (const { date, names, play, occasion, won, offs, start, inEvent } of matches) {
        const half = names.length > 3 ? 2 : 1;
        const seats = names.map((name, at) => [club.id(name), offs[at]!] as const);
        const plain = report(seats.slice(0, half), seats.slice(half, half * 2), [7, 0], {
          date,
          play,
          occasion,
          ...(start === undefined ? {} : { start }),
          ...(inEvent && date >= span.from && date <= span.to ? { event } : {}),
          games: won.map((own) => ({ score: own ? [7, 3] : [3, 7] })),
        });
        const body = { ...plain.body, n: nextNumber(club.book.state(), plain.body, null) };
        moves += await holds(club, { kind: "match-reported", body });
      }
    }),
    { seed, numRuns: 60 },
  );
  expect(moves, "a run in which no handicap moves proves little").toBeGreaterThan(3);
});

/** Previews, saves and compares; returns how many handicaps the match moved. */
async function holds(club: MemoryClub, draft: Extract<Draft, { kind: "match-reported" }>): Promise<number> {
  const { effects, standstill } = previewMatch(club.book, draft.body);
  expect(standstill).toBe(null);
  const before = new Map(
    [...club.book.state().cards].map(([player, { index, handicap }]) => [player, { index, handicap }]),
  );
  await club.save(draft);
  const ours = playersOf(draft.body).filter((player) => club.book.state().cards.has(player));
  expect(effects.map(({ player }) => player)).toEqual(ours);
  for (const effect of effects) {
    const card = club.book.state().cards.get(effect.player)!;
    const key = matchKey(draft.body, (id) => id);
    const lines = card.lines.filter((line): line is GameLine => line.line === "game" && line.match === key);
    expect(lines.map(({ reason }) => reason)).toEqual(effect.reasons);
    expect(lines.at(-1)!.index).toBe(effect.index.after);
    expect(lines[0]!.index - lines[0]!.points).toBe(effect.index.before);
    const moves = card.lines.flatMap((line) => (line.line === "game" && line.moved !== null ? [line.moved] : []));
    if (effect.moved !== null) expect(moves).toContainEqual(effect.moved);
    if (effect.undone !== null) expect(moves).not.toContainEqual(effect.undone);
    if (effect.later === null) {
      expect(card.index).toBe(effect.index.after);
      if (effect.moved !== null) expect(card.handicap).toBe(effect.moved.to);
    } else {
      expect(effect.later.index.after).toBe(card.index);
      expect(effect.later.handicap.after).toBe(card.handicap);
      expect({ index: effect.later.index.before, handicap: effect.later.handicap.before }).toEqual(
        before.get(effect.player),
      );
    }
  }
  return effects.filter(({ moved }) => moved !== null).length;
}

const playersOf = ({ sides }: MatchReported): PlayerId[] => sides.flat().map(({ player }) => player);
