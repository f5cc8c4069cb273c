/**
 * What people read when something is refused: what is wrong, why, and what to do. One table for all faults, so that a screen, the
 * command line and a test say the same, and so that all of it can be read (and one day translated) in one place. Each area adds
 * its union to `Fault` and its lines to the table; a fault without a sentence does not compile. Rejected: a message inside the
 * fault (core would have to know a language).
 */
import type { ExchangeFault, StrokesFault } from "@sward/core";
import type { AppendFault, EraseFault } from "./book/faults.ts";
import type { CliFault, ResultsFault } from "./cli/faults.ts";
import type { Message, Messages } from "./message.ts";
import type { FaultOfJoining } from "./messages-of-joining.ts";
import { messagesOfJoining } from "./messages-of-joining.ts";
import type { FaultOfLeagues } from "./messages-of-leagues.ts";
import { messagesOfLeagues } from "./messages-of-leagues.ts";
import type { FaultOfRecords } from "./messages-of-records.ts";
import { messagesOfRecords } from "./messages-of-records.ts";

export type { Message } from "./message.ts";

export type Fault =
  | StrokesFault
  | ExchangeFault
  | CliFault
  | ResultsFault
  | AppendFault
  | EraseFault
  | FaultOfRecords
  | FaultOfJoining
  | FaultOfLeagues;

/** Shown wherever a computed number could be taken for a ruling. */
export const PREVAIL = "The governing body's regulations and your club's committee always prevail over these numbers.";

const players = (count: number): string => (count === 1 ? "1 player" : `${count} players`);

/** What a column of a results file must hold. */
const wanted: Readonly<Record<string, string>> = {
  date: "a day that exists, written 2031-05-24",
  opponent: "the opponent's name",
  opponent_handicap: "the handicap the opponent was played off, such as 4 or -2",
  play: "H for handicap play or L for level play",
  score: "the player's own score first, such as 7-4",
  occasion:
    "calendar-event, league, inter-club, inter-club-friendly, club-competition, club-friendly or ad-hoc, or nothing for club-competition",
  format: "7, 13 or 19, or nothing for 13",
  ended: "time, abandoned or walkover, or nothing for a game played out",
};

const noSuchHandicap = (handicap: number, rules: string, whose: string): Message => ({
  what: `There is no handicap ${handicap} in ${rules} (${whose}).`,
  why: "Strokes and points are worked out only from handicaps in the trigger table.",
  todo: `Check the handicap on the card; \`sward rules ${rules}\` lists those there are.`,
});

/** What a device that was refused is, as far as the book goes. */
const offices: Readonly<Record<Extract<AppendFault, { readonly type: "may-not" }>["role"], string>> = {
  root: "The club's own key opens the book and admits devices; in a league each club writes for itself.",
  handicapper:
    "A handicapper's device does everything in its club's book; in a league's book some things are the league's own.",
  recorder: "A recorder's device writes down matches and visitors, and takes back what it wrote itself.",
  reader: "A reader's device shows the record and writes nothing.",
  none: "It has not been admitted to this book yet, or the record has not arrived here.",
  barred: "It was barred by a handicapper of the club.",
};

const badMatch = (fault: Extract<AppendFault, { readonly type: "bad-match" }>["match"]): Message => {
  switch (fault.type) {
    case "uneven-sides":
      return {
        what: "One side has more players than the other.",
        why: "A game is one player against one, or two against two.",
        todo: "Fill in or take out a partner.",
      };
    case "player-twice":
      return {
        what: "One player is there twice.",
        why: "Nobody can play on both sides, or twice on one.",
        todo: "Choose somebody else in one of the two places.",
      };
    case "strokes-of-nobody":
      return {
        what: "The extra strokes do not fit the players.",
        why: "Some are given to, or taken by, a place where nobody plays.",
        todo: "Enter the match again.",
      };
    case "score-cannot-be":
      return {
        what: `Game ${fault.game}: ${fault.score[0]}-${fault.score[1]} cannot be.`,
        why: "A game that was played out has a winner with exactly the hoops needed; one stopped on time or abandoned has none.",
        todo: "Correct the score, or say how the game ended.",
      };
  }
};

const messages: Messages<Fault> = {
  ...messagesOfRecords,
  ...messagesOfJoining,
  ...messagesOfLeagues,
  "strokes-unknown-handicap": ({ rules, side, player, handicap }) =>
    noSuchHandicap(handicap, rules, `side ${side}, player ${player}`),
  "strokes-sides": ({ players: counts }) => ({
    what:
      counts.length === 2
        ? `The sides have ${players(counts[0] ?? 0)} and ${players(counts[1] ?? 0)}.`
        : `There ${counts.length === 1 ? "is 1 side" : `are ${counts.length} sides`}.`,
    why: "A game is one player against one, or two against two.",
    todo: "Give both sides, with one handicap each for singles or two each for doubles.",
  }),
  "strokes-level-play": () => ({
    what: "Level play has no extra strokes.",
    why: "Extra strokes are what handicap play adds to the game.",
    todo: "Choose handicap play, or play without extra strokes.",
  }),
  "strokes-no-conversion": ({ rules, format }) => ({
    what: `${rules} does not say how many extra strokes a ${format}-point game has.`,
    why: "The set has no conversion from the 13-point game for that length.",
    todo: "Choose another length of game or another rule set.",
  }),
  "exchange-unknown-handicap": ({ rules, side, handicap }) => noSuchHandicap(handicap, rules, side),
  "exchange-sides": ({ winners, losers }) => ({
    what: `There ${winners === 1 ? "is 1 winner" : `are ${winners} winners`} and ${losers === 1 ? "1 loser" : `${losers} losers`}.`,
    why: "A game is one player against one, or two against two.",
    todo: "Give one handicap each for singles, or two each for doubles.",
  }),
  "exchange-not-read": ({ rules, play, players: count }) => ({
    what: `${rules} has no points for ${play} ${count === 2 ? "singles" : "doubles"}.`,
    why: "The governing body has a table for these games, but it could not be read, and nothing is guessed.",
    todo: "Ask the club's handicapper for the points, and have the index set by hand.",
  }),
  "command-line": ({ command, problem }) => ({
    what: problem.endsWith(".") ? problem : `${problem}.`,
    why: "The command was not carried out.",
    todo: `\`${command} --help\` shows how it is used, with an example.`,
  }),
  "rules-unknown": ({ rules, known }) => ({
    what: `There is no rule set "${rules}".`,
    why: `Known are ${known.join(", ")}.`,
    todo: "`sward rules` lists them with their titles.",
  }),
  "not-a-handicap": ({ given }) => ({
    what: `"${given}" is not a handicap.`,
    why: "A handicap is a whole number, negative for the strongest players.",
    todo: "Write it as 4 or -2; the two of a pair with a comma between them: 4,9.",
  }),
  "not-an-index": ({ given }) => ({
    what: `"${given}" is not an index.`,
    why: "An index is a whole number of points, such as 1390.",
    todo: "Give the last index on the card, or leave the option out to begin at the handicap's trigger point.",
  }),
  "start-unknown-handicap": ({ rules, handicap }) => noSuchHandicap(handicap, rules, "where the card begins"),
  "results-empty": () => ({
    what: "The file holds no results.",
    why: "There is no line below the heading.",
    todo: "Put one game on each line, under the heading date,opponent,opponent_handicap,play,score,event.",
  }),
  "results-column-missing": ({ column, found }) => ({
    what: `The heading has no column "${column}".`,
    why: `Line 1 reads: ${found.join(", ")}.`,
    todo: "The heading must be date,opponent,opponent_handicap,play,score,event, in any order.",
  }),
  "results-column-twice": ({ column }) => ({
    what: `The heading has the column "${column}" twice.`,
    why: "It cannot be told which of the two is meant.",
    todo: "Take one of them out or give it another name.",
  }),
  "results-quotes": ({ line }) => ({
    what: `Line ${line} has a quotation mark that is not closed or stands in the wrong place.`,
    why: "What follows it cannot be told apart into columns.",
    todo: 'Put the whole value between quotation marks, and write one inside it twice: "Ada ""Hoops"" Finch".',
  }),
  "results-fields": ({ line, fields, columns }) => ({
    what: `Line ${line} has ${fields} values; the heading has ${columns} columns.`,
    why: "A value is missing, or a comma stands inside one.",
    todo: "Give a value for every column (nothing between two commas is a value), and put one that has a comma between quotation marks.",
  }),
  "results-value": ({ line, column, given }) => ({
    what:
      given === ""
        ? `Line ${line}, ${column}: nothing is there.`
        : `Line ${line}, ${column}: "${given}" cannot be read.`,
    why: `The column holds ${wanted[column] ?? "something else"}.`,
    todo: "Correct the value; a spreadsheet may have turned it into something else.",
  }),
  "results-future": ({ line, date, today }) => ({
    what: `Line ${line}, date: ${date} lies ahead.`,
    why: `Today is ${today} on this device, and a game is entered after it was played.`,
    todo: "Correct the date, or the clock of this device.",
  }),
  "results-score": ({ line, score, format }) => ({
    what: `Line ${line}, score: ${score} cannot be the end of a ${format}-point game.`,
    why: `The winner has ${(format + 1) / 2} and the loser fewer; only a game stopped by time or given up ends below that.`,
    todo: "Correct the score, or say in a column `ended` that it was time, abandoned or walkover.",
  }),
  "results-unknown-handicap": ({ line, handicap, rules }) =>
    noSuchHandicap(handicap, rules, `line ${line}, opponent_handicap`),
  "bad-draft": ({ kind, path }) => ({
    what: `"${path === "" ? kind : path}" is not filled in as it must be.`,
    why: "Nothing was saved.",
    todo: "Correct that field and save again.",
  }),
  "bad-match": ({ match }) => badMatch(match),
  "future-date": ({ date, today }) => ({
    what: `${date} has not come yet.`,
    why: `Today is ${today} on this device, and only what has been played or looked at can be saved.`,
    todo: "Correct the date; if the date is right, correct the device's own clock.",
  }),
  "unknown-player": () => ({
    what: "One of the players is not known in this book.",
    why: "A match can name only members and visitors who have joined.",
    todo: "Add the player first, then save again.",
  }),
  "handicap-not-in-table": ({ handicap, rules }) => noSuchHandicap(handicap, rules, "played off or to be set"),
  "may-not": ({ role }) => ({
    what: "This device may not do that.",
    why: offices[role],
    todo: "Ask a handicapper of the club to do it, or to change what this device may do.",
  }),
  "not-caught-up": () => ({
    what: "It was not saved: this device is still waiting for its own record.",
    why: "It came with nothing of its own, and may have written from another browser before. Writing now could put two different entries in one place.",
    todo: "Let it meet the relay once. After that it writes with or without a network.",
  }),
  "used-elsewhere": () => ({
    what: "It was not saved: this device's key is being used somewhere else as well.",
    why: "An entry signed with its key arrived that was not written here. Two places that write with one key spoil each other's entries.",
    todo: "Under Sharing the app asks for a new key for this device. A folder of the command line needs an address of its own from a handicapper.",
  }),
  forked: ({ seq }) => ({
    what: "It was not saved: nothing this device writes counts any more.",
    why: `Two different entries of it have place ${seq} in its chain, so its key was used in two places.`,
    todo: "Under Sharing the app asks for a new key for this device. What it wrote before counts; what came after a handicapper can adopt.",
  }),
  "not-saved": ({ cause }) => ({
    what: "It was NOT saved.",
    why: `This device's storage would not take it (${cause}).`,
    todo: "Free some space on the device, load the app again, and save once more.",
  }),
  "may-not-erase": () => ({
    what: "The name was not erased.",
    why: "An erasure cannot be taken back, so it is for a handicapper's device or the key of the record itself.",
    todo: "Ask a handicapper of the club; for a league's record, a handicapper who writes in the league.",
  }),
  "not-erased": ({ cause }) => ({
    what: "The name was NOT erased.",
    why: `This device's storage would not take it (${cause}). Nothing has changed.`,
    todo: "Free some space on the device, load the app again, and erase once more.",
  }),
  "file-not-read": ({ path, cause }) => ({
    what: `The file ${path} could not be read.`,
    why: cause,
    todo: "Check the name of the file and that you may read it.",
  }),
  "file-not-written": ({ path, cause }) => ({
    what: `The file ${path} could not be written.`,
    why: cause,
    todo: "Choose a place you may write to, on a disk that has space.",
  }),
  "not-a-player-id": ({ given }) => ({
    what: `"${given}" is not a player's id.`,
    why: "An id is 22 letters and digits; names are not part of a record.",
    todo: "`sward replay --home` with the device's folder lists the players with their ids.",
  }),
  "export-needs-device": ({ file }) => ({
    what: `A player's record cannot be taken out of ${file}.`,
    why: "Somebody must sign that nothing was left out, and a file cannot sign.",
    todo: "Use --home with the folder of a device of the club; `sward import` brings the file's entries into it first, if need be.",
  }),
  "import-other-book": ({ name, book, ofPlayer }) => ({
    what: `The record is of another book: ${name} (${book}).`,
    why: ofPlayer
      ? "It is one player's. Here a record goes back into the book it came from; a player who comes from another club is another matter."
      : "A device takes a record only into the book it came from.",
    todo: ofPlayer
      ? "Take it in under Members, as a player who comes from another club, or with `sward record import`."
      : "Use a device of that club.",
  }),
};

/** What, why and what to do. */
export function messageOf(fault: Fault): Message {
  const message = messages[fault.type] as (fault: Fault) => Message;
  return message(fault);
}

/** The same as one line of text. */
export function sentenceOf(fault: Fault): string {
  const { what, why, todo } = messageOf(fault);
  return `${what} ${why} ${todo}`;
}
