/**
 * Reporting a slot: the same form and the same checks as any match, with what the fixture has settled already (the kind of play, the
 * length, singles or doubles) and the home side first. The report goes into the league's book.
 */
import type { BookState, Day, Draft, EntryId, Fixture, MatchFacts, MatchReported, PlayerId, Result } from "@sward/core";
import { ok } from "@sward/core";
import type { CheckContext } from "../entry/check.ts";
import { checkForm } from "../entry/check.ts";
import type { FormFault } from "../entry/faults.ts";
import type { EntryForm } from "../entry/form.ts";
import { correctionForm, newForm } from "../entry/form.ts";
import type { Advice } from "../entry/played-off.ts";
import { adviseOff } from "../entry/played-off.ts";
import type { ReadableBook, ReadableDesk } from "../entry/reading.ts";
import type { NamedSides } from "./named-sides.ts";

export interface SlotPlace {
  readonly fixture: Fixture;
  /** From 1. */
  readonly number: number;
}

/** A form for a slot nobody has reported: on the day of the fixture, or today when that lies ahead. */
export function slotForm({ fixture, number }: SlotPlace, today: Day): EntryForm {
  const { discipline, play, format } = slotOf({ fixture, number });
  const date = fixture.date > today ? today : fixture.date;
  return { ...newForm({ date, occasion: "league", event: null, play, format, doubles: discipline === "doubles" }) };
}

/** The same with the players of the two teams where those are named, each off the handicap of the day. */
export function slotFormOf(
  place: SlotPlace,
  today: Day,
  sides: NamedSides | undefined,
  nameOf: (player: PlayerId) => string,
): EntryForm {
  const form = slotForm(place, today);
  if (sides === undefined) return form;
  const { date, play, format } = form;
  const facts = { date, occasion: "league", play, format, sides, games: [], excluded: false } as const;
  return { ...form, seats: formFrom(facts, null, nameOf).seats };
}

/** A form that begins with what a report says, home side first; `replaces` when it is our own that is corrected. */
export function formFrom(facts: MatchFacts, replaces: EntryId | null, nameOf: (player: PlayerId) => string): EntryForm {
  const entry = { id: "" as EntryId, event: null, start: null };
  return { ...correctionForm(facts, entry, () => true, nameOf), replaces };
}

export interface SlotReport {
  readonly draft: Extract<Draft, { kind: "match-reported" }>;
}

/** What is saved for a slot, or everything that is wrong with the form. */
export function checkSlot(
  form: EntryForm,
  place: SlotPlace,
  context: CheckContext,
): Result<SlotReport, readonly FormFault[]> {
  // A slot is a match of its own whatever else these players have that day.
  const checked = checkForm({ ...form, same: "further" }, context);
  if (!checked.ok) return checked;
  return ok({ draft: { kind: "match-reported", body: inSlot(checked.value.body, place) } });
}

/** A report of ours that says what another's says. */
export function copyOf(facts: MatchFacts, place: SlotPlace, replaces: EntryId | null): SlotReport["draft"] {
  const { date, occasion, play, format, sides, games, excluded } = facts;
  const body: MatchReported = {
    date,
    occasion,
    n: 1,
    play,
    format,
    sides: [[...sides[0]], [...sides[1]]],
    games: [...games],
    ...(excluded ? { excluded: true as const } : {}),
    ...(replaces === null ? {} : { replaces }),
  };
  return { kind: "match-reported", body: inSlot(body, place) };
}

const inSlot = (body: MatchReported, { fixture, number }: SlotPlace): MatchReported => ({
  ...body,
  n: 1,
  slot: { fixture: fixture.fixture, number },
});

function slotOf({ fixture, number }: SlotPlace): Fixture["slots"][number] {
  const slot = fixture.slots[number - 1];
  if (slot === undefined) throw new Error(`fixture ${fixture.fixture} has no slot ${number}`);
  return slot;
}

/**
 * The handicap to prefill for a player in a league match: of our own members what the card says on the day, of others what their
 * club states. A statement made since the day is better than nothing, and says from when it is.
 */
export function adviseInLeague(desk: ReadableDesk, league: ReadableBook, player: PlayerId, day: Day): Advice {
  const advice = adviseOff({ club: desk.club, leagues: [league] }, player, day);
  if (advice.from !== "nobody") return advice;
  const stated = league.state().stated.get(player);
  return stated === undefined ? advice : { from: "stated", off: stated.handicap, on: stated.on };
}

/** The rules of a league are its own, or where it adopted none, those of the club at this desk. */
export const rulesOfLeague = (league: BookState, club: BookState): Pick<BookState, "rules"> =>
  league.rules.length > 0 ? league : club;
