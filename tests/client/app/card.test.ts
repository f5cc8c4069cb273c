/** The models behind a member's card: groups, chart, next trigger points, signing, setting a handicap. */
import type { Connection } from "@sward/client";
import type { EntryId } from "@sward/core";
import { findRuleSet } from "@sward/core";
import { expect, test } from "vitest";
import type { LineGroup } from "../../../packages/client/src/app/card/card-groups.ts";
import {
  changesOf,
  firstGroups,
  groupLines,
  lineKey,
  outcomeOf,
} from "../../../packages/client/src/app/card/card-groups.ts";
import { labelled } from "../../../packages/client/src/app/card/chart-labels.ts";
import { keyedChanges, planChart, seasonsOf } from "../../../packages/client/src/app/card/chart-plan.ts";
import { effectOf, faultsOf, isDay, settingDraft } from "../../../packages/client/src/app/card/handicap-setting.ts";
import { nextTriggers } from "../../../packages/client/src/app/card/next-triggers.ts";
import { planWholeCard, signDraft } from "../../../packages/client/src/app/card/signing.ts";
import { custodyOf, custodyOfMatch } from "../../../packages/client/src/app/custody.ts";
import type { CustodyBook, RememberedCustody } from "../../../packages/client/src/app/remembered-custody.ts";
import { rememberCustody } from "../../../packages/client/src/app/remembered-custody.ts";
import { pointsWords, scoreWords, whyWords } from "../../../packages/client/src/app/words/card.ts";
import { Club, clubs, event, played, player } from "../../support/cast.ts";

const england = findRuleSet("england-2016")!;

/** Ada, 7 with 1390: a cup of two days, a lost game, a handicap set for her, and a game that does not count. */
function adasSeason() {
  const { north } = clubs("north");
  north.member("ada", 7, { index: 1390 });
  north.member("ben", 9);
  north.member("cat", 4);
  north.handicapper.opens("cup", "2026-05-02", "2026-05-03", { occasion: "calendar-event" });
  const cup = { event: event("cup"), occasion: "calendar-event" } as const;
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4", { ...cup, start: "10:00" }));
  north.recorder.reports(played("2026-05-03", "cat 4", "ada 7", "5-7", cup));
  north.recorder.reports(played("2026-05-20", "ada 6", "ben 9", "6-7"));
  north.handicapper.sets("ada", 5, "2026-06-01");
  north.recorder.reports(played("2026-06-10", "ada 5 + ben 9", "cat 4 + dan 8", "7-1", { occasion: "club-friendly" }));
  return { north, card: () => north.card(player("ada")) };
}

test("lines are grouped by event or day, in either order, and keep their place on the card", () => {
  const { north, card } = adasSeason();
  const { events } = north.state();
  const oldest = groupLines(card().lines, events, "oldest-first");
  expect(oldest.map(({ event: inside, lines }) => [inside?.title ?? null, lines.map(({ place }) => place)])).toEqual([
    [null, [0]],
    ["cup", [1, 2]],
    [null, [3]],
    [null, [4]],
    [null, [5]],
  ]);
  const newest = groupLines(card().lines, events, "newest-first");
  expect(newest.map(({ lines }) => lines.map(({ place }) => place))).toEqual([[5], [4], [3], [2, 1], [0]]);
  expect(card().lines.flatMap((line) => (line.line === "game" ? [outcomeOf(line)] : []))).toEqual([
    "won",
    "won",
    "lost",
    "won",
  ]);
});

test("a game told late leaves every other line its key: they are not drawn anew for having moved", () => {
  const { north, card } = adasSeason();
  const before = card().lines.map(lineKey);
  expect(new Set(before).size).toBe(before.length);
  north.recorder.reports(played("2026-05-10", "ada 6", "ben 9", "7-3"));
  const after = card().lines.map(lineKey);
  expect(after).toHaveLength(before.length + 1);
  expect(after.filter((key) => before.includes(key))).toEqual(before);
  expect(before).not.toContain(after[3]);
});

test("a line says its points with their sign, its score own first, and why", () => {
  const { card } = adasSeason();
  const said = card().lines.map((line) =>
    line.line === "game" ? [scoreWords(line), pointsWords(line), whyWords(line)] : whyWords(line),
  );
  expect(said).toEqual([
    "starting handicap: first handicap",
    ["7–4", "+10", "handicap singles"],
    ["7–5", "+10", "handicap singles"],
    ["6–7", "−10", "handicap singles"],
    "set by the handicapper: watched in play",
    ["7–1", "0", "games of this kind do not count"],
  ]);
});

test("changes of handicap, the starting one first", () => {
  const { card } = adasSeason();
  expect(changesOf(card().lines).map(({ from, to, index, after }) => [from, to, index, after])).toEqual([
    [null, 7, 1390, null],
    [7, 6, 1410, "2026-05-03"],
    [6, 5, 1500, null],
  ]);
});

test("next trigger points from 6 with 1410: 90 points to 5 at 1500, 60 above 7 at 1350", () => {
  expect(nextTriggers(england, 6, 1410)).toEqual({
    lower: { handicap: 5, trigger: 1500, away: 90 },
    higher: { handicap: 7, trigger: 1350, away: 60 },
  });
  expect(nextTriggers(england, 20, 880).higher).toBeNull();
  expect(nextTriggers(england, -6, 3000).lower).toBeNull();
  expect(nextTriggers(england, 12, 1130).higher).toEqual({ handicap: 14, trigger: 1050, away: 80 });
  expect(nextTriggers(england, 7, 1402).lower?.away).toBe(0);
});

test("the chart: one point a day, what was set by itself, trigger points in reach with the next ones marked", () => {
  const { card } = adasSeason();
  const plan = planChart(card().lines, england, 5)!;
  expect(plan.points.map(({ date, index, became, set }) => [date, index, became, set])).toEqual([
    ["2026-01-01", 1390, 7, true],
    ["2026-05-02", 1400, null, false],
    ["2026-05-03", 1410, 6, false],
    ["2026-05-20", 1400, null, false],
    ["2026-06-01", 1500, 5, true],
    ["2026-06-10", 1500, null, false],
  ]);
  expect(plan.points[1]?.x).toBe(121);
  expect(plan.triggers.map(({ handicap, next }) => [handicap, next])).toEqual([
    [4, true],
    [5, false],
    [6, true],
  ]);
  expect(plan.low).toBe(1375);
  expect(plan.high).toBe(1615);
  expect(plan.ticks[0]).toEqual({ date: "2026-02-01", x: 31 });
  expect(plan.ticks.every(({ x }) => x <= plan.days)).toBe(true);
  expect(seasonsOf(plan)).toBe("2026");
  expect(planChart([], england, 5)).toBeNull();
});

test("several games of a day are one point of the chart with the index the day ended on", () => {
  const { north } = clubs("north");
  north.member("ada", 7, { index: 1395, from: "2026-05-01" });
  north.member("ben", 9);
  north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4 7-5 3-7"));
  const plan = planChart(north.card(player("ada")).lines, england, 7)!;
  expect(plan.points.map(({ index, became, set }) => [index, became, set])).toEqual([
    [1395, 7, true],
    [1405, 6, false],
  ]);
});

test("a mark of a change is the same mark when a game told late puts a day before it, and two of one day are two", () => {
  const at = (date: string, became: number | null, set = false) => ({ point: { date, x: 0, index: 0, became, set } });
  const keys = (...all: ReturnType<typeof at>[]) => keyedChanges(all).map(({ key }) => key);
  const before = [at("2026-01-01", 7, true), at("2026-05-02", 6), at("2026-06-01", 5, true), at("2026-06-01", 6)];
  expect(keys(...before)).toEqual(["2026-01-01 0", "2026-05-02 0", "2026-06-01 0", "2026-06-01 1"]);
  const [first, ...others] = before;
  expect(keys(first!, at("2026-03-01", null), ...others)).toEqual(keys(...before));
});

test("a change in the middle of a day, where changes take effect at once, is marked on that day's point", () => {
  const south = new Club("south", "new-south-wales-2022");
  south.member("ada", 7, { index: 1395, from: "2026-05-01" });
  south.member("ben", 9);
  south.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4 7-5 3-7"));
  const plan = planChart(south.card(player("ada")).lines, england, 6)!;
  expect(plan.points.map(({ index, became }) => [index, became])).toEqual([
    [1395, 7],
    [1405, 6],
  ]);
});

test("labels of trigger points never stand on one another, and the next ones are kept", () => {
  const row = (handicap: number, trigger: number, next = false) => ({ handicap, trigger, next });
  const rows = [row(5, 1500), row(6, 1400, true), row(7, 1350), row(8, 1300, true), row(9, 1250)];
  const kept = labelled(rows, (index) => (1500 - index) / 5);
  expect(kept.map(({ handicap }) => handicap).sort()).toEqual([5, 6, 8]);
});

test("signing the whole card covers it to its last day, and not more lines than there are", () => {
  const { north, card } = adasSeason();
  const plan = planWholeCard(card(), "2026-06-30")!;
  expect(plan).toEqual({ upto: "2026-06-10", fresh: 6, handicap: 5, index: 1500, stillOpen: false });
  expect(planWholeCard(card(), "2026-06-10")?.stillOpen).toBe(true);
  expect(planWholeCard(card(), "2026-06-11")?.stillOpen).toBe(false);
  expect(planWholeCard(card(), "2026-05-02")).toMatchObject({ upto: "2026-05-02", fresh: 2, stillOpen: true });
  expect(signDraft(card(), plan)).toMatchObject({
    kind: "card-signed",
    body: { player: player("ada"), upto: "2026-06-10", lines: 6, handicap: 5, index: 1500 },
  });
  north.handicapper.signs("ada", "2026-06-10");
  expect(planWholeCard(card(), "2026-06-30")?.fresh).toBe(0);
});

test("setting a handicap: the index it goes to, the lines worked out again, and what is missing", () => {
  const { card } = adasSeason();
  const form = { handicap: 3, from: "2026-05-10", reason: " watched in play " };
  expect(effectOf(card(), england, form)).toEqual({ index: 1700, later: 3, same: false });
  expect(effectOf(card(), england, { ...form, handicap: 6 }).same).toBe(true);
  expect(effectOf(card(), england, { ...form, handicap: 13 }).index).toBeNull();
  expect(faultsOf(form)).toBeNull();
  expect(faultsOf({ ...form, reason: "  " })?.reason).toContain("Write the reason");
  expect(faultsOf({ ...form, from: "" })?.from).toContain("Choose the day");
  expect(["2026-02-28", "2026-13-01", "28 Feb", ""].map(isDay)).toEqual([true, false, false, false]);
  expect(settingDraft(card(), form).body).toEqual({
    player: player("ada"),
    handicap: 3,
    from: "2026-05-10",
    basis: "discretionary",
    reason: "watched in play",
  });
});

test("a match is at the relay only when all its reports are", () => {
  const book = (held: Record<string, "here" | "relay">) => ({ custody: (id: string) => held[id] ?? null });
  const books = [book({ a: "relay" }), book({ b: "here", c: "relay" })];
  const match = (...entries: string[]) => ({ reports: entries.map((entry) => ({ entry })) }) as never;
  expect(custodyOf(books, "c" as never)).toBe("relay");
  expect(custodyOf(books, "gone" as never)).toBeNull();
  expect(custodyOfMatch(books, match("a", "b"))).toBe("here");
  expect(custodyOfMatch(books, match("a", "gone"))).toBe("relay");
  expect(custodyOfMatch(books, match("gone"))).toBeNull();
  expect(custodyOfMatch(books, undefined)).toBeNull();
});

test("opened without a signal, a book still knows what the relay had; what was saved since is said to be here only", () => {
  const kept = new Map<string, string>();
  const store = {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => void kept.set(key, value),
    removeItem: (key: string) => void kept.delete(key),
  };
  const stored = new Set<string>(["a", "b"]);
  let ids = ["a", "b", "c"];
  let looks = 0;
  let connection: Connection = { type: "live", synced: true };
  const book = {
    id: "book",
    device: "device",
    connection: () => connection,
    entries() {
      looks += 1;
      return ids.map((id) => ({ id }));
    },
    held: () => ids.length,
    custody: (id: string) => (ids.includes(id) ? (stored.has(id) ? "relay" : "here") : null),
    waiting: () => ids.filter((id) => !stored.has(id)).length,
    unstored: () => new Set(ids.filter((id) => !stored.has(id))),
  } as unknown as CustodyBook;
  const ask = (custody: RememberedCustody) => ["a", "b", "c", "d", "x"].map((id) => custody.custody(id as EntryId));

  rememberCustody(book, store).note();
  expect(looks).toBe(0);
  // A start without a signal: the book itself knows nothing of the relay.
  stored.clear();
  connection = { type: "connecting", attempt: 1, next: null, fault: { type: "unreachable" } };
  const offline = rememberCustody(book, store);
  expect(offline.waiting()).toBe(1);
  expect(ask(offline)).toEqual(["relay", "relay", "here", null, null]);
  expect(looks).toBe(0);
  ids = ["a", "b", "c", "d"];
  offline.note();
  expect(ask(offline)).toEqual(["relay", "relay", "here", "here", null]);
  // Once when something has come, and not with every note or question.
  offline.note();
  expect(looks).toBe(1);
  expect(offline.waiting()).toBe(2);
  const restarted = rememberCustody(book, store);
  expect(restarted.waiting()).toBe(2);
  // What was saved without a signal is not taken for stored at the next start without one.
  expect(ask(restarted)).toEqual(["relay", "relay", "here", "here", null]);
  // Gone before it could be noted: nobody knows which entry is new, so nothing is called stored.
  ids = ["a", "b", "c", "d", "e"];
  const outrun = rememberCustody(book, store);
  outrun.note();
  expect(ask(outrun)).toEqual(["here", "here", "here", "here", null]);
  expect(outrun.waiting()).toBe(3);
  ids = ["a", "b", "c", "d"];
  // Met again, the relay's own word holds, also when it has lost everything.
  connection = { type: "live", synced: true };
  expect(offline.waiting()).toBe(4);
  expect(ask(offline)).toEqual(["here", "here", "here", "here", null]);
  kept.set([...kept.keys()][0]!, "{broken");
  connection = { type: "offline" };
  expect(rememberCustody(book, store).waiting()).toBe(4);
});

test("of a long card so many lines are drawn at once, no group is cut, and a line that is asked for is there", () => {
  const { card } = adasSeason();
  const group = (key: string, ...places: number[]): LineGroup => ({
    key,
    event: null,
    date: "2026-05-02",
    lines: places.map((place) => ({ place, line: card().lines[0]! })),
  });
  const groups = [group("c", 5), group("b", 4, 3, 2), group("a", 1, 0)];
  const shown = (most: number, show: number | null = null) => {
    const first = firstGroups(groups, most, show);
    return [first.groups.map(({ key }) => key).join(""), first.rest];
  };
  expect([shown(1), shown(2), shown(4), shown(5)]).toEqual([
    ["c", 5],
    ["cb", 2],
    ["cb", 2],
    ["cba", 0],
  ]);
  expect([shown(1, 3), shown(1, 5), shown(1, 99), shown(Number.POSITIVE_INFINITY)]).toEqual([
    ["cb", 2],
    ["c", 5],
    ["c", 5],
    ["cba", 0],
  ]);
});
