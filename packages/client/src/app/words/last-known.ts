/** What people read while a record is being read, over what this device last knew of it. */
import { number } from "../words.ts";

export const lastKnownWords = {
  title: (moment: string) => `As this device knew it: ${moment}`,
  body: (entries: number) =>
    `Reading the record, ${number(entries)} entries. Nothing has to be done: the screen goes on by itself.`,
  none: "When the record was last looked at there was nothing to do.",
  elsewhere: "This screen needs the record itself. It opens as soon as it has been read.",
  unnamed: "no name here",
  more: (more: number) => `and ${number(more)} more`,
  games: (games: number) => (games === 1 ? "1 game in 12 months" : `${number(games)} games in 12 months`),
} as const;
