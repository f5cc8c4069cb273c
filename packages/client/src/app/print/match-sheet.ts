/**
 * A match sheet: line-ups with the handicaps known of them and from when, and the extra strokes of every slot, with each lawful choice
 * in doubles. A team that its club has named is on the sheet off the handicaps it was named with; a line-up that a captain only tries out
 * is in the address of the sheet and not in the record, so that nobody else sees it.
 */
import type { Day, Fixture, Format, Play, PlayerId, SeatExtras } from "@sward/core";
import { extrasOf } from "../entry/extras.ts";
import type { Advice } from "../entry/played-off.ts";
import type { ReadableBook, ReadableDesk } from "../entry/reading.ts";
import { rulesOnDay } from "../entry/rules-on.ts";
import type { NamedSides } from "../league/named-sides.ts";
import { adviseInLeague, rulesOfLeague } from "../league/slot-form.ts";
import { reportOf, reportOfOther, viewSlots } from "../league/slots.ts";
import { tokenOf } from "./wall-plan.ts";

export interface SheetSeat {
  readonly player: PlayerId | null;
  /** Null where it has to be written in by hand. */
  readonly handicap: number | null;
  readonly from: SheetSource;
}

/** Where a handicap on the sheet comes from. `reported`: what the match was reported as played off. */
export type SheetSource =
  | { readonly type: "reported" | "named" | "card" | "stated" | "last-played"; readonly on: Day }
  | { readonly type: "nobody" };

export interface SheetSlot {
  readonly number: number;
  readonly discipline: "singles" | "doubles";
  readonly play: Play;
  readonly format: Format;
  /** Home side first. */
  readonly sides: readonly [readonly SheetSeat[], readonly SheetSeat[]];
  /** Null in level play, and while a handicap is missing. */
  readonly ways: readonly SeatExtras[] | null;
}

const emptySeat: SheetSeat = { player: null, handicap: null, from: { type: "nobody" } };

/** Name of a slot's line-up in an address: `s1=<home>.<home>.<away>.<away>`, each the first letters of an id or nothing. */
export const slotName = (number: number): string => `s${number}`;

export function fixtureSheet(
  desk: ReadableDesk,
  league: ReadableBook,
  fixture: Fixture,
  query: Readonly<Record<string, string>>,
  today: Day,
  named: ReadonlyMap<number, NamedSides> = new Map(),
): readonly SheetSlot[] {
  const day = fixture.date > today ? today : fixture.date;
  const rules = rulesOnDay(rulesOfLeague(league.state(), desk.club.state()), fixture.date);
  const byToken = new Map([...league.state().players.keys()].map((player) => [tokenOf(player), player]));
  return viewSlots(league, fixture).map((slot) => {
    const { discipline, play, format } = slot.slot;
    const written = query[slotName(slot.number)];
    const report = reportOf(slot, fixture.home, league.device) ?? reportOfOther(slot, fixture.home);
    const teams = named.get(slot.number);
    const sides =
      written === undefined && report !== null
        ? seatsKnown("reported", report.facts.sides, report.facts.date)
        : written === undefined && teams !== undefined
          ? seatsKnown("named", teams, fixture.date)
          : seatsWritten(written ?? "", discipline, (token) => {
              const player = byToken.get(token);
              return player === undefined ? emptySeat : seatOf(player, adviseInLeague(desk, league, player, day), day);
            });
    const offs = sides.map((side) => side.map(({ handicap }) => handicap));
    const known = offs.flat().includes(null) ? null : offs.map((side) => side.map((off) => off ?? 0));
    const extras = extrasOf(rules, { play, format }, known);
    const ways = extras.type === "ways" ? extras.ways : null;
    return { number: slot.number, discipline, play, format, sides, ways };
  });
}

function seatsKnown(
  type: "reported" | "named",
  sides: readonly (readonly { readonly player: PlayerId; readonly off: number }[])[],
  on: Day,
): SheetSlot["sides"] {
  const [home = [], away = []] = sides.map((side) =>
    side.map(({ player, off }): SheetSeat => ({ player, handicap: off, from: { type, on } })),
  );
  return [home, away];
}

function seatsWritten(
  written: string,
  discipline: SheetSlot["discipline"],
  seat: (token: string) => SheetSeat,
): SheetSlot["sides"] {
  const [a = "", b = "", c = "", d = ""] = written.split(".");
  return discipline === "singles"
    ? [[seat(a)], [seat(c)]]
    : [
        [seat(a), seat(b)],
        [seat(c), seat(d)],
      ];
}

function seatOf(player: PlayerId, advice: Advice, day: Day): SheetSeat {
  if (advice.from === "nobody") return { player, handicap: null, from: { type: "nobody" } };
  return { player, handicap: advice.off, from: { type: advice.from, on: advice.from === "card" ? day : advice.on } };
}

/** A slot's line-up for the address with one seat changed; seats are home, home partner, away, away partner. */
export function withSeat(slot: SheetSlot, seat: 0 | 1 | 2 | 3, player: PlayerId | null): string {
  const tokens = ([0, 1] as const).flatMap((side) =>
    ([0, 1] as const).map((at) => {
      const known = slot.sides[side][at]?.player ?? null;
      return known === null ? "" : tokenOf(known);
    }),
  );
  tokens[seat] = player === null ? "" : tokenOf(player);
  return tokens.join(".");
}

/** A sheet with nobody on it yet, singles first. */
export function blankSheet(shape: BlankShape): readonly SheetSlot[] {
  const { singles, doubles, play, format } = shape;
  return Array.from({ length: singles + doubles }, (_, at): SheetSlot => {
    const discipline = at < singles ? "singles" : "doubles";
    const side = discipline === "singles" ? [emptySeat] : [emptySeat, emptySeat];
    return { number: at + 1, discipline, play, format, sides: [side, side], ways: null };
  });
}

export interface BlankShape {
  readonly singles: number;
  readonly doubles: number;
  readonly play: Play;
  readonly format: Format;
}
