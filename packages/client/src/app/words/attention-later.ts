/** What people read on the first screen about what is no change of handicap: fetched right after the first view. */
import type { Day, FactName } from "@sward/core";
import { showDay } from "../dates.ts";
import { count, words } from "../words.ts";

export const laterWords = {
  disputeWhen: (day: Day, where: string) => `${showDay(day)}, ${where}. Two reports disagree.`,
  differsIn: (facts: string) => `They differ in ${facts}.`,
  reportBy: (who: string) => `Told by ${who}`,
  differsMark: "differs",
  correct: "Correct our report",
  correctThis: "Correct this report",
  rule: "Decide which counts",
  mayNotCorrect: "Neither report was written by a device whose reports this one may correct.",
  mayNotRule: "Deciding between them is for a handicapper of the club.",
  mayNotRuleLeague: "Deciding between the two clubs is for the league. Correcting our own report settles it too.",
  noHandicap: (name: string) => `${name} has no handicap`,
  giveHandicap: "Give a starting handicap",

  oneReport: (clubs: readonly string[], day: Day) =>
    clubs.length === 0 ? showDay(day) : `${clubs.join(` ${words.versus} `)}, ${showDay(day)}`,
  oneReportOurs: (matches: number) => `We have told ${count(matches, "match", "matches")}; the other club has not yet.`,
  oneReportTheirs: (matches: number) => `The other club has told ${count(matches, "match", "matches")}; we have not.`,
  toLeague: "Look at the league match",

  excluded: "agreed beforehand not to count",
  notExcluded: "counts as usual",
  facts: {
    games: "Score",
    sides: "Players, and off what",
    date: "Day",
    occasion: "Played for",
    play: "Play",
    format: "Length",
    excluded: "Counts",
  },
} as const;

export const factWords: Readonly<Record<FactName, string>> = {
  date: "the day",
  occasion: "what it was played for",
  play: "handicap or level play",
  format: "the length",
  sides: "the players or what they played off",
  games: "the score",
  excluded: "whether it counts",
};
