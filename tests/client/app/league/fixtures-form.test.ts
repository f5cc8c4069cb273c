import type { FixtureId, KeyId, LeagueRules } from "@sward/core";
import { findLeagueRules, roundRobin } from "@sward/core";
import { expect, test } from "vitest";
import {
  byeOn,
  drawn,
  emptyMark,
  markBody,
  markFaults,
  moved,
  newFixturesForm,
  planOf,
  previewRounds,
  roundDays,
} from "../../../../packages/client/src/app/league/fixtures-form.ts";

const once: LeagueRules = findLeagueRules("everyone-meets")!;
const twice: LeagueRules = { ...once, meetings: "home-and-away" };
const key = (name: string) => name as KeyId;
const clubs = ["Elm", "Ash", "Cedar", "Birch", "Dogwood"].map((name) => ({ club: key(name), name }));
const form = (many: number, first = "2031-05-03") => newFixturesForm(clubs.slice(0, many), first);

let made = 0;
const newId = (): FixtureId => {
  made += 1;
  return `fixture-${made}` as FixtureId;
};

test("clubs begin in the order of their names, and each round is a week after the one before", () => {
  expect(drawn(form(5))).toEqual(["Ash", "Birch", "Cedar", "Dogwood", "Elm"]);
  expect(roundDays(form(4), "once")).toEqual(["2031-05-03", "2031-05-10", "2031-05-17"]);
  expect(roundDays({ ...form(4), step: "14" }, "once")).toEqual(["2031-05-03", "2031-05-17", "2031-05-31"]);
  // Over the end of a month and of a leap year's February.
  expect(roundDays({ ...form(4, "2032-02-22") }, "once")).toEqual(["2032-02-22", "2032-02-29", "2032-03-07"]);
  expect(roundDays({ ...form(4), step: "soon" }, "once")).toEqual(["", "", ""]);
});

test("the preview is what is entered: every meeting, day by day, with the byes; at home and away where the rules say so", () => {
  for (const rules of [once, twice]) {
    const preview = previewRounds(form(5), rules.meetings);
    const plan = planOf(form(5), rules, newId);
    if (!plan.ok) throw new Error(plan.fault.type);
    expect(preview.length).toBe(rules === once ? 5 : 10);
    expect(plan.value.drafts.map(({ body: { date, home, away } }) => [date, home, away])).toEqual(
      preview.flatMap(({ day, meetings }) => meetings.map(({ home, away }) => [day, home, away])),
    );
    expect(plan.value.byes).toEqual(preview.map(({ day, bye }) => ({ day, club: bye })));
    expect(new Set(plan.value.drafts.map(({ body }) => body.fixture)).size).toBe(plan.value.drafts.length);
  }
});

test("the order drawn decides who meets whom, and a club that does not play is left out", () => {
  const { clubs: before } = form(4);
  expect(drawn({ clubs: moved(before, 1, -1) })).toEqual(["Birch", "Ash", "Cedar", "Elm"]);
  expect(drawn({ clubs: moved(before, 1, 1) })).toEqual(["Ash", "Cedar", "Birch", "Elm"]);
  expect(moved(before, 0, -1)).toEqual(before);
  const without = { ...form(4), clubs: before.map((one) => ({ ...one, plays: one.club !== "Cedar" })) };
  expect(previewRounds(without, "once").map(({ meetings, bye }) => ({ meetings, bye }))).toEqual(
    roundRobin([key("Ash"), key("Birch"), key("Elm")], "once").map(({ meetings, bye }) => ({ meetings, bye })),
  );
});

test("days can be changed one by one; a round without a day or before the last one is refused, and so are too few clubs", () => {
  const late = { ...form(4), changed: new Map([[1, "2031-05-11"]]) };
  expect(roundDays(late, "once")).toEqual(["2031-05-03", "2031-05-11", "2031-05-17"]);
  expect(planOf(late, once, newId).ok).toBe(true);
  expect(planOf({ ...form(4), first: "" }, once, newId)).toEqual({ ok: false, fault: { type: "days-missing" } });
  const back = { ...form(4), changed: new Map([[2, "2031-05-09"]]) };
  expect(planOf(back, once, newId)).toEqual({ ok: false, fault: { type: "days-backwards" } });
  expect(planOf(form(1), once, newId)).toMatchObject({ ok: false, fault: { type: "fixtures-too-few-clubs" } });
});

test("what became of a fixture is signed with what belongs to it and nothing else", () => {
  const fixture = "f" as FixtureId;
  expect(markFaults(emptyMark)).toEqual({ as: true, by: false, reason: true });
  expect(markFaults({ ...emptyMark, as: "conceded", reason: "too few players" })).toMatchObject({ by: true });
  const full = { as: "conceded", by: key("Ash"), to: "2031-07-01", reason: "  too few players " } as const;
  expect(markFaults(full)).toBe(null);
  expect(markBody(fixture, full)).toEqual({ fixture, as: "conceded", by: "Ash", reason: "too few players" });
  expect(markBody(fixture, { ...full, as: "postponed" })).toEqual({
    fixture,
    as: "postponed",
    to: "2031-07-01",
    reason: "too few players",
  });
  expect(markBody(fixture, { ...full, as: "void" })).toEqual({ fixture, as: "void", reason: "too few players" });
});

test("a club has a bye on a day when every other plays, and on no other", () => {
  const played = [
    { day: "2031-05-03", home: key("Ash"), away: key("Birch") },
    { day: "2031-05-10", home: key("Ash"), away: key("Cedar") },
    { day: "2031-05-10", home: key("Birch"), away: key("Dogwood") },
  ];
  const three = [key("Ash"), key("Birch"), key("Cedar")];
  expect(byeOn("2031-05-03", played, three)).toBe("Cedar");
  expect(byeOn("2031-05-03", played, [...three, key("Dogwood")])).toBe(null);
  expect(byeOn("2031-05-10", played, [...three, key("Dogwood")])).toBe(null);
  expect(byeOn("2031-05-17", played, [key("Ash")])).toBe(null);
});
