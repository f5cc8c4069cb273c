/** What people read while they enter matches. */
import type { Format, HandicapMove, LineReason, MatchFacts, SeatExtras } from "@sward/core";
import { winningScore } from "@sward/core";
import { showDay } from "../dates.ts";
import type { FormFault } from "../entry/faults.ts";
import type { Ending, Seat } from "../entry/form.ts";
import type { Advice } from "../entry/played-off.ts";
import type { Effect, Standstill } from "../entry/preview.ts";
import { count, number, reasonWords, signed } from "../words.ts";
import { occasionWords } from "./play.ts";

export const roles: Readonly<Record<Seat, string>> = {
  0: "Player",
  1: "Partner",
  2: "Opponent",
  3: "Opponent's partner",
};

const hoops = (format: Format): number => winningScore(format);

export const endingWords: Readonly<Record<Ending, string>> = {
  "played-out": "Played to the end",
  time: "Time ran out",
  abandoned: "Abandoned",
  walkover: "Walkover",
};

export const entryWords = {
  title: "Enter a match",
  correctTitle: "Correct a match",
  lead: "One after the other. Nothing counts before you save it, and what you saved can be undone.",
  fromFile: "From a spreadsheet",
  afternoon: "For every match until you change it",
  date: "Date",
  start: "Time it began",
  startHint: "Only where the order of games inside one day matters. As 14:30.",
  event: "Event",
  noEvent: "No event",
  occasion: "Played as",
  chooseOccasion: "Choose…",
  occasionByEvent: "The event says so.",
  counts: "Counts for the index.",
  doesNotCount: "Does not count for the index under the rules here.",
  play: "Play",
  plays: { handicap: "Handicap", level: "Level" },
  format: "Points in a game",
  formats: { 7: "7", 13: "13", 19: "19" },
  points: (format: Format) => `${format} points`,
  sides: "Sides",
  singles: "Singles",
  doubles: "Doubles",
  excluded: "Both clubs agreed before the start that it does not count",
  more: "More",

  match: "The match",
  ownSide: "Own side",
  opponents: "Opponents",
  role: (seat: Seat) => roles[seat],
  handicapOf: (seat: Seat) => `${roles[seat]}'s handicap`,
  names: "Names",
  found: (many: number) => (many === 0 ? "Nobody found" : `${count(many, "person", "people")} found`),
  addVisitor: (typed: string) => `Add “${typed}” as a visitor`,
  standing: {
    member: "",
    visitor: "visitor",
    left: "has left the club",
    league: "not here before",
    new: "new visitor",
  },
  off: (handicap: number) => `off ${number(handicap)}`,
  advice: (advice: Advice): string => {
    switch (advice.from) {
      case "card":
        return advice.waiting === null
          ? ""
          : `The card goes to ${number(advice.waiting.to)} after ${showDay(advice.waiting.after)}; until then ${number(advice.off)}.`;
      case "stated":
        return `As the home club stated on ${showDay(advice.on)}.`;
      case "last-played":
        return `Last played off ${number(advice.off)} on ${showDay(advice.on)}. Ask whether it still is.`;
      case "nobody":
        return "No handicap is known here. Ask, and write it down.";
    }
  },
  differs: (off: number, advice: Exclude<Advice, { from: "nobody" }>): string =>
    advice.from === "card"
      ? `The record says ${number(advice.off)} on this day. The match will stand as played off ${number(off)}, and the handicapper is told.`
      : `Known here is ${number(advice.off)}. The match will stand as played off ${number(off)}.`,

  score: "Hoops",
  game: (game: number) => `Game ${game}`,
  hoopsOf: (game: number, side: string) => `Game ${game}, hoops of ${side}`,
  hoopSides: ["own side", "opponents"] as const,
  ending: (game: number) => `Game ${game}, how it ended`,
  addGame: "Add a game",
  dropGame: (game: number) => `Leave out game ${game}`,

  strokes: "Extra strokes",
  strokesLevel: "Level play: no extra strokes.",
  strokesNotYet: "Worked out as soon as both handicaps are there.",
  strokesWays: "There is more than one lawful way. The pair says before the game which it takes:",
  strokesWay: (way: SeatExtras, names: readonly (readonly string[])[]): string => receives(way, names),

  effect: "If you save this",
  effectNotYet: "What it does to the index is shown here before you save.",
  effectNobody: "Nobody in it has a card here, so no index of ours moves.",
  standstill: {
    held: "There is another report of this match that says something else. Saved like this, the match is held and moves no index until one of the two is corrected or a handicapper rules.",
    waiting: "This club lets a match count once a second report agrees: until then it waits.",
    ruled: "A handicapper has ruled on this match. This report is kept beside it and changes nothing.",
  } satisfies Readonly<Record<Standstill, string>>,

  save: "Save the match",
  saveCorrection: "Save the correction",
  saving: "Saving…",
  clear: "Clear",
  cancelCorrection: "Leave it as it was",
  takeBack: "It was not played: take it back",
  takenBack: "Taken back: it counts nowhere. The record keeps that it was written and taken back.",
  wrong: (faults: number) => `Not saved: ${count(faults, "thing")} to put right.`,
  saved: (sentence: string) => `Saved: ${sentence}`,
  undone: (sentence: string) =>
    `Taken back: ${sentence}. It counts nowhere; the record keeps that it was written and taken back.`,
  undoneCorrection: (sentence: string) => `Correction taken back: ${sentence}. What it corrected counts again.`,
  undoReason: "entered by mistake",
  takeBackReason: "not played",

  lately: "Entered on this device",
  latelyEmpty: "What you save is listed here, with a way to undo it.",
  undoMatch: (sentence: string) => `Undo: ${sentence}`,
  correctMatch: (sentence: string) => `Correct: ${sentence}`,
  correct: "Correct",
  status: {
    confirmed: "two reports agree",
    "one-report": "",
    waiting: "waits for a second report",
    held: "held: reports differ",
    ruled: "ruled on",
    void: "does not count, by ruling",
  },
  pairings: "The last pairings again",
  pairing: (key: number, one: string, two: string) => `${key}: ${one} against ${two}`,

  same: {
    title: "There is already a match between these on this day. Is it the same one?",
    which: (facts: MatchFacts, score: string, n: number) =>
      `${facts.play === "handicap" ? "Handicap" : "Level"} play, ${facts.format} points, ${score}${n > 1 ? ` (match ${n} that day)` : ""}, ${occasionWords[facts.occasion]}`,
    byUs: "entered on this device",
    byOther: "entered on another device",
    fromLeague: "from the league",
    correct: "The same one: what I am typing corrects it",
    secondReport: "The same one: save this as a second report of it",
    further: (n: number) => (n === 1 ? "Another match" : `A further match, their number ${n} of the day`),
    leagueNote: "League matches come from the league's own screen by themselves and need not be entered here.",
    unanswered: "Say whether it is the same match.",
  },

  visitor: {
    title: "Add a visitor",
    lead: "The name goes into the club's list of names; the record itself knows only a number.",
    name: "Name",
    club: "Home club",
    clubHint: "Leave it empty where nobody knows.",
    handicap: "Handicap today",
    add: "Add and go on",
    noName: "Write the visitor's name.",
    noHandicap: "Write the handicap as a whole number, such as 4 or -2.",
    notInTable: (handicap: number) => `There is no handicap ${number(handicap)} in the table.`,
  },

  keys: [
    ["↑ ↓", "choose a name"],
    ["Enter", "next field; on the last one saves"],
    ["1–5", "in an empty name: a pairing again"],
    ["Ctrl Enter", "saves from anywhere"],
    ["Esc", "closes the list of names"],
  ] as const,

  noCorrection: {
    title: "There is no such match to correct",
    body: "It may have been taken back or corrected already, on this device or another.",
    league: "It belongs to a league and is corrected on the league's screen.",
    mayNot: "Another device entered it. Only that device or a handicapper's can correct it.",
    back: "Enter a match",
    toLeague: "Go to the league",
  },
  mayNotTitle: "This device reads only",
  mayNot: "It can see the club's record but not write in it. Ask your handicapper to admit it as a recorder's device.",
} as const;

/** "Bea F receives 3 extra strokes, Eli G 1." */
function receives(way: SeatExtras, names: readonly (readonly string[])[]): string {
  const parts = way.flatMap((seats, side) =>
    seats.flatMap((extra, seat) => (extra === 0 ? [] : [{ name: names[side]?.[seat] ?? "", extra }])),
  );
  const [first, ...rest] = parts;
  if (first === undefined) return "No extra strokes.";
  const others = rest.map(({ name, extra }) => `, ${name} ${extra}`).join("");
  return `${first.name} receives ${count(first.extra, "extra stroke")}${others}.`;
}

const when = ({ after }: HandicapMove, date: string): string =>
  after === null ? "at once" : after === date ? "at the end of the day" : `at the end of the event, ${showDay(after)}`;

/** What saving does to one card, a sentence each: the index, the handicap, what comes after. */
export function effectSentences(effect: Effect, date: string): readonly string[] {
  const { index, points, handicap, moved, undone, later } = effect;
  const reasons = [...new Set(effect.reasons)];
  const sentences = [
    points === 0 && reasons.every(isStill)
      ? `Index stays ${index.before}: ${reasons.map((reason) => reasonWords[reason]).join("; ")}.`
      : `Index ${index.before} → ${index.after} (${signed(points)}).`,
  ];
  if (moved !== null) sentences.push(`Handicap ${number(moved.from)} → ${number(moved.to)} ${when(moved, date)}.`);
  else if (undone === null) sentences.push(`Handicap stays ${number(handicap)}.`);
  if (undone !== null) {
    sentences.push(
      `The change from ${number(undone.from)} to ${number(undone.to)} that was coming ${when(undone, date)} does not come.`,
    );
  }
  if (later !== null && (later.index.after !== later.index.before || later.handicap.after !== later.handicap.before)) {
    sentences.push(
      `${count(later.lines, "later line")} of the card ${later.lines === 1 ? "moves" : "move"} with it: it ends at ${later.index.after} instead of ${later.index.before}` +
        (later.handicap.after === later.handicap.before
          ? "."
          : `, handicap ${number(later.handicap.after)} instead of ${number(later.handicap.before)}.`),
    );
  }
  return sentences;
}

const moving: ReadonlySet<LineReason> = new Set([
  "handicap-singles",
  "handicap-doubles",
  "level-singles",
  "level-doubles",
]);

const isStill = (reason: LineReason): boolean => !moving.has(reason);

/** What is wrong with a field and what to write. */
export function faultSentence(fault: FormFault): string {
  switch (fault.type) {
    case "no-date":
      return "Give the day the match was played.";
    case "not-a-date":
      return `“${fault.text}” is not a day. Write it as 2031-05-24.`;
    case "future-date":
      return `${showDay(fault.date)} has not come yet: today is ${showDay(fault.today)}.`;
    case "not-a-time":
      return `“${fault.text}” is not a time of day. Write it as 14:30, or leave it out.`;
    case "no-occasion":
      return "Say what it was played as: that decides whether it counts.";
    case "event-not-on-day":
      return `${fault.title} was on from ${showDay(fault.from)} to ${showDay(fault.to)}. Change the day or the event.`;
    case "no-player":
      return "Choose a player.";
    case "nobody-by-that-name":
      return `Nobody called “${fault.text}” was chosen. Pick a name from the list, or add a visitor.`;
    case "player-twice":
      return `${fault.name} is in this match already. Nobody plays against themselves.`;
    case "no-handicap":
      return `Write the handicap ${fault.name} played off.`;
    case "not-a-handicap":
      return `“${fault.text}” is not a handicap. Write a whole number, such as 4 or -2.`;
    case "handicap-not-in-table":
      return `There is no handicap ${number(fault.handicap)} in the table of ${fault.rules}.`;
    case "no-score":
      return "Write the hoops.";
    case "not-a-score":
      return `“${fault.text}” is not a number of hoops.`;
    case "score-cannot-be":
      return scoreFault(fault);
    case "same-match-unanswered":
      return entryWords.same.unanswered;
  }
}

function scoreFault({ score, format, ending }: Extract<FormFault, { type: "score-cannot-be" }>): string {
  const told = `${score[0]}–${score[1]}`;
  const target = hoops(format);
  switch (ending) {
    case "played-out":
      return `${told} cannot be the end of a ${format}-point game: one side has ${target} hoops, the other fewer. If it was stopped, say how it ended.`;
    case "walkover":
      return `${told} cannot be: nobody has more than ${target} hoops in a ${format}-point game.`;
    case "time":
    case "abandoned":
      return `With ${told} the game was played to the end: a side with ${target} hoops has won.`;
  }
}
