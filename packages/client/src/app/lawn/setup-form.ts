/**
 * Setting up a pad. The seats are those of the entry form, so that names, handicaps and extra strokes behave as they do there; but a
 * game at the lawn does not wait for a name or a handicap: whatever is missing is asked for when the result is entered.
 */
import type { Fixture, RuleSet } from "@sward/core";
import { readOffs, readWhole } from "../entry/check.ts";
import type { Extras } from "../entry/extras.ts";
import { extrasOf } from "../entry/extras.ts";
import type { EntryForm, Seat } from "../entry/form.ts";
import { seatsOf } from "../entry/form.ts";
import type { PadSeat, PadSetup, SideAt, TimeLimit } from "./pad.ts";

export interface SetupForm {
  /** Of the entry form, only players, handicaps, length, play and the choice of a pair are used. */
  readonly match: EntryForm;
  /** Extra strokes by seat, as typed where the rules cannot work them out. */
  readonly typed: readonly [string, string, string, string];
  readonly first: SideAt;
  readonly leads: readonly [SideAt, SideAt];
  readonly colours: PadSetup["colours"];
  readonly limited: boolean;
  readonly minutes: string;
  readonly turns: string;
  readonly level: TimeLimit["level"];
  readonly slot: PadSetup["slot"];
}

/**
 * With a time limit as a club's competition prints it: 50 minutes, then 8 more turns (Caversham Croquet Club,
 * https://cavershamcroquet.uk/blog/2022/05/18/gc-handicap-competitions-rules/). Off until somebody asks for it.
 */
export const newSetup = (match: EntryForm): SetupForm => ({
  match,
  typed: ["", "", "", ""],
  first: 0,
  leads: [0, 0],
  colours: "primary",
  limited: false,
  minutes: "50",
  turns: "8",
  level: "next-hoop",
  slot: null,
});

export type SetupFault =
  | { readonly field: `given-${Seat}`; readonly type: "not-a-count"; readonly text: string }
  | { readonly field: "minutes" | "turns"; readonly type: "not-a-count"; readonly text: string };

export const extrasHere = (form: SetupForm, rules: RuleSet | undefined): Extras =>
  extrasOf(rules, form.match, readOffs(form.match, rules));

/** Puts a slot of a fixture into the form: what it settles, and the home side first. */
export function withSlot(form: SetupForm, slot: PadSetup["slot"], fixture: Fixture | undefined): SetupForm {
  const asked = slot === null ? undefined : fixture?.slots[slot.number - 1];
  if (asked === undefined) return { ...form, slot: null };
  const { play, format, discipline } = asked;
  return { ...form, slot, match: { ...form.match, play, format, doubles: discipline === "doubles" } };
}

/** A pad's setup, or what is wrong with the numbers of the form. */
export function setupOf(form: SetupForm, rules: RuleSet | undefined): PadSetup | readonly SetupFault[] {
  const { match } = form;
  const faults: SetupFault[] = [];
  const extras = extrasHere(form, rules);
  const way = extras.type === "ways" ? (extras.ways[match.choice] ?? extras.ways[0]) : undefined;
  const givenTo = (seat: Seat): number => {
    if (match.play === "level") return 0;
    if (way !== undefined) return way[seat < 2 ? 0 : 1]?.[seat % 2] ?? 0;
    const typed = form.typed[seat].trim();
    const count = typed === "" ? 0 : counted(typed, 0, 60);
    if (count === null) faults.push({ field: `given-${seat}`, type: "not-a-count", text: typed });
    return count ?? 0;
  };
  const seatOf = (seat: Seat): PadSeat => {
    const { text, player, off } = match.seats[seat];
    return { player, name: text.trim(), off: off.trim(), given: givenTo(seat) };
  };
  const seats = seatsOf(match).map(seatOf);
  const half = seats.length / 2;
  const limit = form.limited ? readLimit(form, faults) : null;
  if (faults.length > 0) return faults;
  const { format, play, doubles } = match;
  const { first, leads, colours, slot } = form;
  const sides: PadSetup["sides"] = [seats.slice(0, half), seats.slice(half)];
  return { format, play, doubles, sides, first, leads: [...leads], colours, limit, slot };
}

function readLimit({ minutes, turns, level }: SetupForm, faults: SetupFault[]): TimeLimit | null {
  const read = { minutes: counted(minutes, 1, 600), turns: counted(turns, 0, 40) };
  if (read.minutes === null) faults.push({ field: "minutes", type: "not-a-count", text: minutes });
  if (read.turns === null) faults.push({ field: "turns", type: "not-a-count", text: turns });
  return read.minutes === null || read.turns === null ? null : { minutes: read.minutes, turns: read.turns, level };
}

function counted(text: string, min: number, max: number): number | null {
  const value = readWhole(text);
  return value !== null && value >= min && value <= max ? value : null;
}
