/** What people read when a file, or one line of it, cannot be taken as it is. */
import type { Format } from "@sward/core";
import { winningScore } from "@sward/core";
import { showDay } from "../dates.ts";
import type { DecodingFault } from "../files/decoding.ts";
import type { LineFault } from "../files/faults.ts";
import type { TableFault } from "../files/reading.ts";
import { occasionWords } from "./play.ts";

/** Why there is no table, and what to do. */
export function tableFaultWords(fault: TableFault | DecodingFault): string {
  switch (fault.type) {
    case "table-empty":
      return "There is no line to read. Choose another file, or paste the lines with the games.";
    case "table-quotes":
      return `Line ${fault.line} has a quotation mark that is not closed or stands in the wrong place, and what follows cannot be told apart. Put the whole cell between quotation marks, and write one inside it twice.`;
    case "table-too-long":
      return `There are ${fault.lines} lines; at most ${fault.most} are read at a time. Split the file by seasons.`;
    case "file-too-big":
      return `The file has ${Math.ceil(fault.bytes / 1_000_000)} MB; at most ${fault.most / 1_000_000} MB are read. A year of results has less than one: is it the right file?`;
    case "file-is-workbook":
      return "That is a spreadsheet's own file. Open it there and save the sheet as CSV, or copy the cells and paste them here.";
    case "file-not-text":
      return "That is no text file. Choose a CSV or TSV file.";
  }
}

const wins = (format: Format): string => `the winner of ${format} points has ${winningScore(format)}, the loser fewer`;

/** What is wrong, and what to do. */
export function lineFaultWords(fault: LineFault): string {
  const { text } = fault;
  switch (fault.type) {
    case "no-date":
      return "There is no date. Write it, such as 2031-05-24.";
    case "not-a-date":
      return `“${text}” is not a day there is. Write it, such as 2031-05-24.`;
    case "date-order-open":
      return `“${text}” can be read in two ways. Say above how the dates are written.`;
    case "date-is-a-number":
      return `“${text}” is a spreadsheet's number for a day. Show the column as a date there, or write the day.`;
    case "future-date":
      return `The day has not come yet; today is ${showDay(fault.today)}. Correct it.`;
    case "not-a-time":
      return `“${text}” is not a time. Write it as 14:30, or nothing.`;
    case "no-name":
      return "There is no name. Write it, or match the right column above.";
    case "name-unknown":
      return `Nobody is called “${text}”. Say above who it is, or write the name as it is in the record.`;
    case "name-of-several":
      return `Two or more are called “${text}”. Say above which, or write the full name.`;
    case "name-too-long":
      return "That is too long for a name. Is it the right column?";
    case "three-in-a-cell":
      return "There are more than two people on one side. Take one out.";
    case "uneven-sides":
      return "One side has more players than the other. Fill in the partner, or take the other one out.";
    case "player-twice":
      return `${text} is there twice. Write who else it was.`;
    case "no-handicap":
      return `The record does not know what ${text} was played off. Write the handicap.`;
    case "handicap-moves":
      return "The handicap is missing, and games before it in this file may change it. Write it, or bring in the earlier days first.";
    case "not-a-handicap":
      return `“${text}” is not a handicap. Write a whole number, such as 7 or -2.`;
    case "handicap-not-in-table":
      return `There is no handicap ${text} in ${fault.rules}. Correct it.`;
    case "no-score":
      return "There is no score. Write it.";
    case "not-a-score":
      return `“${text}” is not a score. Write the hoops, own side first.`;
    case "score-is-a-date":
      return `The spreadsheet has made a day of the score: “${text}”. Write it again, such as 7-4; there, make the column plain text.`;
    case "score-cannot-be":
      return `${text} cannot be: ${wins(fault.format)}. Correct it, or say that the game ended on time or was abandoned.`;
    case "not-an-ending":
      return `“${text}” is not an ending. Write time, abandoned, walkover or nothing.`;
    case "not-a-play":
      return `“${text}” is neither. Write H for handicap play or L for level play.`;
    case "not-a-format":
      return `“${text}” is no length of game. Write 7, 13 or 19.`;
    case "not-an-occasion":
      return `“${text}” is not known. Write one of: ${Object.values(occasionWords).join(", ")}.`;
    case "no-occasion":
      return "It does not say what it was played as. Choose it above for all such lines, or write it.";
    case "not-yes-or-no":
      return `“${text}” is neither yes nor no. Write no only where both sides agreed beforehand that it does not count.`;
    case "not-a-number":
      return `“${text}” is not a number of a match or game. Write 1, 2, 3 or nothing.`;
    case "event-open":
      return `The event “${text}” is not in the record. Say above whether to open it.`;
    case "event-not-on-day":
      return `“${text}” was from ${showDay(fault.from)} to ${showDay(fault.to)}. Correct the date, or say above what to do.`;
    case "game-twice":
      return "Two lines are the same game of one match. Number them 1, 2, 3, or leave one out.";
    case "games-missing":
      return `This is game ${text} of a match whose earlier games are not all there. Bring them in together, or number it anew.`;
    case "match-disagrees":
      return "The lines of this match disagree in handicaps, in what it was played as, or in whether it counts. Make them agree.";
    case "too-many-that-day":
      return "These players would have more than 50 matches that day. Is the date right?";
  }
}
