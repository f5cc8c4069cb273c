/** What people read on the first screen: who, what and when, and what to do about it. */
import type { Day } from "@sward/core";
import type { GroupName } from "../attention/groups.ts";
import type { PlayedOff } from "../attention/played-off.ts";
import { showDay } from "../dates.ts";
import { count, number, signed } from "../words.ts";

export const attentionWords = {
  title: "What needs attention",
  lead: (pressing: number) =>
    pressing === 0 ? "" : `${count(pressing, "thing")} to look at, the most pressing first.`,
  empty: {
    title: "Nothing needs you",
    body: "Every change of handicap is signed off, no two reports disagree, and this device is well.",
    more: "What comes up is listed here: a change to sign off, a match told in two ways, a card that changed after it was signed, a newcomer to look at again, a card without a game for a year, somebody without a handicap.",
  },

  groups: {
    device: {
      title: "This device",
      lead: "Nothing that was saved is lost; but this device, or its way to the others, needs you.",
    },
    record: { title: "The record itself", lead: "Until this is settled, something does not count." },
    matches: { title: "Matches told in two ways", lead: "They move no index until one account holds." },
    "looked-at-again": {
      title: "Cards that changed after they were signed",
      lead: "The card is right as it stands now. What is missing is somebody who has seen it so.",
    },
    changes: {
      title: "Changes of handicap to sign off",
      lead: "They are in force already; the signature says they were looked at.",
    },
    "played-off": {
      title: "Played off another handicap",
      lead: "The games stand as they were played. Signing the card off says it was seen.",
    },
    starts: {
      title: "Starting handicaps to give",
      lead: "Their games are kept and begin to count from the day a handicap is in force.",
    },
    reviews: {
      title: "Newcomers to look at again",
      lead: "A starting handicap is a first guess. After five to ten games that count there is something to go by.",
    },
    idle: {
      title: "No game for a year",
      lead: "Has the member left, or is the card to be kept? Somebody coming back may need another handicap.",
    },
    waiting: {
      title: "Told by one club so far",
      lead: "Nothing has to be done here unless something is wrong, or ours to tell.",
    },
  } satisfies Record<GroupName, { title: string; lead: string }>,

  change: (name: string, from: number, to: number) => `${name}: handicap ${number(from)} to ${number(to)}`,
  changes: (name: string, many: number) => `${name}: ${many} changes of handicap`,
  changeHow: (day: Day, opponent: string, score: string, points: number, trigger: number) =>
    `On ${showDay(day)} against ${opponent}, ${score}, ${signed(points)}: the trigger point ${number(trigger)} was reached.`,
  changeForce: (after: Day | null) =>
    after === null ? "In force at once." : `In force from the day after ${showDay(after)}.`,

  touched: (name: string) => `${name}: the card changed after it was signed`,
  touchedWas: (who: string, upto: Day, handicap: number, index: number) =>
    `Signed up to ${showDay(upto)} by ${who}: handicap ${number(handicap)}, index ${number(index)}.`,
  touchedNow: (handicap: number, index: number, lines: number) =>
    `The card now says for that day: handicap ${number(handicap)}, index ${number(index)}${
      lines === 0 ? "" : `, with ${count(Math.abs(lines), "line")} ${lines > 0 ? "more" : "fewer"}`
    }.`,
  touchedFrom: (line: string) => `It differs from here on: ${line}`,
  touchedGone: "Lines that were signed are no longer there: a report was withdrawn or moved.",

  playedOff: (name: string, off: number, record: number) =>
    `${name}: played off ${number(off)}, the record says ${number(record)}`,
  playedOffGame: (day: Day, opponent: string, score: string) => `${showDay(day)} against ${opponent}, ${score}.`,
  playedOffPoints: ({ record, points }: PlayedOff) =>
    points.would === null
      ? `Off ${number(record)} the rules here give no points to compare.`
      : points.would === points.was
        ? `Off ${number(record)} the points would have been the same (${signed(points.was)}).`
        : `${signed(points.was)} points were exchanged; off ${number(record)} it would have been ${signed(points.would)}.`,
  playedOffStrokes: ({ record, strokes }: PlayedOff) =>
    strokes === null || strokes.was === strokes.would
      ? ""
      : `Extra strokes: ${strokesWords(strokes.was)}; off ${number(record)} it would have been ${strokesWords(strokes.would)}.`,

  card: "Look at the card",
  print: "Card to print",
  sign: (upto: Day) => `Sign off up to ${showDay(upto)}`,
  signStillOpen: "That day or event is not over yet: a result entered later has to be looked at again.",
  mayNotSign:
    "Signing cards off, setting handicaps and deciding between reports is for a handicapper's device. What it would be asked is shown here all the same.",

  sharing: "Go to Sharing",
} as const;

function strokesWords(strokes: number): string {
  if (strokes === 0) return "none";
  return strokes > 0 ? `${strokes} received` : `${-strokes} given`;
}
