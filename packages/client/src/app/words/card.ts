/** What people read on a member's card. */
import type { Day } from "@sward/core";
import { showDay } from "../dates.ts";
import { count, number } from "../words.ts";
import { changeWords } from "./changes.ts";

export { pointsWords, scoreWords, whyWords } from "./changes.ts";

export const cardWords = {
  notHere: {
    title: "No card here",
    none: (name: string) => `${name} has no starting handicap yet, so there is no card.`,
    unknown: "Nobody with this address is in the club's record on this device.",
  },
  inForce: "handicap today",
  inForceOn: (day: Day) => `handicap on ${showDay(day)}`,
  waiting: (to: number, after: Day) => `Becomes ${number(to)} after ${showDay(after)}`,
  review: "What the games say",
  left: "Has left the club. The card is kept as it was.",
  index: "Index",
  next: "Next trigger points",
  down: (away: number, handicap: number, trigger: number) =>
    away === 0
      ? `Trigger point of ${number(handicap)} (${number(trigger)}) reached`
      : `${count(away, "point")} to ${number(handicap)} (at ${number(trigger)})`,
  up: (away: number, handicap: number, trigger: number) =>
    away === 0
      ? `Fallen to the trigger point of ${number(handicap)} (${number(trigger)})`
      : `${count(away, "point")} above ${number(handicap)} (at ${number(trigger)})`,
  noLower: "The lowest handicap of the table",
  noHigher: "The highest handicap of the table",
  rules: (title: string, from: Day) => `Worked out under ${title}, in force here since ${showDay(from)}.`,

  chart: {
    title: "Index over time",
    label: (name: string, low: number, high: number, last: number, changes: number) =>
      `Index of ${name} over time: between ${number(low)} and ${number(high)}, now ${number(last)}, ${count(changes, "change")} of handicap.`,
    asTable: "The changes as a table",
    trigger: (handicap: number, trigger: number) => `${number(handicap)}  (${number(trigger)})`,
    legend:
      "Each dot is a day with games; a ring with a number is a change to that handicap, a diamond one that was set. Dashed lines are trigger points, with their handicaps.",
  },

  lines: {
    title: "Games",
    empty: "No games yet. They appear here as soon as they are entered.",
    newest: "Newest first",
    oldest: "Oldest first",
    rest: (lines: number) => `Show ${count(lines, "more line")}`,
    order: "Order",
    date: "Date",
    opponent: "Opponent",
    off: "Off",
    opponentOff: "Theirs",
    play: "H/L",
    playMeans: "handicap play or level play",
    score: "Score",
    points: "Points",
    index: "Index",
    handicap: "Hcp",
    why: "Why, and how sure",
    partner: (name: string) => `with ${name}`,
    outcome: { won: "won", lost: "lost", level: "level" },
    confirmed: "two reports agree",
    sure: "✓ stands where two reports agree; all other games rest on one.",
    correct: "Correct",
    correctWhat: (date: string) => `Correct the report of ${date}`,
    game: (number: number) => `game ${number}`,
    setBy: (who: string) => `by ${who}`,
  },

  moved: changeWords.moved,
  movedWhy: (trigger: number, after: Day | null): string =>
    `trigger point ${number(trigger)} reached${after === null ? "" : `, in force after ${showDay(after)}`}`,
  notice: changeWords.notice,

  signatures: {
    title: "Signatures",
    none: "Nobody has signed this card off yet.",
    line: (who: string, at: string, upto: Day, handicap: number, index: number) =>
      `Up to ${showDay(upto)}, handicap ${number(handicap)}, index ${number(index)}: signed by ${who} on ${at}.`,
    holds: "holds",
    touched: "something before it changed since",
    device: "a device nobody has named",
  },

  sign: {
    button: "Sign off this card",
    title: (name: string) => `Sign off ${name}'s card`,
    covers: (upto: Day, fresh: number) =>
      fresh === 0
        ? `Everything up to ${showDay(upto)} is signed off already.`
        : `Covers ${count(fresh, "line")} not signed off yet, up to ${showDay(upto)}.`,
    says: (handicap: number, index: number) =>
      `The card then says handicap ${number(handicap)}, index ${number(index)}.`,
    stillOpen: "That day or event is not over: a result of it entered later has to be looked at again.",
    save: "Sign off",
    done: changeWords.signedOff,
    nothing: "There is no line on this card to sign off yet.",
  },

  set: {
    button: "Set handicap",
    title: (name: string) => `Set ${name}'s handicap`,
    lead: "For a change that games alone did not bring: a rapid improver, a wrong start, somebody coming back.",
    handicap: "New handicap",
    from: "Takes effect on",
    fromHint: "From the start of that day, before its games.",
    reason: "Reason",
    reasonHint: "Everybody who sees the card can read it. No names of others, nothing private.",
    reasonMissing: "Write the reason: a change without one cannot be explained later.",
    dateMissing: "Choose the day it takes effect on.",
    index: (trigger: number) => `The index is set to ${number(trigger)}, the trigger point of that handicap.`,
    later: (lines: number) =>
      lines === 0 ? "" : `${count(lines, "line")} after that day will be worked out again from there.`,
    same: "That is the handicap on that day already; the index still goes to its trigger point.",
    done: (name: string, handicap: number, from: Day) =>
      `${name}'s handicap is ${number(handicap)} from ${showDay(from)}.`,
  },

  name: {
    button: "Change name",
    title: "Change the name",
    done: "The name is changed.",
  },

  mayNot: {
    sign: "Only a handicapper's device signs cards off.",
    set: "Only a handicapper's device sets handicaps.",
    here: changeWords.here,
  },

  print: {
    button: "Print the card",
    front: "Handicap changes",
    inside: "Games",
    signature: "Signature",
    change: "Change",
    why: "Why",
    printed: (day: Day) => `Printed ${showDay(day)}`,
    notSigned: "not signed off",
    which: "On paper",
    year: "games of the last 12 months",
    all: "all games",
  },
} as const;
