/** What people read of a game, a change and a signature, wherever it is: the first screen has these without the rest of the card's. */
import type { CardLine, Day, GameLine } from "@sward/core";
import { showDay } from "../dates.ts";
import { number, reasonWords, signed } from "../words.ts";

export const changeWords = {
  moved: (from: number | null, to: number): string =>
    from === null ? `Starts at ${number(to)}` : `Handicap ${number(from)} to ${number(to)}`,
  notice: (off: number, record: number) => `Played off ${number(off)}; the record says ${number(record)} that day`,
  signedOff: (name: string, upto: Day) => `${name}'s card is signed off up to ${showDay(upto)}.`,
  here: (office: string) => `This is ${office}.`,
} as const;

/** Why the line stands as it does, in words. */
export function whyWords(line: CardLine): string {
  return line.line === "set" ? `${reasonWords[line.reason]}: ${line.why}` : reasonWords[line.reason];
}

/** Such as "+10", "−4", and "0" for a game that counted for nothing. */
export const pointsWords = (line: GameLine): string => signed(line.points);

/** Own score first, such as "7–4". */
export const scoreWords = ({ score: [own, other] }: Pick<GameLine, "score">): string => `${own}–${other}`;
