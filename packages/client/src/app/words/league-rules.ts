/** A league's rules in plain words, to be read aloud at an annual meeting: nothing of the file is left unsaid. */
import type { Bonus, LeagueRules, Measure, SlotRule } from "@sward/core";
import { comparedBy, listed } from "../../league/explained.ts";
import { count, number } from "../words.ts";
import { playWords } from "./play.ts";

export interface RuleTold {
  readonly about: string;
  readonly lines: readonly string[];
}

export function rulesTold(rules: LeagueRules): readonly RuleTold[] {
  return [
    { about: "Who meets whom", lines: [meetings[rules.meetings]] },
    { about: "The team", lines: teamTold(rules) },
    { about: "Limits of handicap", lines: limitsTold(rules) },
    { about: "The matches of a fixture", lines: slotsTold(rules.slots) },
    { about: "Who has won a fixture", lines: [decidedTold(rules.score)] },
    { about: "Points in the table", lines: [...pointsTold(rules), ...rules.bonus.map(bonusTold)] },
    { about: "Conceded, and games not played", lines: forfeitTold(rules) },
    { about: "Rained off", lines: unfinishedTold(rules) },
    { about: "Reports and dates", lines: reportsTold(rules) },
    { about: "Clubs level on points", lines: [tiesTold(rules)] },
  ];
}

const meetings: Readonly<Record<LeagueRules["meetings"], string>> = {
  once: "Every club meets every other once in a season.",
  "home-and-away": "Every club meets every other twice in a season, once at home and once away.",
};

function teamTold({ team }: LeagueRules): string[] {
  const { players, order, borrowed, oneClub, reserves } = team;
  const several = players > 1;
  return [
    `A team has ${count(players, "player")}${several ? (order === "by-handicap" ? ", in order of handicap, the lowest first." : ", in any order.") : "."}`,
    borrowed === 0
      ? "Nobody is borrowed from another club."
      : `Up to ${count(borrowed, "player")} of another club may be borrowed for a fixture.`,
    oneClub
      ? "A player plays for one club of the league in a season."
      : "A player may play for more than one club in a season.",
    reserves.inFixture === null
      ? "Any number of reserves may stand in."
      : reserves.inFixture === 0
        ? "Nobody stands in for a regular player."
        : `Up to ${count(reserves.inFixture, "reserve")} may stand in in one fixture.`,
    ...(reserves.inSeason === null
      ? []
      : [`One player stands in at most ${count(reserves.inSeason, "time")} a season.`]),
  ];
}

function limitsTold({ handicaps: { least, most, totalAtLeast } }: LeagueRules): string[] {
  const lines = [
    ...(most === null ? [] : [`No handicap above ${number(most)}.`]),
    ...(least === null ? [] : [`No handicap below ${number(least)}.`]),
    ...(totalAtLeast === null ? [] : [`The handicaps of a team add up to at least ${number(totalAtLeast)}.`]),
  ];
  return lines.length === 0 ? ["None."] : lines;
}

/** "singles, level play, 13 points, best of 3" */
export const gameTold = ({ home, play, format, bestOf }: SlotRule): string =>
  `${home.length === 2 ? "doubles" : "singles"}, ${playWords[play]}, ${format} points${bestOf === 1 ? "" : `, best of ${bestOf}`}`;

export const seatsTold = ({ home, away }: Pick<SlotRule, "home" | "away">): string =>
  `${home.join(" and ")} v ${away.join(" and ")}`;

/** Matches one after the other that are played alike, in one line. */
function slotsTold(slots: readonly SlotRule[]): string[] {
  const groups: { readonly from: number; readonly slots: SlotRule[] }[] = [];
  for (const [at, slot] of slots.entries()) {
    const group = groups.at(-1);
    const [first] = group?.slots ?? [];
    if (first !== undefined && gameTold(first) === gameTold(slot)) group?.slots.push(slot);
    else groups.push({ from: at + 1, slots: [slot] });
  }
  return groups.map(({ from, slots: alike }) => {
    const to = from + alike.length - 1;
    const [first] = alike;
    const which = from === to ? `Match ${from}` : `Matches ${from} to ${to}`;
    return `${which}, ${first === undefined ? "" : gameTold(first)}: ${alike.map(seatsTold).join("; ")}.`;
  });
}

const measures: Readonly<Record<Measure, string>> = {
  slots: "matches won",
  games: "games won",
  hoops: "hoops",
};

/** In the middle of a sentence. */
export const measureTold = (measure: Measure): string => measures[measure];

function decidedTold(score: readonly Measure[]): string {
  const [first, ...then] = score.map(measureTold);
  return `Whoever has more ${[first, ...then.map((one) => `if those are level ${one}`)].join("; ")}; else it is drawn.`;
}

function pointsTold({ points }: LeagueRules): string[] {
  const { win, draw, loss, slot, game, drawnGame, hoop } = points;
  const lines = [
    ...(win === 0 && draw === 0 && loss === 0
      ? []
      : [`${count(win, "point")} for a win, ${number(draw)} for a draw, ${number(loss)} for a defeat.`]),
    ...[
      [slot, "each match won"] as const,
      [game, "each game won"] as const,
      [drawnGame, "each game drawn"] as const,
      [hoop, "each hoop"] as const,
    ].flatMap(([worth, what]) => (worth === 0 ? [] : [`${count(worth, "point")} for ${what}.`])),
  ];
  return lines.length === 0 ? ["None are given."] : lines;
}

export const bonusTold = ({ when, count: games, points }: Bonus): string =>
  when === "games-won-at-least"
    ? `${count(points, "point")} more for winning ${count(games, "game")} or more.`
    : `${count(points, "point")} for losing by ${count(games, "game")} or fewer.`;

function forfeitTold({ forfeit, gameForfeited }: LeagueRules): string[] {
  const { winner, loser, games } = forfeit;
  return [
    `A fixture conceded is worth ${count(winner, "point")} to the other club and ${number(loser)} to the club that conceded.`,
    games === "all" ? "The other club is given every game, to nothing." : "No games or hoops are counted for it.",
    gameForfeited === "counts" ? "A single game not played counts as won." : "A single game not played does not count.",
  ];
}

const some: Readonly<Record<LeagueRules["unfinished"]["some"], string>> = {
  stands: "With some games played: what was played stands.",
  "even-games": "With some games played: an even number of them counts, the last is left out.",
  void: "With some games played: the fixture counts for nothing.",
};

const none: Readonly<Record<LeagueRules["unfinished"]["none"], string>> = {
  draw: "With no game played: it is a draw.",
  void: "With no game played: it counts for nothing.",
};

const unfinishedTold = ({ unfinished }: LeagueRules): string[] => [some[unfinished.some], none[unfinished.none]];

const oneReport: Readonly<Record<LeagueRules["oneReport"], string>> = {
  counts: "A match counts as soon as one club has reported it.",
  waits: "A match counts when both clubs have reported it alike, or the league has.",
  "home-counts": "The home club's report counts by itself; the visitors' waits for it.",
};

/** @param monthDay such as 09-30 */
const dayOfYear = (monthDay: string): string => {
  const [month = 1, day = 1] = monthDay.split("-").map(Number);
  const date = new Date(Date.UTC(2000, month - 1, day));
  return new Intl.DateTimeFormat(undefined, { day: "numeric", month: "long", timeZone: "UTC" }).format(date);
};

function reportsTold({ oneReport: one, deadline, reportWithin }: LeagueRules): string[] {
  return [
    oneReport[one],
    ...(reportWithin === null
      ? []
      : [reportWithin === 0 ? "It is reported on the day." : `It is reported within ${count(reportWithin, "day")}.`]),
    deadline === null
      ? "No last day is set for the season's fixtures."
      : `All fixtures are played by ${dayOfYear(deadline)}.`,
  ];
}

const tiesTold = ({ tieBreaks }: LeagueRules): string =>
  tieBreaks.length === 0
    ? "They share the place."
    : `They are told apart by ${listed(tieBreaks.map(comparedBy))}, in this order; clubs still level share the place.`;
