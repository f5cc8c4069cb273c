/** What people read while results are brought in from a file, and what is wrong with a line. */
import type { FactName } from "@sward/core";
import type { FieldName } from "../files/fields.ts";
import type { Standing } from "../files/judging.ts";
import type { Tone } from "../parts/tone.ts";
import { count, number } from "../words.ts";

export const fieldWords: Readonly<Record<FieldName, string>> = {
  date: "Date",
  start: "Time it began",
  player: "Player",
  handicap: "Player's handicap",
  partner: "Partner",
  partnerHandicap: "Partner's handicap",
  opponent: "Opponent",
  opponentHandicap: "Opponent's handicap",
  opponentPartner: "Opponent's partner",
  opponentPartnerHandicap: "Opponent's partner's handicap",
  score: "Score, own first (7-4)",
  hoops: "Own hoops",
  opponentHoops: "Opponent's hoops",
  ended: "How it ended",
  play: "Handicap or level",
  format: "Points in a game",
  occasion: "Played as",
  event: "Event",
  counts: "Counts (yes or no)",
  match: "Number of the match",
  game: "Game of the match",
};

const fieldShort: Readonly<Partial<Record<FieldName, string>>> = { score: "Score", counts: "Counts" };

/** The field as a label beside a line. */
export const fieldLabel = (field: FieldName): string => fieldShort[field] ?? fieldWords[field];

export const standingWords: Readonly<Record<Standing, string>> = {
  new: "good",
  recorded: "already in the record",
  differs: "differs from the record",
  faulty: "faulty",
  "left-out": "left out",
};

export const standingTones: Readonly<Record<Standing, Tone>> = {
  new: "good",
  recorded: "info",
  differs: "warn",
  faulty: "bad",
  "left-out": "plain",
};

export const factWords: Readonly<Record<FactName, string>> = {
  date: "the day",
  occasion: "what it was played as",
  play: "the kind of play",
  format: "the length",
  sides: "the handicaps played off",
  games: "the score",
  excluded: "whether it counts",
};

export const games = (many: number): string => count(many, "game");
export const lines = (many: number): string => count(many, "line");

export const filesWords = {
  title: "Files",
  lead: "Results in from a spreadsheet, and members, results and cards out.",
  inTitle: "Bring results in",
  mayNot:
    "This device may look and not write, so it brings nothing in. Ask a handicapper of the club for an address that may.",
  source: {
    lead: "One game on each line. Nothing is saved before you have seen every line.",
    paste: "Paste from a spreadsheet",
    pasteHint: "Mark the cells there, copy, and paste them here. With or without a line of headings.",
    read: "Read what is pasted",
    file: "Or choose a file",
    fileHint: "A CSV or TSV file. A spreadsheet saves one with “Save as” or “Download”.",
    nothing: "Nothing is pasted yet.",
  },
  again: "Start again",
  stop: "Stop",
  stopped: "Stopped. Nothing was saved.",
  readOn: "Read on",
  readFrom: (name: string, many: number) => `${name === "" ? "Pasted" : name}: ${lines(many)}`,
  heading: "The first line is a heading",
  working: (done: number, total: number) => `Reading: ${Math.floor((100 * done) / Math.max(total, 1))} %`,

  columns: {
    title: "What the columns hold",
    hint: "A guess, by the headings and by what stands below them. Put right what is wrong; it is remembered for the next file of this kind.",
    column: (at: number) => `Column ${at + 1}`,
    nothing: "Not used",
  },
  defaults: {
    title: "For lines that do not say",
    date: "Date of all games",
    play: "Play",
    format: "Points in a game",
    occasion: "Played as",
    choose: "Choose…",
    noOccasion: "Choose what the games were played as: it decides whether they count.",
  },
  order: {
    title: "How the dates are written",
    "day-first": "Day first: 3/4 is the third of April",
    "month-first": "Month first: 3/4 is the fourth of March",
    ask: "Every date here can be read both ways. Say which it is.",
    clash: (day: number, month: number) =>
      `The dates disagree: line ${day} can only have the day first, line ${month} only the month. Say how the most are written; the others are named below.`,
    told: (line: number) => `Line ${line} can be read in one way only, so all are read so.`,
  },
  names: {
    title: "Names that are not in the record as they are written",
    hint: "Answer once for each spelling; it holds for all its lines.",
    on: (many: number, first: number) =>
      many === 1 ? `on line ${first}` : `on ${lines(many)}, first on line ${first}`,
    who: (text: string) => `Who is “${text}”?`,
    choose: "Choose…",
    visitor: "A visitor who is not in the record: add",
    offers: "Written nearly so",
    everybody: "Everybody",
    several: "Two or more are called so.",
    addAll: (many: number) =>
      many === 1 ? "Add the one nobody answered for as a visitor" : `Add all ${many} nobody answered for as visitors`,
  },
  events: {
    title: "Events that are not in the record",
    choose: "Choose…",
    open: "Open it, on the days of its lines",
    without: "Save the games without an event",
    what: (title: string, season: string) => `${title}, ${season}`,
    mayNot: "Only a handicapper opens events.",
  },

  preview: {
    title: "The lines",
    show: "Show",
    all: "all",
    none: "There is no such line.",
    line: (line: number) => `Line ${line}`,
    page: (page: number, pages: number) => `Page ${page} of ${pages}`,
    before: "Before",
    after: "Next",
    pages: "Pages of lines",
    leaveOut: "Leave out",
    takeIn: "Take in after all",
    further: "One more game that day",
    leaveOutLine: (line: number) => `Leave out line ${line}`,
    takeInLine: (line: number) => `Take in line ${line} after all`,
    furtherLine: (line: number) => `Line ${line} is one more game that day`,
    typeAnew: (line: number, field: FieldName) => `Line ${line}, ${fieldLabel(field).toLowerCase()}`,
    recorded: (told: string) => `The record has: ${told}.`,
    differsIn: (facts: readonly FactName[]) => `Different: ${facts.map((fact) => factWords[fact]).join(", ")}.`,
    toCorrect: "If the record is wrong, correct it under Enter.",
    twin: (line: number) => `Says the same as line ${line}: it is saved as one more game.`,
    filled: "Handicap from the record.",
    unread: "cannot be read",
  },
  save: {
    title: "Save",
    button: (many: number) => `Save ${games(many)}`,
    nothing: "There is nothing new to save.",
    waitFaulty: (many: number) =>
      `${lines(many)} ${many === 1 ? "is" : "are"} faulty. Put ${many === 1 ? "it" : "them"} right or leave ${many === 1 ? "it" : "them"} out: until then nothing is saved.`,
    waitDiffers: (many: number) =>
      `${lines(many)} ${many === 1 ? "differs" : "differ"} from the record. Leave ${many === 1 ? "it" : "them"} out, or say that ${many === 1 ? "it is one more game" : "they are further games"}.`,
    leaveOutFaulty: (many: number) => (many === 1 ? "Leave out the faulty line" : `Leave out the ${many} faulty lines`),
    leaveOutDiffering: (many: number) =>
      many === 1 ? "Leave out the one that differs" : `Leave out the ${many} that differ`,
    all: "Saved all together or not at all.",
    inParts:
      "So many are saved in parts, the oldest games first; each part is saved all together or not at all. You can stop between two parts: what is saved stays.",
    soFar: (done: number, all: number) => `${number(done)} of ${games(all)} saved`,
    stop: "Stop after this part",
    stopped: (done: number, all: number) =>
      done === 0 ? "Stopped. Nothing is saved." : `Stopped: ${number(done)} of ${games(all)} are saved, the oldest.`,
    stoppedMeans:
      "What is saved stays in the record; until more is brought in, it can be taken back below as the last import. Save again for the rest: what is in the record already is passed over.",
    busy: (many: number) => `Signing and saving ${games(many)}…`,
    done: (many: number) => `${games(many)} saved`,
    changed: "The record has changed since the lines were read. They were looked at again: please look once more.",
    alsoVisitors: (many: number) => (many === 0 ? "" : ` ${count(many, "visitor")} will join.`),
    alsoEvents: (many: number) => (many === 0 ? "" : ` ${count(many, "event")} will be opened.`),
  },
  undo: {
    title: "The last import",
    what: (many: number, name: string, on: string) =>
      `${games(many)} ${name === "" ? "pasted" : `from ${name}`}, saved on ${on}.`,
    button: "Take the whole import back",
    ask: (many: number) => `Take back all ${games(many)}?`,
    means:
      "Each is taken back with an entry of its own; both stay in the record. Cards are as they would be without them. Visitors and events that other games need by now stay.",
    yes: "Take them back",
    reason: "the whole import was taken back",
    done: (many: number) => `${count(many, "entry", "entries")} of the import taken back`,
    nothing: "Nothing of it stands any more.",
    putAway: "Put away",
  },
  out: {
    title: "Take things out",
    lead: "As a table for a spreadsheet (CSV), or for another program (JSON).",
    sheets: {
      members: ["Members", "name, standing, handicap, index, games"],
      results: ["Results", "a line for each game; it can be brought in again"],
      cards: ["Cards", "a line for each line of every card"],
    },
    csv: (what: string) => `${what} as CSV`,
    json: (what: string) => `${what} as JSON`,
    juniors: "Juniors with their full names",
    juniorsHint: "Without it they are written by the short name: a file leaves the club more easily than a card.",
    written: (name: string, rows: number) => `${name} written, ${lines(rows)}.`,
    record: "The whole record as signed entries is under Sharing:",
    recordLink: "a copy that anybody can check",
  },
} as const;
