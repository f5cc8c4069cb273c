/** What people read at the yearly check of all cards. */
import type { Day } from "@sward/core";
import type { Findings, Outcome, SkipMonths, Tally } from "../check/round.ts";
import { FEW_GAMES } from "../check/round.ts";
import { showDay } from "../dates.ts";
import { count, number } from "../words.ts";

export const checkWords = {
  title: "Yearly check of all cards",
  lead: "Card after card: look at it, sign it off, or leave it with a note and go on.",

  empty: {
    title: "No cards to check yet",
    body: "Every member with a handicap has a card. Add members with their starting handicaps first; then this goes through all their cards, one after the other.",
  },
  start: {
    skip: "Leave out cards",
    skipHint: "A card that has changed since it was signed is never left out.",
    skips: {
      0: "none: all of them",
      1: "signed in the last month",
      3: "signed in the last 3 months",
      6: "signed in the last 6 months",
      12: "signed in the last 12 months",
    } satisfies Record<SkipMonths, string>,
    many: (cards: number, all: number) =>
      cards === all ? `${count(all, "card")} to look at.` : `${cards} of ${count(all, "card")} to look at.`,
    none: "All cards were signed in that time. Choose a shorter one to look at them all the same.",
    begin: "Begin",
  },
  under: {
    title: "A round is under way",
    at: (place: number, all: number, name: string) => `At card ${place} of ${all}: ${name}.`,
    done: "All its cards have been looked at.",
    goOn: "Go on",
    summary: "Summary",
  },
  putAway: {
    open: "Put the round away",
    means:
      "Its place and its notes are deleted from this device. Signatures and handicaps stay in the record, as they always do.",
    button: "Put it away and delete the notes",
  },
  notInRound: {
    title: "Not in this round",
    body: "That card is not in the round on this device, or the round was put away.",
    back: "Go to the yearly check",
  },

  place: (at: number, all: number) => `Card ${at} of ${all}`,
  placeShort: (at: number, all: number) => `${at} of ${all}`,
  tally: ({ signed, left, open }: Tally) =>
    `${count(signed, "card")} signed off, ${left} left with a note, ${open} still open.`,

  findings: {
    title: "What to look at",
    none: "Nothing stands out.",
    unsigned: (many: number) => `${count(many, "change")} of handicap not signed off`,
    touched: "it changed after it was signed",
    playedOff: (many: number) => `${count(many, "game")} played off another handicap than the record says`,
    disputed: (many: number) => `${count(many, "match", "matches")} told in two ways`,
    few: (games: number) =>
      `${count(games, "game")} in 12 months: with fewer than ${FEW_GAMES}, look whether the handicap still fits`,
    games: (games: number) => `${count(games, "game")} in 12 months`,
    last: (day: Day | null) => (day === null ? "no game yet" : `last game ${showDay(day)}`),
    neverSigned: "never signed off",
    signed: (on: Day, upto: Day) => `last signed on ${showDay(on)}, up to ${showDay(upto)}`,
  },
  lines: {
    title: "Lines not signed yet",
    signed: "The last lines; all are signed",
    earlier: (many: number) => `${count(many, "earlier line")} signed before.`,
    whole: "The whole card",
  },
  sign: {
    button: "Sign off",
    plan: (upto: Day, fresh: number, handicap: number, index: number) =>
      `Signs up to ${showDay(upto)}${fresh === 0 ? "" : `, ${count(fresh, "new line")}`}: handicap ${number(handicap)}, index ${number(index)}.`,
    nothing: "There is no line on this card to sign off yet.",
    already: "Signed off in this round.",
  },
  leave: {
    button: "Leave with a note",
    label: "Note",
    hint: "Kept on this device only, and deleted when the round is put away.",
    save: "Keep the note and go on",
    kept: (note: string) => `Left with a note: ${note}`,
  },
  set: "Set handicap",
  next: "Next",
  previous: "Back one",
  toSummary: "To the summary",

  keys: {
    next: "next card",
    previous: "back one",
    sign: "signs off and goes on",
    leave: "leaves it with a note",
    set: "sets the handicap",
    undo: "undoes the last signature",
  },

  summary: {
    title: "Yearly check: summary",
    lead: (begun: string) => `Begun on ${begun}.`,
    columns: {
      name: "Name",
      handicap: "Handicap",
      index: "Index",
      games: "Games in 12 months",
      gamesShort: "games in 12 months",
      outcome: "Outcome",
      note: "Note",
    },
    outcomes: {
      signed: "signed off",
      left: "left for later",
      open: "not settled",
      gone: "no card any more",
    } satisfies Record<Outcome, string>,
    changed: (from: number, to: number) => `${number(from)} → ${number(to)}`,
    print: "Print the summary",
    printed: (day: Day, club: string) => `${club}, printed ${showDay(day)}`,
  },
} as const;

/** What stands out on a card, most pressing first. */
export function findingWords({ unsigned, touched, playedOff, disputed, games }: Findings): readonly string[] {
  const { findings } = checkWords;
  return [
    ...(touched > 0 ? [findings.touched] : []),
    ...(disputed > 0 ? [findings.disputed(disputed)] : []),
    ...(unsigned.length > 0 ? [findings.unsigned(unsigned.length)] : []),
    ...(playedOff > 0 ? [findings.playedOff(playedOff)] : []),
    ...(games < FEW_GAMES ? [findings.few(games)] : []),
  ];
}
