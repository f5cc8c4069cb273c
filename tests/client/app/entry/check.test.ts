import type { EventId, PlayerId } from "@sward/core";
import { expect, test } from "vitest";
import { checkForm } from "../../../../packages/client/src/app/entry/check.ts";
import type { EntryForm, Seat } from "../../../../packages/client/src/app/entry/form.ts";
import { newForm, withScore, withSeat } from "../../../../packages/client/src/app/entry/form.ts";
import { knownPeople } from "../../../../packages/client/src/app/entry/people.ts";
import { rulesOnDay } from "../../../../packages/client/src/app/entry/rules-on.ts";
import { clubInMemory, report, TODAY } from "./club-in-memory.ts";

const club = await clubInMemory([
  { name: "Bea Fairlamb", handicap: 7 },
  { name: "Carl Underhill", handicap: 4 },
  { name: "Dot Pemberley", handicap: 12 },
  { name: "Eli Garrow", handicap: 9 },
]);
const cup = "cupcupcupcupcupcupcupA" as EventId;
await club.save({
  kind: "event-opened",
  body: { event: cup, title: "Larkhill Cup", occasion: "club-competition", from: "2031-06-01", to: "2031-06-08" },
});

const context = () => ({
  state: club.book.state(),
  today: TODAY,
  rules: rulesOnDay(club.book.state(), TODAY),
  people: new Map(knownPeople(club.desk).map((person) => [person.player, person])),
});
const check = (form: EntryForm) => checkForm(form, context());
const faults = (form: EntryForm) => {
  const checked = check(form);
  return checked.ok ? [] : checked.fault;
};

const seated = (form: EntryForm, seat: Seat, first: string, off: string): EntryForm =>
  withSeat(form, seat, { player: club.id(first), text: first, off });

const kept = {
  date: TODAY,
  occasion: "club-competition",
  event: null,
  play: "handicap",
  format: 13,
  doubles: false,
} as const;

/** Bea (7) beats Carl (4) by 7-5. */
const sound = (): EntryForm => {
  const form = seated(seated(newForm(kept), 0, "Bea", "7"), 2, "Carl", "4");
  return withScore(withScore(form, 0, 0, "7"), 0, 1, "5");
};

test("a sound form becomes one report, own side first", () => {
  const checked = check(sound());
  const { kind, body } = report([[club.id("Bea"), 7]], [[club.id("Carl"), 4]], [7, 5]);
  // With the extra strokes as they were given: 7 against 4 receives 3 of 13 points' length.
  expect(checked.ok && checked.value.drafts).toEqual([{ kind, body: { ...body, given: [[3], [0]] } }]);
});

test("everything that is wrong is told at once, each at its field", () => {
  expect(faults(newForm({ ...kept, date: "", occasion: null }))).toEqual([
    { field: "date", type: "no-date" },
    { field: "occasion", type: "no-occasion" },
    { field: "player-0", type: "no-player" },
    { field: "player-2", type: "no-player" },
    { field: "score-0-0", type: "no-score" },
    { field: "score-0-1", type: "no-score" },
  ]);
});

test("a day that has not come, or is none, is refused", () => {
  expect(faults({ ...sound(), date: "2031-06-15" })).toEqual([
    { field: "date", type: "future-date", date: "2031-06-15", today: TODAY },
  ]);
  expect(faults({ ...sound(), date: "2031-02-30" })).toEqual([
    { field: "date", type: "not-a-date", text: "2031-02-30" },
  ]);
  expect(faults({ ...sound(), start: "25:10" })).toEqual([{ field: "start", type: "not-a-time", text: "25:10" }]);
});

test("a player on both sides is refused at the second place, and a name nobody has is not taken for anyone", () => {
  expect(faults(seated(sound(), 2, "Bea", "7"))).toEqual([
    { field: "player-2", type: "player-twice", name: "Bea Fairlamb" },
  ]);
  expect(faults(withSeat(sound(), 2, { player: null, text: "Carl Underhil" }))).toEqual([
    { field: "player-2", type: "nobody-by-that-name", text: "Carl Underhil" },
  ]);
});

test("a handicap that is missing, is no number, or is not in the table is refused", () => {
  expect(faults(withSeat(sound(), 0, { off: "" }))).toEqual([
    { field: "off-0", type: "no-handicap", name: "Bea Fairlamb" },
  ]);
  expect(faults(withSeat(sound(), 0, { off: "7½" }))).toEqual([{ field: "off-0", type: "not-a-handicap", text: "7½" }]);
  expect(faults(withSeat(sound(), 0, { off: "13" }))).toMatchObject([
    { field: "off-0", type: "handicap-not-in-table", handicap: 13 },
  ]);
});

test("a minus may be typed as people type it", () => {
  for (const off of ["-2", "−2", " –2"]) {
    const checked = check(withSeat(sound(), 0, { off }));
    expect(checked.ok && checked.value.body.sides[0][0]?.off, off).toBe(-2);
  }
});

test("a score that cannot be is refused with what it was; the same hoops are fine when time ran out", () => {
  const scored = (own: string, other: string) => withScore(withScore(sound(), 0, 0, own), 0, 1, other);
  for (const [own, other] of [
    ["7", "7"],
    ["6", "5"],
    ["8", "6"],
    ["0", "0"],
  ] as const) {
    expect(faults(scored(own, other)), `${own}-${other}`).toMatchObject([
      { field: "score-0-0", type: "score-cannot-be" },
    ]);
  }
  expect(faults(scored("7", "x"))).toEqual([{ field: "score-0-1", type: "not-a-score", text: "x" }]);
  expect(faults(scored("70", "5"))).toEqual([{ field: "score-0-0", type: "not-a-score", text: "70" }]);
  const form = scored("6", "5");
  expect(faults({ ...form, games: [{ ...form.games[0], ending: "time" }] })).toEqual([]);
  expect(faults({ ...scored("7", "5"), games: [{ score: ["7", "5"], ending: "time" }] })).toMatchObject([
    { field: "score-0-0", type: "score-cannot-be", ending: "time" },
  ]);
});

test("of several games the one that is wrong is named", () => {
  const form: EntryForm = {
    ...sound(),
    games: [
      { score: ["7", "5"], ending: "played-out" },
      { score: ["4", "6"], ending: "played-out" },
      { score: ["7", ""], ending: "played-out" },
    ],
  };
  expect(faults(form)).toMatchObject([
    { field: "score-1-0", type: "score-cannot-be" },
    { field: "score-2-1", type: "no-score" },
  ]);
});

test("an event is refused on a day it was not on", () => {
  expect(faults({ ...sound(), event: cup })).toMatchObject([{ field: "event", type: "event-not-on-day" }]);
  expect(faults({ ...sound(), event: cup, date: "2031-06-08" })).toEqual([]);
});

test("doubles need four, and count each once", () => {
  const form = { ...sound(), doubles: true };
  expect(faults(form).map(({ field }) => field)).toEqual(["player-1", "player-3"]);
  expect(faults(seated(seated(form, 1, "Dot", "12"), 3, "Eli", "9"))).toEqual([]);
});

test("a second match of the same players on a day is asked about, and numbered by the answer", async () => {
  const own = await clubInMemory([
    { name: "Bea Fairlamb", handicap: 7 },
    { name: "Carl Underhill", handicap: 4 },
  ]);
  const people = new Map(knownPeople(own.desk).map((person) => [person.player, person]));
  const ask = (form: EntryForm) => checkForm(form, { ...context(), state: own.book.state(), people });
  const seat = (form: EntryForm, at: Seat, first: string, off: string) =>
    withSeat(form, at, { player: own.id(first), text: first, off });
  const form = withScore(withScore(seat(seat(newForm(kept), 0, "Carl", "4"), 2, "Bea", "7"), 0, 0, "7"), 0, 1, "2");
  await own.save(report([[own.id("Bea"), 7]], [[own.id("Carl"), 4]], [7, 5]));

  expect(ask(form)).toEqual({ ok: false, fault: [{ field: "same", type: "same-match-unanswered" }] });
  expect(ask({ ...form, same: "further" })).toMatchObject({ ok: true, value: { body: { n: 2 } } });
  expect(ask({ ...form, same: "second-report" })).toMatchObject({ ok: true, value: { body: { n: 1 } } });
  // Level play is another match by its identity; the slip may be there, so it is asked about as well.
  expect(ask({ ...form, play: "level" }).ok).toBe(false);
  expect(ask({ ...form, play: "level", same: "further" })).toMatchObject({ ok: true, value: { body: { n: 1 } } });
  expect(ask({ ...form, date: "2031-06-13" }).ok).toBe(true);
});

test("someone a league knows and a visitor typed in join as visitors with the match, all or none", () => {
  const vera = "veraveraveraveraveraAA" as PlayerId;
  const people = new Map(context().people);
  people.set(vera, {
    player: vera,
    name: "Vera Lisle",
    short: "Vera L",
    standing: "new",
    home: { club: "Winterbeck" },
    club: "Winterbeck",
  });
  const form = withSeat(sound(), 2, { player: vera, text: "Vera Lisle", off: "3" });
  const checked = checkForm(form, { ...context(), people });
  expect(checked.ok && checked.value.drafts.map(({ kind }) => kind)).toEqual(["player-joined", "match-reported"]);
  expect(checked.ok && checked.value.drafts[0]?.body).toEqual({
    player: vera,
    standing: "visitor",
    home: { club: "Winterbeck" },
  });
});
