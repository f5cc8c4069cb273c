/**
 * Against the printed Berger tables of the FIDE Handbook, C.05 Annex 1. Rows typed in from two public copies that agree:
 * "Berger Tables", http://c.w.fox.tripod.com/chess/berger.html (which also has the advice on the last two rounds), and
 * "Crenshaw-Berger Tables for pairing Round Robin Tournaments", https://www.scribd.com/document/381712253/Berger-Tables
 */
import { bergerRounds, roundRobin } from "@sward/core";
import { expect, test } from "vitest";

const printed: Readonly<Record<number, readonly string[]>> = {
  4: ["1-4, 2-3", "4-3, 1-2", "2-4, 3-1"],
  6: ["1-6, 2-5, 3-4", "6-4, 5-3, 1-2", "2-6, 3-1, 4-5", "6-5, 1-4, 2-3", "3-6, 4-2, 5-1"],
  8: [
    "1-8, 2-7, 3-6, 4-5",
    "8-5, 6-4, 7-3, 1-2",
    "2-8, 3-1, 4-7, 5-6",
    "8-6, 7-5, 1-4, 2-3",
    "3-8, 4-2, 5-1, 6-7",
    "8-7, 1-6, 2-5, 3-4",
    "4-8, 5-3, 6-2, 7-1",
  ],
  10: [
    "1-10, 2-9, 3-8, 4-7, 5-6",
    "10-6, 7-5, 8-4, 9-3, 1-2",
    "2-10, 3-1, 4-9, 5-8, 6-7",
    "10-7, 8-6, 9-5, 1-4, 2-3",
    "3-10, 4-2, 5-1, 6-9, 7-8",
    "10-8, 9-7, 1-6, 2-5, 3-4",
    "4-10, 5-3, 6-2, 7-1, 8-9",
    "10-9, 1-8, 2-7, 3-6, 4-5",
    "5-10, 6-4, 7-3, 8-2, 9-1",
  ],
  12: [
    "1-12, 2-11, 3-10, 4-9, 5-8, 6-7",
    "12-7, 8-6, 9-5, 10-4, 11-3, 1-2",
    "2-12, 3-1, 4-11, 5-10, 6-9, 7-8",
    "12-8, 9-7, 10-6, 11-5, 1-4, 2-3",
    "3-12, 4-2, 5-1, 6-11, 7-10, 8-9",
    "12-9, 10-8, 11-7, 1-6, 2-5, 3-4",
    "4-12, 5-3, 6-2, 7-1, 8-11, 9-10",
    "12-10, 11-9, 1-8, 2-7, 3-6, 4-5",
    "5-12, 6-4, 7-3, 8-2, 9-1, 10-11",
    "12-11, 1-10, 2-9, 3-8, 4-7, 5-6",
    "6-12, 7-5, 8-4, 9-3, 10-2, 11-1",
  ],
  14: [
    "1-14, 2-13, 3-12, 4-11, 5-10, 6-9, 7-8",
    "14-8, 9-7, 10-6, 11-5, 12-4, 13-3, 1-2",
    "2-14, 3-1, 4-13, 5-12, 6-11, 7-10, 8-9",
    "14-9, 10-8, 11-7, 12-6, 13-5, 1-4, 2-3",
    "3-14, 4-2, 5-1, 6-13, 7-12, 8-11, 9-10",
    "14-10, 11-9, 12-8, 13-7, 1-6, 2-5, 3-4",
    "4-14, 5-3, 6-2, 7-1, 8-13, 9-12, 10-11",
    "14-11, 12-10, 13-9, 1-8, 2-7, 3-6, 4-5",
    "5-14, 6-4, 7-3, 8-2, 9-1, 10-13, 11-12",
    "14-12, 13-11, 1-10, 2-9, 3-8, 4-7, 5-6",
    "6-14, 7-5, 8-4, 9-3, 10-2, 11-1, 12-13",
    "14-13, 1-12, 2-11, 3-10, 4-9, 5-8, 6-7",
    "7-14, 8-6, 9-5, 10-4, 11-3, 12-2, 13-1",
  ],
};

test.each(Object.entries(printed))("LG5 the table for %s is the printed one, row by row", (count, rows) => {
  const rounds = bergerRounds(Number(count)).map((pairs) => pairs.map((pair) => pair.join("-")).join(", "));
  expect(rounds).toEqual(rows);
});

test("LG5 there is no table for an odd number, or for none", () => {
  for (const count of [0, 1, 3, -2]) expect(() => bergerRounds(count)).toThrow("even");
});

test("LG5 with five clubs the sixth number is nobody: one bye a round, each club one", () => {
  const rounds = roundRobin(["ash", "birch", "cedar", "damson", "elm"], "once");
  expect(rounds[0]).toEqual({
    round: 1,
    meetings: [
      { home: "birch", away: "elm" },
      { home: "cedar", away: "damson" },
    ],
    bye: "ash",
  });
  expect(rounds.map(({ bye }) => bye).sort()).toEqual(["ash", "birch", "cedar", "damson", "elm"]);
});

const everySize = Array.from({ length: 15 }, (_, at) => at + 2);

test.each(everySize)("LG5 %i clubs: each meets each other once, and nobody twice in a round", (size) => {
  const clubs = Array.from({ length: size }, (_, at) => `club ${at + 1}`);
  const rounds = roundRobin(clubs, "once");
  const met = rounds.flatMap(({ meetings }) => meetings.map(({ home, away }) => [home, away].sort().join(" v ")));
  expect(new Set(met).size).toBe((size * (size - 1)) / 2);
  expect(met.length).toBe(new Set(met).size);
  for (const { meetings, bye } of rounds) {
    const busy = [...meetings.flatMap(({ home, away }) => [home, away]), ...(bye === null ? [] : [bye])];
    expect(busy.sort()).toEqual([...clubs].sort());
  }
  // An even field is at home as often as away, but for one.
  for (const club of clubs) {
    const home = rounds.flatMap(({ meetings }) => meetings).filter((one) => one.home === club).length;
    expect(Math.abs(2 * home - (size - 1))).toBeLessThanOrEqual(1);
  }
});

test.each(everySize)("LG6 %i clubs home and away: once at home and once away, never three times running", (size) => {
  const clubs = Array.from({ length: size }, (_, at) => `club ${at + 1}`);
  const rounds = roundRobin(clubs, "home-and-away");
  const met = rounds.flatMap(({ meetings }) => meetings.map(({ home, away }) => `${home} v ${away}`));
  expect(new Set(met).size).toBe(size * (size - 1));
  expect(met.length).toBe(new Set(met).size);
  expect(rounds.map(({ round }) => round)).toEqual(rounds.map((_, at) => at + 1));
  if (size % 2 === 1) return;
  for (const club of clubs) {
    const places = rounds.map(({ meetings }) => (meetings.some(({ home }) => home === club) ? "H" : "A")).join("");
    expect(places, club).not.toMatch(/HHH|AAA/);
  }
});

test("LG6 the last two rounds of the first half change places", () => {
  const rounds = roundRobin([1, 2, 3, 4], "home-and-away");
  expect(rounds.map(({ meetings }) => meetings.map(({ home, away }) => `${home}-${away}`).join(", "))).toEqual([
    "1-4, 2-3",
    "2-4, 3-1",
    "4-3, 1-2",
    "4-1, 3-2",
    "3-4, 2-1",
    "4-2, 1-3",
  ]);
});

test("LG5 LG6 one club, or none, meets nobody", () => {
  expect(roundRobin([], "once")).toEqual([]);
  expect(roundRobin(["alone"], "home-and-away")).toEqual([]);
});
