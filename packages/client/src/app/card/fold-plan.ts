/**
 * A card that folds: A4 lying down, folded once, four pages of A5. Outside are the front (changes and signatures) and the back (chart
 * and trigger points), inside two pages of games with room left for a pencil; further sheets lie inside the first. Paper does not
 * stretch, so here it is settled what goes on which page, by a cautious guess at how many lines a text takes. Rejected: letting the
 * browser flow it (a game line would fall on the fold, and the front would push the games off the sheet).
 */
import type { Card, CardLine, Day } from "@sward/core";
import { inLastYear } from "../dates.ts";
import type { Change, PlacedLine } from "./card-groups.ts";
import { changesOf } from "./card-groups.ts";

export interface FoldPanel {
  readonly lines: readonly PlacedLine[];
  /** Empty rows below them. */
  readonly blank: number;
}

export interface FoldPlan {
  readonly changes: readonly Change[];
  readonly blankChanges: number;
  readonly earlierChanges: number;
  /** Two, or four, or six: two make one side of a sheet. */
  readonly panels: readonly FoldPanel[];
  readonly earlierLines: number;
}

export type FoldSpan = "year" | "all";

/** Half rows of a page inside, and of the front: a row takes two, and one more for every line of text beyond the second. */
const INSIDE = 46;
const FRONT = 36;
/** Rows kept free on the front for changes to come, where there is so much to say that there is a choice. */
const FREE = 4;
/** Letters that surely fit on one line of the opponents' column, and of one that goes across. */
const OPPONENT = 20;
const ACROSS = 44;
const WHY = 20;

/** @param textOf what a line's longest cell says */
export function planFold(card: Card, span: FoldSpan, today: Day, textOf: (line: CardLine) => string): FoldPlan {
  const all = card.lines.map((line, place): PlacedLine => ({ line, place }));
  const shown = all.filter(({ line }) => span === "all" || inLastYear(line.date, today));
  const pages: PlacedLine[][] = [[]];
  let left = INSIDE;
  for (const placed of shown) {
    const height = halves(textOf(placed.line), placed.line.line === "set" ? ACROSS : OPPONENT);
    if (height > left) {
      pages.push([]);
      left = INSIDE;
    }
    pages.at(-1)?.push(placed);
    left -= height;
  }
  const panels = pages.map(
    (lines, at): FoldPanel => ({
      lines,
      blank: at === pages.length - 1 ? Math.floor(left / 2) : 0,
    }),
  );
  if (panels.length % 2 === 1) panels.push({ lines: [], blank: INSIDE / 2 });
  return { ...frontOf(card, textOf), panels, earlierLines: all.length - shown.length };
}

/** The newest changes that leave some rows free. */
function frontOf(card: Card, textOf: (line: CardLine) => string): Omit<FoldPlan, "panels" | "earlierLines"> {
  const changes = changesOf(card.lines);
  let left = FRONT - FREE;
  let first = changes.length;
  while (first > 0) {
    const change = changes[first - 1];
    const height = change === undefined ? 0 : halves(change.line.line === "set" ? textOf(change.line) : "", WHY);
    if (height > left) break;
    left -= height;
    first -= 1;
  }
  return {
    changes: changes.slice(first),
    blankChanges: Math.floor((left + FREE) / 2),
    earlierChanges: first,
  };
}

/** Height in half rows of a row whose text goes over so many lines of a column. */
export function halves(text: string, letters: number): number {
  return Math.max(2, Math.ceil([...text].length / letters));
}
