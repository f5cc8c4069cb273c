import { expect, test } from "vitest";
import { newForm, withScore, withSeat } from "../../../../packages/client/src/app/entry/form.ts";
import { adviseOff } from "../../../../packages/client/src/app/entry/played-off.ts";
import { rulesOnDay } from "../../../../packages/client/src/app/entry/rules-on.ts";
import {
  adviseInLeague,
  checkSlot,
  copyOf,
  formFrom,
  slotForm,
} from "../../../../packages/client/src/app/league/slot-form.ts";
import {
  enteredPlayers,
  ownClub,
  reportOf,
  reportOfOther,
  tallyOf,
  viewSlots,
} from "../../../../packages/client/src/app/league/slots.ts";
import { leagueWords } from "../../../../packages/client/src/app/words/league.ts";
import type { PaperLeague } from "./paper-league.ts";
import { DAY, paperLeague, slotReport } from "./paper-league.ts";

const told = (league: PaperLeague, writer: "north" | "south"): string[] => {
  const book = league.as(writer);
  const nameOf = (club: string) => book.state().clubs.get(club as never)!.name;
  return viewSlots(book, league.fixture()).map(({ status }) => leagueWords.status(status, ownClub(book), nameOf));
};

test("each slot's standing in words, as each club reads it", async () => {
  const league = await paperLeague();
  expect(told(league, "north")).toEqual(["not reported", "not reported"]);
  await league.write("north", slotReport(league, 1, [7, 5]));
  expect(told(league, "north")[0]).toBe("reported by us only");
  expect(told(league, "south")[0]).toBe("reported by Northmoor only");
  await league.write("south", slotReport(league, 1, [7, 5]));
  await league.write("north", slotReport(league, 2, [7, 5]));
  const theirs = await league.write("south", slotReport(league, 2, [5, 7]));
  expect(told(league, "south")).toEqual(["agreed", "differs: held"]);
  await league.write("league", {
    kind: "ruling-made",
    body: { match: viewSlots(league.as("north"), league.fixture())[1]!.match!.key, accepts: theirs, reason: "umpire" },
  });
  expect(told(league, "north")).toEqual(["agreed", "ruled on"]);
});

test("reports stand side by side, the home club's first and the home side first in each", async () => {
  const league = await paperLeague();
  const { ann, bob } = league.players;
  const turned = {
    sides: [[{ player: bob, off: 5 }], [{ player: ann, off: 8 }]] as never,
    games: [{ score: [6, 7] as [number, number] }],
  };
  await league.write("south", slotReport(league, 1, [0, 0], turned));
  await league.write("northTablet", slotReport(league, 1, [7, 5]));
  const book = league.as("north");
  const [slot] = viewSlots(book, league.fixture());
  expect(slot!.reports.map(({ club }) => club)).toEqual([league.clubs.north, league.clubs.south]);
  expect(slot!.reports.map(({ facts }) => facts.sides[0][0]!.player)).toEqual([ann, ann]);
  expect(slot!.reports.map(({ facts }) => facts.games)).toEqual([[{ score: [7, 5] }], [{ score: [7, 6] }]]);
  expect(slot!.match!.differs).toEqual(["games"]);
  expect(reportOf(slot!, ownClub(book), book.device)?.club).toBe(league.clubs.north);
  expect(reportOfOther(slot!, ownClub(book))?.club).toBe(league.clubs.south);
  expect(ownClub(league.as("league"))).toBe(null);
});

test("taking theirs over makes the two agree; the score counts as they wrote it", async () => {
  const league = await paperLeague();
  const ours = await league.write("north", slotReport(league, 1, [7, 5]));
  await league.write("south", slotReport(league, 1, [7, 6]));
  const book = league.as("north");
  const theirs = reportOfOther(viewSlots(book, league.fixture())[0]!, league.clubs.north)!;
  await league.write("north", copyOf(theirs.facts, { fixture: league.fixture(), number: 1 }, ours));
  const [slot] = viewSlots(book, league.fixture());
  expect(slot!.status).toEqual({ type: "agreed" });
  expect(slot!.match!.facts!.games[0]!.score.toSorted()).toEqual([6, 7]);
  expect(tallyOf(book, league.fixture(), viewSlots(book, league.fixture()))).toEqual({ home: 1, away: 0, open: 1 });
});

test("a slot's form has what the fixture settled, and makes a report in its slot though the pair play twice", async () => {
  const league = await paperLeague();
  const book = league.as("north");
  const place = { fixture: league.fixture(), number: 2 };
  expect(slotForm(place, "2031-06-01").date).toBe("2031-06-01");
  let form = slotForm(place, "2031-07-01");
  expect(form).toMatchObject({ date: DAY, occasion: "league", play: "level", format: 13, doubles: false });
  const people = new Map(
    (["ann", "bob"] as const).map((name) => {
      const player = league.players[name];
      return [player, { player, name, short: name, standing: "visitor" as const, home: null }];
    }),
  );
  const context = { state: book.state(), today: "2031-07-01", people, rules: rulesOnDay(book.state(), DAY) };
  expect(checkSlot(form, place, context)).toMatchObject({ ok: false });
  form = withSeat(form, 0, { player: league.players.ann, off: "8" });
  form = withSeat(form, 2, { player: league.players.bob, off: "5" });
  form = withScore(withScore(form, 0, 0, "7"), 0, 1, "5");
  await league.write("north", slotReport(league, 1, [7, 2]));
  const checked = checkSlot(form, place, { ...context, state: book.state() });
  expect(checked.ok && checked.value.draft).toEqual(slotReport(league, 2, [7, 5]));
  expect(checkSlot({ ...form, date: "2031-07-02" }, place, context)).toMatchObject({
    ok: false,
    fault: [{ field: "date", type: "future-date" }],
  });
});

test("a form begun from their report keeps its turn and replaces nothing of theirs", async () => {
  const league = await paperLeague();
  await league.write("south", slotReport(league, 1, [7, 6]));
  const theirs = viewSlots(league.as("north"), league.fixture())[0]!.reports[0]!;
  const form = formFrom(theirs.facts, null, (player) => player);
  expect(form).toMatchObject({ replaces: null, play: "handicap", occasion: "league" });
  expect(form.seats[0]).toMatchObject({ player: league.players.ann, off: "8" });
  expect(form.games[0].score).toEqual(["7", "6"]);
  expect(newForm({ ...form, event: null }).replaces).toBe(null);
});

test("line-ups come from the players a club has entered, handicaps from what it states", async () => {
  const league = await paperLeague();
  const book = league.as("north");
  const name = (player: string) => book.roster.get(player as never)!.name;
  expect(enteredPlayers(book, league.clubs.south, name)).toEqual([league.players.bet, league.players.bob]);
  const { bob } = league.players;
  const desk = { club: league.as("league"), leagues: [] };
  expect(adviseInLeague(desk, book, bob, DAY)).toEqual({ from: "nobody" });
  await league.write("south", {
    kind: "handicap-stated",
    body: { player: bob, handicap: 6, index: 1400, on: "2031-06-09" },
  });
  // Stated since the day: better than nothing, and it says from when it is.
  expect(adviseInLeague(desk, book, bob, DAY)).toEqual({ from: "stated", off: 6, on: "2031-06-09" });
  expect(adviseOff({ club: desk.club, leagues: [book] }, bob, DAY)).toEqual({ from: "nobody" });
  expect(adviseInLeague(desk, book, bob, "2031-06-10")).toEqual({ from: "stated", off: 6, on: "2031-06-09" });
});
