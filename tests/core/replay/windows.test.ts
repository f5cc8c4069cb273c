/** When a change of handicap takes effect: rules of the kind read in sources, and the cases no source spells out. */
import type { CardLine, Effective, RuleSet } from "@sward/core";
import { findRuleSet, handicapInForce } from "@sward/core";
import { expect, test } from "vitest";
import { Club, event, played } from "../../support/cast.ts";
import { stateOf } from "../../support/state-text.ts";

const england2016 = findRuleSet("england-2016")!;

const rulesOf = (unit: Effective["unit"]): RuleSet => ({
  ...england2016,
  id: `by-${unit}`,
  effective: { ...england2016.effective, unit },
});
const sets = (["game", "match", "day"] as const).map(rulesOf);
const findRules = (id: string) => sets.find((set) => set.id === id) ?? findRuleSet(id);

const clubBy = (rules: string): Club => new Club("north", rules, { findRules });

const says = (lines: readonly CardLine[]): string[] => lines.map((line) => `${line.index}/${line.handicap}`);

/** A 7 ten points below six. */
function nearly(rules: string) {
  const club = clubBy(rules);
  const ada = club.member("ada", 7, { index: 1390 });
  const plays = (date: string, scores: string, more: Parameters<typeof played>[4] = {}) =>
    club.recorder.reports(played(date, "ada 7", "ben 9", scores, more));
  const card = () => {
    stateOf(club);
    return club.card(ada);
  };
  return { club, ada, plays, card };
}

test("RP10 by game: a change takes effect with the game that brought it", () => {
  const { plays, card } = nearly("by-game");
  plays("2026-05-01", "7-4 4-7 4-7");
  expect(says(card().lines)).toEqual(["1390/7", "1400/6", "1390/6", "1380/6"]);
});

test("RP11 by match: within a match the handicap stays, and after its last game it changes at once", () => {
  const { plays, card } = nearly("by-match");
  plays("2026-05-01", "7-4 7-4 4-7", { start: "10:00" });
  plays("2026-05-01", "4-7", { start: "14:00", n: 2 });
  expect(says(card().lines)).toEqual(["1390/7", "1400/7", "1410/7", "1400/6", "1390/6"]);
  expect(card().lines[3]?.moved).toEqual({ from: 7, to: 6, trigger: 1400, after: null });
  expect(handicapInForce(card(), "2026-05-01")).toEqual({ handicap: 6, waiting: null });
});

test("RP11 by match: through a trigger and back within it is no change", () => {
  const { plays, card } = nearly("by-match");
  plays("2026-05-01", "7-4 4-7 4-7");
  expect(says(card().lines)).toEqual(["1390/7", "1400/7", "1390/7", "1380/7"]);
});

test("RP12 RP17 by day: after the day's last game, and it names the day it waits for", () => {
  const { plays, card } = nearly("by-day");
  plays("2026-05-01", "7-4", { start: "10:00" });
  plays("2026-05-01", "7-4", { start: "14:00", n: 2 });
  expect(says(card().lines)).toEqual(["1390/7", "1400/7", "1410/6"]);
  expect(card().lines[2]?.moved).toEqual({ from: 7, to: 6, trigger: 1400, after: "2026-05-01" });
  expect(handicapInForce(card(), "2026-05-01")).toEqual({ handicap: 7, waiting: { to: 6, after: "2026-05-01" } });
  expect(handicapInForce(card(), "2026-05-02")).toEqual({ handicap: 6, waiting: null });
});

test("RP12 a game that moves nothing may be the day's last: the change is on its line", () => {
  const { plays, card } = nearly("england-2016");
  plays("2026-05-01", "7-4", { start: "10:00" });
  plays("2026-05-01", "7-4", { start: "14:00", n: 2, occasion: "ad-hoc" });
  expect(says(card().lines)).toEqual(["1390/7", "1400/7", "1400/6"]);
});

test("RP13 RP17 by event: a short event is one window up to its last day, played in or not", () => {
  const { club, plays, card } = nearly("england-2016");
  club.handicapper.opens("cup", "2026-05-01", "2026-05-04");
  plays("2026-05-01", "7-4", { event: event("cup") });
  plays("2026-05-02", "7-4", { event: event("cup") });
  expect(says(card().lines)).toEqual(["1390/7", "1400/7", "1410/6"]);
  expect(card().lines[2]?.moved?.from).toBe(7);
  expect(handicapInForce(card(), "2026-05-01")).toEqual({ handicap: 7, waiting: null });
  for (const day of ["2026-05-02", "2026-05-03", "2026-05-04"]) {
    expect(handicapInForce(card(), day)).toEqual({ handicap: 7, waiting: { to: 6, after: "2026-05-04" } });
  }
  expect(handicapInForce(card(), "2026-05-05")).toEqual({ handicap: 6, waiting: null });
});

test("RP13 what else is played in those days belongs to the window, once the player is in the event", () => {
  const { club, plays, card } = nearly("england-2016");
  club.handicapper.opens("cup", "2026-05-01", "2026-05-04");
  // Not yet in the cup: a day by itself.
  plays("2026-05-01", "7-4", { occasion: "league" });
  plays("2026-05-02", "4-7 4-7 4-7 4-7", { event: event("cup") });
  plays("2026-05-03", "4-7", { occasion: "league" });
  expect(says(card().lines)).toEqual(["1390/7", "1400/6", "1390/6", "1380/6", "1370/6", "1360/6", "1350/7"]);
});

test("RP13 a longer event is windows of one day", () => {
  const { club, plays, card } = nearly("england-2016");
  club.handicapper.opens("blocks", "2026-05-01", "2026-05-05");
  plays("2026-05-01", "7-4", { event: event("blocks") });
  plays("2026-05-02", "4-7", { event: event("blocks") });
  expect(says(card().lines)).toEqual(["1390/7", "1400/6", "1390/6"]);
});

test("RP13 a calendar event is one window however long", () => {
  const { club, plays, card } = nearly("england-2016");
  club.handicapper.opens("championship", "2026-05-01", "2026-05-10", { occasion: "calendar-event" });
  plays("2026-05-01", "7-4", { event: event("championship"), occasion: "calendar-event" });
  plays("2026-05-09", "4-7", { event: event("championship"), occasion: "calendar-event" });
  expect(says(card().lines)).toEqual(["1390/7", "1400/7", "1390/7"]);
});

test("RP13 a game outside its event's days, or of an event nobody opened, counts by its day", () => {
  for (const [from, to] of [
    ["2026-05-02", "2026-05-04"],
    ["2026-04-28", "2026-04-30"],
    ["2026-05-02", "2026-04-30"],
  ] as const) {
    const { club, plays, card } = nearly("england-2016");
    club.handicapper.opens("cup", from, to);
    plays("2026-05-01", "7-4", { event: event("cup") });
    expect(card().lines[1]?.moved).toMatchObject({ to: 6, after: "2026-05-01" });
  }
  const { plays, card } = nearly("england-2016");
  plays("2026-05-01", "7-4", { event: event("nobody's") });
  expect(card().lines[1]?.moved).toMatchObject({ to: 6, after: "2026-05-01" });
});

test("RP14 windows that overlap are one, up to the later end", () => {
  const { club, plays, card } = nearly("england-2016");
  club.handicapper.opens("cup", "2026-05-01", "2026-05-03");
  club.handicapper.opens("plate", "2026-05-03", "2026-05-06");
  plays("2026-05-01", "7-4", { event: event("cup") });
  plays("2026-05-03", "7-4", { event: event("plate") });
  plays("2026-05-06", "7-4", { event: event("plate") });
  plays("2026-05-07", "7-4");
  expect(says(card().lines)).toEqual(["1390/7", "1400/7", "1410/7", "1420/6", "1430/6"]);
  expect(card().lines[3]?.moved).toMatchObject({ after: "2026-05-06" });
});

test("RP14 a window inside another does not shorten it", () => {
  const { club, plays, card } = nearly("england-2016");
  club.handicapper.opens("long", "2026-05-01", "2026-05-10", { occasion: "calendar-event" });
  club.handicapper.opens("short", "2026-05-03", "2026-05-04");
  plays("2026-05-01", "7-4", { event: event("long") });
  plays("2026-05-03", "7-4", { event: event("short") });
  plays("2026-05-06", "4-7");
  expect(card().lines.map(({ moved }) => (moved !== null && "after" in moved ? moved.after : null))).toEqual([
    null,
    null,
    null,
    "2026-05-10",
  ]);
});

test("RP14 a change of rules inside a window waits for its end", () => {
  const { club, plays, card } = nearly("england-2016");
  club.root.adopts("by-game", "2026-05-02");
  club.handicapper.opens("cup", "2026-05-01", "2026-05-03");
  plays("2026-05-01", "7-4", { event: event("cup") });
  plays("2026-05-02", "7-4", { event: event("cup") });
  plays("2026-05-04", "4-7");
  expect(says(card().lines)).toEqual(["1390/7", "1400/7", "1410/6", "1400/6"]);
});

test("RP16 a setting inside a window ends it untested; the next game opens another", () => {
  const { club, plays, card } = nearly("england-2016");
  club.handicapper.opens("cup", "2026-05-01", "2026-05-03");
  plays("2026-05-01", "7-4", { event: event("cup") });
  club.handicapper.sets("ada", 8, "2026-05-02");
  expect(says(card().lines)).toEqual(["1390/7", "1400/7", "1300/8"]);
  plays("2026-05-03", "7-4 7-4 7-4 7-4 7-4", { event: event("cup") });
  expect(card().lines.at(-1)).toMatchObject({ index: 1350, handicap: 7, moved: { after: "2026-05-03" } });
});

test("RP16 after a setting a day is a day again, though the event of an earlier game goes on", () => {
  const { club, plays, card } = nearly("england-2016");
  club.handicapper.opens("cup", "2026-05-01", "2026-05-04");
  plays("2026-05-01", "4-7", { event: event("cup") });
  club.handicapper.sets("ada", 7, "2026-05-02", { basis: "transfer", index: 1390 });
  plays("2026-05-02", "7-4");
  plays("2026-05-03", "4-7");
  expect(says(card().lines)).toEqual(["1390/7", "1380/7", "1390/7", "1400/6", "1390/6"]);
});

test("RP16 a setting after a window does not undo what it brought", () => {
  for (const rules of ["england-2016", "by-match", "by-day", "by-game"]) {
    const { club, plays, card } = nearly(rules);
    plays("2026-05-01", "7-4");
    club.handicapper.sets("ada", 5, "2026-05-02");
    expect(says(card().lines)).toEqual(["1390/7", "1400/6", "1500/5"]);
    expect(card().lines[2]?.moved).toEqual({ from: 6, to: 5 });
  }
});

test("RP9 several triggers passed in one window: the handicap goes to the furthest, up or down", () => {
  for (const [start, index, scores, end] of [
    [9, 1290, "7-4 ".repeat(7), "1360/7"],
    [7, 1390, "4-7 ".repeat(9), "1300/8"],
    [9, 1290, "4-7 ".repeat(9), "1200/10"],
    [16, 1000, "7-4 ".repeat(9), "1090/14"],
  ] as const) {
    const club = clubBy("england-2016");
    const ada = club.member("ada", start, { index });
    for (const [place, score] of scores.trim().split(" ").entries()) {
      club.recorder.reports(played("2026-05-01", `ada ${start}`, "ben 9", score, { n: place + 1 }));
    }
    expect(says(club.card(ada).lines).at(-1)).toBe(end);
  }
});

test("RP17 before the first line the handicap in force is the first", () => {
  const { card } = nearly("england-2016");
  expect(handicapInForce(card(), "2000-01-01")).toEqual({ handicap: 7, waiting: null });
});
