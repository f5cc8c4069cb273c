/** What people read on the first screen when they decide, or when something is wrong: fetched after the first view. */
import type { Day } from "@sward/core";
import { showDay } from "../dates.ts";
import { count, number } from "../words.ts";

export const rulingWords = {
  title: "Which report counts?",
  none: "Neither: the match does not count",
  reason: "Reason",
  reasonHint: "Both sides can read it.",
  reasonMissing: "Write the reason: it is what an appeal would ask for.",
  choiceMissing: "Choose one.",
  save: "Let it count",
  done: "The match is decided.",
} as const;

export const rivalsWords = {
  title: "Two corrections of one entry",
  lead: "Made apart from each other; until one is taken back the first one here counts.",
  counts: "counts for now",
  keep: "Keep this one",
  keepReason: "another correction of the same entry is kept",
  done: "One correction stands, the others are taken back.",
  mayNot: "Taking the others back is for a handicapper of the club.",
  someClub: "a club nobody here can name",
  fixture: (clubs: string, day: Day, matches: number) =>
    `${clubs}, ${showDay(day)}, ${count(matches, "match", "matches")}`,
  leagueRules: (title: string, from: Day) =>
    title === "" ? `League rules from ${showDay(from)}` : `League rules “${title}” from ${showDay(from)}`,
  team: (club: string, players: string) => `Team of ${club}: ${players}`,
  marked: {
    postponed: (reason: string, to: Day | null) =>
      to === null ? `Postponed: ${reason}` : `Postponed to ${showDay(to)}: ${reason}`,
    conceded: (reason: string) => `Conceded: ${reason}`,
    void: (reason: string) => `Void: ${reason}`,
    "rained-off": (reason: string) => `Rained off: ${reason}`,
  },
  proposed: (name: string, handicap: number, on: Day, reason: string) =>
    `${name}, handicap ${number(handicap)} proposed from ${showDay(on)}: ${reason}`,
  other: "Something this version has no words for",
} as const;

export const deviceWords = {
  usedElsewhere: {
    title: "This device's key is in use somewhere else",
    body: "An entry signed with its key arrived that was not written here. Nothing more is saved here under that key; this device has made itself a new one and asks for it to be admitted. Sharing shows the code for the handicapper.",
  },
  notMet: (waiting: number, days: number | null) =>
    `${count(waiting, "entry is", "entries are")} only on this device${
      days === null ? ", which has not met the relay yet" : `; the relay was last met ${count(days, "day")} ago`
    }`,
  notMetBody:
    "They are safe here and count here; nobody else has them yet. Go where there is a signal and open this page, or save the record as a file under Sharing and take it along.",
} as const;

export const reminderWords = {
  newcomer: {
    title: (name: string, handicap: number, games: number) =>
      `${name}: started at ${number(handicap)}, ${count(games, "game")} since`,
    began: (on: Day, why: string) => `Started on ${showDay(on)}: ${why}.`,
    since: (won: number, games: number, from: number, to: number, handicap: number) =>
      `Won ${won} of ${count(games, "game")} that count. Index ${number(from)} then, ${number(to)} now; handicap ${number(handicap)} now.`,
    late: (by: number) => `The look is best taken before game ${by}.`,
    confirm: (handicap: number) => `Confirm ${number(handicap)}`,
    set: "Set another handicap",
    done: (name: string, handicap: number) =>
      `${name}'s handicap of ${number(handicap)} is confirmed and the card signed off.`,
  },

  idle: {
    title: (name: string, since: Day, played: boolean) =>
      played ? `${name}: no game since ${showDay(since)}` : `${name}: no game yet since the start on ${showDay(since)}`,
    body: (handicap: number, index: number) =>
      `The card says handicap ${number(handicap)}, index ${number(index)}. Keeping it signs it off as it is, and asks again in a year.`,
    keep: "Keep the card",
    kept: (name: string) => `${name}'s card is kept as it is and signed off.`,
    left: "Has left the club",
    leftDone: (name: string) => `${name} has left the club; the card is kept as it was.`,
  },
} as const;

export const recordWords = {
  forked: {
    title: (device: string) => `${device} has written two histories`,
    body: "Its storage was copied, or set back to an earlier day, and both went on writing. What it wrote up to there counts; what came after does not, on any device.",
    todo: "Bar the device under Sharing and give the person a new pass. What was lost to it can be entered again.",
  },
  unknownRules: {
    title: (rules: string) => `This version does not have the rules “${rules}”`,
    body: "The club adopted them on another device. Games of that time are worked out here under older rules until this device has the newer version.",
    todo: "Load the newer version of the app as soon as it is offered here.",
  },
} as const;
