/** What people read where a season's fixtures are made, and where it is said what became of one. */
import type { Bodies, LeagueRules } from "@sward/core";
import { showDay } from "../dates.ts";
import type { PlanFault } from "../league/fixtures-form.ts";
import { count } from "../words.ts";

export const fixturesWords = {
  title: "Fixtures",
  lead: (league: string) => league,
  print: "Print the fixtures",
  list: "The season's fixtures",
  empty: {
    title: "No fixtures yet",
    secretary: "They are made below, all at once, from the clubs and a day for each round.",
    others: "The league's secretary makes them. They come here by themselves, and stay here without a signal.",
  },
  versus: (home: string, away: string) => `${home} v ${away}`,
  bye: (club: string) => `${club}: bye`,
  setFor: (day: string) => `set for ${showDay(day)}`,

  make: {
    title: "Make the season's fixtures",
    again: "Make more fixtures",
    noRules: "Fixtures need the league's rules: they say how often clubs meet, and what is played.",
    toRules: "Set the rules first",
    fewClubs: "Fixtures need two clubs at least.",
    toClubs: "Admit the clubs first",
    meetings: {
      once: "By the rules every club meets every other once.",
      "home-and-away": "By the rules every club meets every other twice, at home and away.",
    } satisfies Readonly<Record<LeagueRules["meetings"], string>>,
    tables:
      "Who meets whom in which round comes from the Berger tables (FIDE Handbook C.05, Annex 1), for the clubs in the order drawn. With an odd number, one club has a bye in each round.",
    clubs: "The clubs, in the order drawn",
    plays: (club: string) => `${club} plays`,
    up: (club: string) => `${club} one place up`,
    down: (club: string) => `${club} one place down`,
    first: "Day of the first round",
    step: "Days from round to round",
    stepHint: "7 for every week. Each day can be changed below.",
    rounds: (rounds: number, fixtures: number) => `${count(rounds, "round")}, ${count(fixtures, "fixture")}`,
    round: (round: number) => `Round ${round}`,
    roundDay: (round: number) => `Day of round ${round}`,
    enter: (fixtures: number) => (fixtures === 1 ? "Enter this fixture" : `Enter all ${fixtures} fixtures`),
    saved: (fixtures: number) => `${count(fixtures, "fixture")} entered.`,
    undoHint: "Nothing is entered before. Afterwards Undo takes all of them back.",
  },
  one: {
    title: "Add one fixture by hand",
    home: "Home club",
    away: "Visitors",
    day: "Day",
    choose: "Choose…",
    missing: "Choose a club.",
    dayMissing: "Say on which day.",
    enter: "Enter this fixture",
    saved: (home: string, away: string, day: string) => `${home} v ${away} entered for ${showDay(day)}.`,
  },
  mark: {
    open: "Say what became of it",
    openFor: (home: string, away: string) => `Say what became of it: ${home} v ${away}`,
    legend: "What became of it",
    as: {
      postponed: "Postponed",
      "rained-off": "Rained off",
      conceded: "Conceded",
      void: "Void",
    } satisfies Readonly<Record<Bodies["fixture-marked"]["as"], string>>,
    hint: {
      postponed: "It is played on another day; matches already reported stay.",
      "rained-off": "Not to be finished. What counts of it, the rules say.",
      conceded: "One club does not come, or gives the fixture up.",
      void: "It counts for nothing, and is not played again. Only the league says so.",
    } satisfies Readonly<Record<Bodies["fixture-marked"]["as"], string>>,
    by: "Conceded by",
    to: "New day",
    toHint: "Empty while it is not agreed.",
    reason: "Reason",
    reasonHint: "All clubs read it. As long as a sentence or two.",
    noChoice: "Say what became of it.",
    noClub: "Say which club conceded.",
    noReason: "Give the reason.",
    save: "Enter it",
    leave: "Leave it",
    saved: (as: Bodies["fixture-marked"]["as"], home: string, away: string) =>
      `${home} v ${away}: ${as === "rained-off" ? "rained off" : as}.`,
    takeBack: "Take it back",
    takenBack: (home: string, away: string) => `${home} v ${away}: what was said of it is taken back.`,
    takenBackReason: "It was a slip, or is no longer so.",
  },
} as const;

export function planFaultTold(fault: Extract<PlanFault, { readonly type: "days-missing" | "days-backwards" }>): string {
  return fault.type === "days-missing"
    ? "Every round needs a day. Give the day of the first round and the days from round to round, or each by itself."
    : "A round is on an earlier day than the one before it. Change one of the days.";
}
