/**
 * The handicap to play off on a day. The clock's place is here, as a parameter from whoever has one: a change that waits for the
 * end of a day or of an event is on the card already, and is not in force until the day after.
 *
 * SPEC: RP.
 */
import type { Day } from "../ledger/kinds.ts";
import type { Card } from "../state.ts";
import { countUpTo, linesOf } from "./card-lines.ts";

/** The handicap for games of `day`, as far as the record goes; and the change that is waiting, if one is. */
export function handicapInForce(
  card: Pick<Card, "lines" | "handicap">,
  day: Day,
): { readonly handicap: number; readonly waiting: { readonly to: number; readonly after: Day } | null } {
  const lines = linesOf(card);
  const count = countUpTo(lines, day);
  if (count === 0) return { handicap: lines.count === 0 ? card.handicap : lines.lineAt(0).handicap, waiting: null };
  const last = lines.lineAt(count - 1);
  if (last.line === "game" && last.moved !== null && last.moved.after !== null && last.moved.after >= day) {
    return { handicap: last.moved.from, waiting: { to: last.moved.to, after: last.moved.after } };
  }
  return { handicap: last.handicap, waiting: null };
}
