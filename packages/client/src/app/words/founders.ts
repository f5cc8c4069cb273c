/** What people read when those who began with the record are asked about. */
import { count, number } from "../words.ts";

export const foundersWords = {
  title: (many: number) =>
    many === 1
      ? "One began with the record: a beginner then?"
      : `${many} began with the record: was any of them a beginner?`,
  lead: "They were written down before the first game, so the record cannot tell a starting handicap from one of long standing. Open the card of whoever was a beginner, and sign it off or set another handicap there.",
  since: (handicap: number, won: number, games: number, from: number, to: number) =>
    `handicap ${number(handicap)}, won ${won} of ${count(games, "game")} that count, index ${number(from)} to ${number(to)}`,
  none: (many: number) => (many === 1 ? "Was no beginner" : "None of them was a beginner"),
  done: (many: number) =>
    `The start of ${count(many, "card")} is signed as seen; a change of handicap is signed off as always.`,
} as const;
