/**
 * The handicap to play off on a day. The clock's place is here, as a parameter from whoever has one: a change that waits for the
 * end of a day or of an event is on the card already, and is not in force until the day after.
 *
 * SPEC: RP.
 */
import type { Day } from "../ledger/kinds.ts";
import type { Card, CardLine } from "../state.ts";

/** The handicap for games of `day`, as far as the record goes; and the change that is waiting, if one is. */
export function handicapInForce(
  card: Pick<Card, "lines" | "handicap">,
  day: Day,
): { readonly handicap: number; readonly waiting: { readonly to: number; readonly after: Day } | null } {
  const position = lastLineBy(card.lines, day);
  const last = card.lines[position];
  if (last === undefined) return { handicap: firstHandicap(card), waiting: null };
  if (last.line === "game" && last.moved !== null && last.moved.after !== null && last.moved.after >= day) {
    return { handicap: last.moved.from, waiting: { to: last.moved.to, after: last.moved.after } };
  }
  return { handicap: last.handicap, waiting: null };
}

function lastLineBy(lines: readonly CardLine[], day: Day): number {
  let position = lines.length - 1;
  while (position >= 0 && (lines[position]?.date ?? "") > day) position -= 1;
  return position;
}

const firstHandicap = (card: Pick<Card, "lines" | "handicap">): number => card.lines[0]?.handicap ?? card.handicap;
