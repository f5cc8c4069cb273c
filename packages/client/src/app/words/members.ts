/** What people read on the list of members, and when somebody joins. */
import type { Day, Player } from "@sward/core";
import { showDay } from "../dates.ts";
import { count, number } from "../words.ts";

export const membersWords = {
  title: "Members",
  lead: (members: number, visitors: number) => `${count(members, "member")}, ${count(visitors, "visitor")}.`,
  find: "Find",
  findHint: "A few letters of any name are enough.",
  moving: "A player comes from another club",
  review: "What the games say",
  sort: "In order of",
  sorts: { name: "name", handicap: "handicap", index: "index", last: "last game" },
  found: (shown: number, all: number) => (shown === all ? "" : `${shown} of ${all} shown.`),
  nobody: (typed: string) => `Nobody here is called “${typed}”.`,
  visitors: "Visitors",
  visitorsLead: "Their home clubs keep their cards. The handicap is what they last played off here.",
  left: "Have left",
  columns: {
    name: "Name",
    handicap: "Handicap",
    index: "Index",
    games: "Games in 12 months",
    gamesShort: (games: number) => (games === 1 ? "game" : "games"),
    last: "Last game",
    home: "Home club",
  },
  never: "none yet",
  check: "Check all cards",
  homeUnknown: "club not known",
  noHandicap: "no handicap yet",
  waiting: (to: number, after: Day) => `${number(to)} after ${showDay(after)}`,
  standing: { member: "member", visitor: "visitor", left: "has left" } satisfies Record<Player["standing"], string>,
  junior: "under 18",
  empty: {
    title: "Nobody has joined yet",
    body: "Add the first member: a name and a starting handicap are enough. Games can be entered as soon as two people are here.",
  },

  add: {
    button: "Add somebody",
    title: "Somebody new",
    who: "Who is it?",
    member: "A member of this club",
    visitor: "A visitor, whose card another club keeps",
    home: "Home club",
    homeHint:
      "The club's name and nothing else: it goes into the record, which is never erased. It tells two visitors of one name apart.",
    handicap: "Starting handicap",
    later: "None yet: decide later",
    otherThanTable: (handicap: number) =>
      `The table gives ${number(handicap)}. Another handicap is yours to choose; say why below.`,
    index: (trigger: number) => `The index starts at ${number(trigger)}, the trigger point of that handicap.`,
    indexField: "Index on the card",
    indexHint: "From the last line of a card kept until now. Left empty, it is the trigger point.",
    indexNotANumber: "Write the index as a whole number, such as 1390.",
    noIndex: "Without a starting handicap games are kept, and begin to count when one is set.",
    review: "Look at it again after the first five to ten results.",
    from: "Takes effect on",
    fromMissing: "Choose the day it takes effect on.",
    reason: "How it was found",
    reasonHint: "Such as “card from another club” or “watched in three games”. No names of others.",
    reasonMissing: "Write how the handicap was found: it is asked at the first review.",
    sameName: (name: string) =>
      `Somebody called ${name} is here already. If it is the same person, do not add them twice.`,
    done: (name: string, handicap: number | null) =>
      handicap === null ? `${name} has joined.` : `${name} has joined with handicap ${number(handicap)}.`,
    mayNotMember: "Only a handicapper's device adds members. This one may add visitors.",
    mayNot: "This device may not add anybody.",
  },

  test: {
    title: "Three-rounds test",
    how: "Three times round hoops 1 to 6 with one ball, from the fourth corner; count the strokes of each round. Leave it empty if it was not played, and choose a handicap below.",
    round: (round: number) => `Round ${round}`,
    notACount: "Write the strokes of six hoops, such as 20.",
    unfinished: (sum: number, left: number) => `${sum} strokes so far; ${count(left, "round")} to come.`,
    noTable: (sum: number) =>
      `${sum} strokes. The rules this club plays under have no starting table here: choose the handicap below.`,
    below: (sum: number, from: number) =>
      `${sum} strokes are under ${from}, where the table begins: assess this player separately, by watching play, and choose the handicap below.`,
    proposal: (sum: number, handicap: number, index: number) =>
      `${sum} strokes: the starting table gives handicap ${number(handicap)}, index ${number(index)}. The handicapper decides.`,
    reason: (counts: readonly string[], sum: number) => `three-rounds test: ${counts.join(" + ")} = ${sum} strokes`,
    table: "The starting table",
    strokes: "Strokes",
    handicap: "Handicap",
    index: "Index",
    under: (from: number) => `under ${from}`,
    separately: "assessed separately",
    range: (from: number, to: number | null) => (to === null ? `${from} or more` : `${from}–${to}`),
    thisOne: "◂ this count",
    readAt: "As published:",
  },

  start: {
    title: (name: string) => `${name}'s starting handicap`,
    done: (name: string, handicap: number) => `${name} starts at ${number(handicap)}.`,
  },
} as const;
