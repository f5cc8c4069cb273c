/**
 * A fixture's match sheet: for every slot who meets whom by the places of the two teams, off what, and the extra strokes. The handicaps
 * are those the teams were named with, that is, those stated that day, so the sheet printed at the lawn and the one on the other
 * club's telephone are the same. Strokes are every lawful choice, as everywhere: where a pair may choose, the sheet says so.
 *
 * API: `matchSheet(rules, set, fixture)` → slots in the order of the rules.
 *
 * SPEC: LG38, LG39.
 */
import type { PlayerId } from "../ids.ts";
import type { Format, Play } from "../ledger/kinds.ts";
import type { RuleSet } from "../rules/rule-set.ts";
import type { Choice } from "../strokes/choice.ts";
import type { StrokesFault } from "../strokes/extra-strokes.ts";
import { extraStrokes } from "../strokes/extra-strokes.ts";
import type { LeagueFixture, NamedTeam } from "./league-book.ts";
import type { LeagueRules, SlotRule } from "./league-rules.ts";

export interface SheetSeat {
  /** Place in the team, from 1. */
  readonly seat: number;
  /** Null while the team is not named, or has not so many. */
  readonly player: PlayerId | null;
  readonly off: number | null;
}

export interface SheetSlot {
  /** From 1. */
  readonly number: number;
  readonly play: Play;
  readonly format: Format;
  readonly bestOf: SlotRule["bestOf"];
  readonly home: readonly SheetSeat[];
  readonly away: readonly SheetSeat[];
  readonly strokes:
    | { readonly is: "level" }
    | { readonly is: "not-named" }
    /** At least one choice; side 1 is the home side. */
    | { readonly is: "given"; readonly choices: readonly Choice[] }
    | { readonly is: "cannot-be"; readonly fault: StrokesFault };
}

export function matchSheet(
  rules: LeagueRules,
  set: RuleSet,
  { teams: [home, away] }: Pick<LeagueFixture, "teams">,
): readonly SheetSlot[] {
  return rules.slots.map((slot, at) => {
    const sides = [seated(home, slot.home), seated(away, slot.away)] as const;
    const { play, format, bestOf } = slot;
    return {
      number: at + 1,
      play,
      format,
      bestOf,
      home: sides[0],
      away: sides[1],
      strokes: strokesOf(set, slot, sides),
    };
  });
}

const seated = (team: NamedTeam | null, seats: readonly number[]): readonly SheetSeat[] =>
  seats.map((seat) => {
    const named = team?.players[seat - 1];
    return { seat, player: named?.player ?? null, off: named?.off ?? null };
  });

function strokesOf(
  set: RuleSet,
  { play, format }: SlotRule,
  sides: readonly (readonly SheetSeat[])[],
): SheetSlot["strokes"] {
  if (play === "level") return { is: "level" };
  const offs = sides.map((side) => side.flatMap(({ off }) => (off === null ? [] : [off])));
  if (offs.some((side, at) => side.length !== sides[at]?.length)) return { is: "not-named" };
  const answer = extraStrokes(set, { play, format, sides: offs });
  return answer.ok ? { is: "given", choices: answer.value.choices } : { is: "cannot-be", fault: answer.fault };
}
