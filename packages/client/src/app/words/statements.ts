/** What people read about handicaps that clubs state in a league. */
import { showDay, showMoment } from "../dates.ts";
import { count, number } from "../words.ts";

export const statementsWords = {
  title: "Handicaps stated",
  lead: "What each club says its players play off, and since when it says so. It is here without a signal too.",
  none: "No clubs are in the league yet.",
  nobody: "This club has entered nobody yet.",
  ours: "our club",
  head: { player: "Player", handicap: "Handicap", index: "Index", asOf: "As of", by: "Stated by", card: "Our card" },
  notStated: "not stated",
  by: (by: string, at: string) => `${by}, ${showMoment(at)}`,
  card: (handicap: number, index: number) => `${number(handicap)}, index ${number(index)}`,
  same: "the same",
  due: (many: number) =>
    `${count(many, "player's", "players'")} card says something else than is stated, or nothing is stated.`,
  allStated: "Everything stated is what our cards say.",
  state: (many: number) => `State ${count(many, "handicap")} as of today`,
  saved: (many: number) => `${count(many, "handicap is", "handicaps are")} stated in the league.`,
  mayNot: "A handicapper's device states our players' handicaps.",
  offOthers: {
    title: "Played off another handicap",
    lead: "A match stands as it was played. Both clubs see here what would have been different.",
    none: "No match was played off another handicap than the one stated for its day.",
    who: (name: string, off: number, stated: number, on: string) =>
      `${name} was off ${number(off)}; stated for the day was ${number(stated)}, as of ${showDay(on)}.`,
    strokes: (was: string, would: string) => `Extra strokes, side by side: ${was}. They would have been ${would}.`,
    points: (game: number, was: number | null, would: number | null) =>
      `Game ${game}: ${points(was)} exchanged. It would have been ${points(would)}.`,
    nothing: "Nothing would have been different: neither strokes nor points.",
    or: " or ",
  },
} as const;

const points = (value: number | null): string => (value === null ? "no points" : count(value, "point"));
