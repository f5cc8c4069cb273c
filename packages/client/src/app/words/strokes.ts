/** What people read when they only want to know the extra strokes. */
import type { Format, SeatExtras } from "@sward/core";
import { count, number } from "../words.ts";

export const strokesWords = {
  title: "Extra strokes",
  lead: "Tap a handicap on each side, or write one, or find a player by name. All lengths of game are answered at once.",
  sides: "Sides",
  singles: "Singles",
  doubles: "Doubles",
  side: (side: 0 | 1) => (side === 0 ? "One side" : "The other side"),
  handicap: (side: 0 | 1, seat: number, doubles: boolean) =>
    `${side === 0 ? "One side" : "The other side"}, handicap${doubles ? (seat === 0 ? " of the first" : " of the second") : ""}`,
  byName: (side: 0 | 1) => `${side === 0 ? "One side" : "The other side"}, by name`,
  tapHint: "Handicaps",
  unknown: (text: string) => `“${text}” is not a handicap in the table.`,
  clear: "Begin again",
  answer: "Who receives what",
  notYet: "Choose a handicap on each side.",
  notYetDoubles: "Choose two handicaps on each side.",
  points: (format: Format) => `${format} points`,
  none: "No extra strokes.",
  receives: (way: SeatExtras, labels: readonly (readonly string[])[]): string => {
    const parts = way.flatMap((seats, side) =>
      seats.flatMap((extra, seat) => (extra === 0 ? [] : [{ label: labels[side]?.[seat] ?? "", extra }])),
    );
    const [first, ...rest] = parts;
    if (first === undefined) return strokesWords.none;
    const others = rest.map(({ label, extra }) => `, ${label} ${extra}`).join("");
    const sentence = `${first.label} receives ${count(first.extra, "extra stroke")}${others}.`;
    return `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}`;
  },
  ways: "The pair chooses, before the game, which of these it takes:",
  labels: {
    bare: (handicap: number) => `the ${number(handicap)}`,
    numbered: (seat: number, handicap: number) => `the ${seat === 0 ? "first" : "second"} ${number(handicap)}`,
  },
  noRules: {
    title: "No rules are known here",
    body: "The club has adopted no rule set that this version of the app has. A newer version may have it.",
  },
  rules: (title: string) => `Under ${title}.`,
} as const;
