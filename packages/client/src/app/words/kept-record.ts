/** What people read about the score pad's record while its report is corrected. */
import type { Lost } from "../entry/kept-record.ts";
import { count } from "../words.ts";

export const keptRecordWords = {
  title: "The score pad's record of this match",
  all: "All of it still fits and goes with the correction: who scored each hoop, and where extra strokes were taken.",
  some: "What fits goes with the correction. Left out:",
} as const;

export function lostWords(lost: Lost): string {
  switch (lost.part) {
    case "game":
      return `game ${lost.game}: all of it, because it was kept for another kind of game or other players`;
    case "hoops":
      return `game ${lost.game}: who scored each hoop, because it comes to another score`;
    case "taken":
      return `game ${lost.game}: ${count(lost.strokes, "extra stroke")} taken, because the corrected game has no room for ${lost.strokes === 1 ? "it" : "them"}`;
    case "given":
      return "the extra strokes each was given: they are reckoned anew from the corrected handicaps";
  }
}
