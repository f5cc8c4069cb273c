/**
 * A card folded once from all that belongs on it: what would a handicap be if, and a file of results that is in no book.
 *
 * SPEC: RP.
 */
import type { CardInput, FoldedCard } from "./card-input.ts";
import { RunningCard } from "./running-card.ts";

/** Null while nobody has set a handicap for the player. */
export function foldCard(input: CardInput): FoldedCard | null {
  const card = new RunningCard();
  for (const match of input.matches) card.put(match);
  const rows = card.fold(input, input.sets)?.rows;
  if (rows === undefined) return null;
  return { lines: rows.lines, handicap: rows.handicapAt(rows.count - 1), index: rows.indexAt(rows.count - 1) };
}
