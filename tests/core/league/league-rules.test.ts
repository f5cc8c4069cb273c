import { findLeagueRules, fixtureSlots, parseLeagueRules, writtenLeagueRules } from "@sward/core";
import { expect, test } from "vitest";

const written = writtenLeagueRules();
const base = structuredClone(findLeagueRules("everyone-meets")!);
type Loose = { -readonly [K in keyof typeof base]: unknown };
const changed = (change: (rules: Loose) => void) => {
  const rules: Loose = structuredClone(base);
  change(rules);
  return parseLeagueRules(rules);
};

test("LG1 rules go through JSON and are taken whole", () => {
  for (const rules of written)
    expect(parseLeagueRules(JSON.parse(JSON.stringify(rules)))).toEqual({ ok: true, value: rules });
});

test.each([
  ["nothing", null, ""],
  ["an unknown member", { ...base, umpires: 2 }, ""],
  ["a missing member", { ...base, points: undefined }, "points"],
  ["a length nobody plays", { ...base, slots: [{ ...base.slots[0], format: 12 }] }, "slots.0.format"],
  ["a fraction of a point", { ...base, points: { ...base.points, draw: 0.5 } }, "points.draw"],
  ["a day there is not", { ...base, deadline: "13-01" }, "deadline"],
  ["no slots", { ...base, slots: [] }, "slots"],
  ["a tie-break nobody knows", { ...base, tieBreaks: ["by-lot"] }, "tieBreaks.0"],
] as const)("LG1 %s is refused with the place", (_, json, at) => {
  const result = parseLeagueRules(json);
  expect(result).toMatchObject({ ok: false, fault: { type: "league-rules-form", at } });
});

const slot = base.slots[0]!;

test("LG2 rules that contradict themselves are refused", () => {
  const faultOf = (change: (rules: Loose) => void) => {
    const result = changed(change);
    return result.ok ? null : result.fault;
  };
  expect(faultOf((rules) => (rules.slots = [slot, { ...slot, home: [1, 2] }]))).toEqual({
    type: "league-rules-seats",
    slot: 2,
  });
  expect(faultOf((rules) => (rules.slots = [{ ...slot, home: [1, 1], away: [1, 2] }]))).toEqual({
    type: "league-rules-seats",
    slot: 1,
  });
  expect(faultOf((rules) => (rules.slots = [{ ...slot, away: [5] }]))).toEqual({
    type: "league-rules-no-such-seat",
    slot: 1,
    seat: 5,
    players: 4,
  });
  expect(faultOf((rules) => (rules.handicaps = { least: 8, most: 7, totalAtLeast: null }))).toEqual({
    type: "league-rules-limits",
    least: 8,
    most: 7,
  });
  expect(faultOf((rules) => (rules.score = ["games", "games"]))).toEqual({ type: "league-rules-twice", of: "games" });
  expect(faultOf((rules) => (rules.tieBreaks = ["games-won", "hoops-won", "games-won"]))).toEqual({
    type: "league-rules-twice",
    of: "games-won",
  });
  expect(faultOf(() => undefined)).toBeNull();
});

test("LG3 a fixture has each slot's discipline, play and length", () => {
  const slots = fixtureSlots(findLeagueRules("even-games")!);
  expect(slots[0]).toEqual({ discipline: "doubles", play: "level", format: 13 });
  expect(slots[2]).toEqual({ discipline: "singles", play: "level", format: 13 });
  expect(slots.length).toBe(6);
});

/**
 * Numbers of games as the regulations give them: "16 single games and 2 doubles", GC Handicap League 2013 (East Anglian Croquet
 * Federation, https://www.angliacroquet.uk/2013/gc_east_league.php); three singles each by a fixed pattern and all six pairings, CN Golf
 * Croquet League 2017 Rules (Croquet North, http://www.croquetnorth.org.uk/argclrules.php); four singles and two doubles, Golf croquet
 * team league rules (Tunbridge Wells, https://tunbridgewellscroquet.org.uk/golf-croquet-team-league-fraser-tankard-rules/).
 */
test("LG4 the files have the singles and doubles that the regulations give", () => {
  const counted = (id: string) => {
    const slots = fixtureSlots(findLeagueRules(id)!);
    return [
      slots.filter((one) => one.discipline === "singles").length,
      slots.filter((one) => one.discipline === "doubles").length,
    ];
  };
  expect(counted("everyone-meets")).toEqual([16, 2]);
  expect(counted("three-each")).toEqual([12, 6]);
  expect(counted("even-games")).toEqual([4, 2]);
  const { slots } = findLeagueRules("three-each")!;
  const opponents = (seat: number) =>
    slots.filter(({ home }) => home.length === 1 && home[0] === seat).map(({ away }) => away[0]);
  expect([1, 2, 3, 4].map(opponents)).toEqual([
    [1, 2, 3],
    [1, 2, 4],
    [1, 3, 4],
    [2, 3, 4],
  ]);
});

test("LG4 every file has its sources and gaps, and no two are alike", () => {
  for (const { sources, gaps, id } of written) {
    expect(sources.length, id).toBeGreaterThan(0);
    for (const { url } of sources) expect(url).toMatch(/^https?:\/\//);
    expect(gaps.length, id).toBeGreaterThan(0);
  }
  for (const part of ["slots", "tieBreaks"] as const) {
    expect(new Set(written.map((rules) => JSON.stringify(rules[part]))).size, part).toBe(written.length);
  }
  expect(
    new Set(written.map(({ points, forfeit, unfinished }) => JSON.stringify([points, forfeit, unfinished]))).size,
  ).toBe(4);
});
