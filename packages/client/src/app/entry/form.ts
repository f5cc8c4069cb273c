/**
 * A match as it stands on the screen before it is saved: what was typed, not yet what it means. Everything here is plain data and
 * each change gives a new form, so that what a key press does can be tested without a screen. `checkForm` says what is wrong with it
 * or what it will save.
 *
 * Seats are 0 and 1 for the own side, 2 and 3 for the opponents; singles use 0 and 2. Rejected: two lists that grow and shrink (a
 * partner typed in by mistake would be lost on the way from doubles to singles and back).
 */
import type { Day, EntryId, EventId, Format, Game, MatchFacts, Occasion, Play, PlayerId } from "@sward/core";
import type { NewVisitor } from "./people.ts";

export type Seat = 0 | 1 | 2 | 3;
export const SEATS: readonly Seat[] = [0, 1, 2, 3];

export interface SeatForm {
  /** What stands in the field. */
  readonly text: string;
  /** Who was picked; null while the text means nobody yet. */
  readonly player: PlayerId | null;
  /** The handicap played off, as typed or prefilled. */
  readonly off: string;
  /** The person wrote the handicap: a change of date does not replace it. */
  readonly offTyped: boolean;
}

export type Ending = "played-out" | NonNullable<Game["ended"]>;

export interface GameForm {
  /** Hoops of the own side, then of the opponents. */
  readonly score: readonly [string, string];
  readonly ending: Ending;
}

export interface EntryForm {
  readonly date: string;
  readonly start: string;
  readonly occasion: Occasion | null;
  readonly event: EventId | null;
  readonly play: Play;
  readonly format: Format;
  readonly doubles: boolean;
  readonly seats: readonly [SeatForm, SeatForm, SeatForm, SeatForm];
  readonly games: readonly [GameForm, ...GameForm[]];
  readonly excluded: boolean;
  /** Answer to "is it the same match?", asked when these players have one on this day already. */
  readonly same: "further" | "second-report" | null;
  /** The entry this one corrects. */
  readonly replaces: EntryId | null;
  readonly visitors: readonly NewVisitor[];
  /** Which lawful way of giving the extra strokes is shown beside the names. */
  readonly choice: number;
}

export const MOST_GAMES = 9;

const emptySeat: SeatForm = { text: "", player: null, off: "", offTyped: false };
const emptyGame: GameForm = { score: ["", ""], ending: "played-out" };

/** What is remembered from one match to the next, and from one afternoon to the next but for date and event. */
export type Kept = Pick<EntryForm, "date" | "occasion" | "event" | "play" | "format" | "doubles">;

export const newForm = (kept: Kept): EntryForm => ({
  ...kept,
  start: "",
  seats: [emptySeat, emptySeat, emptySeat, emptySeat],
  games: [emptyGame],
  excluded: false,
  same: null,
  replaces: null,
  visitors: [],
  choice: 0,
});

/** The form for the next match of the afternoon. */
export const nextForm = ({ date, occasion, event, play, format, doubles }: EntryForm): EntryForm =>
  newForm({ date, occasion, event, play, format, doubles });

/** Seats in use, own side first. */
export const seatsOf = ({ doubles }: Pick<EntryForm, "doubles">): readonly Seat[] => (doubles ? SEATS : [0, 2]);

export const sideOf = (seat: Seat): 0 | 1 => (seat < 2 ? 0 : 1);

export const playersIn = (form: EntryForm): ReadonlySet<PlayerId> =>
  new Set(seatsOf(form).flatMap((seat) => form.seats[seat].player ?? []));

export const withSeat = (form: EntryForm, seat: Seat, change: Partial<SeatForm>): EntryForm => ({
  ...form,
  seats: form.seats.map((each, at) => (at === seat ? { ...each, ...change } : each)) as unknown as EntryForm["seats"],
  same: change.player === undefined ? form.same : null,
  choice: 0,
});

export const withGame = (form: EntryForm, game: number, change: Partial<GameForm>): EntryForm => ({
  ...form,
  games: form.games.map((each, at) => (at === game ? { ...each, ...change } : each)) as unknown as EntryForm["games"],
});

export const withScore = (form: EntryForm, game: number, side: 0 | 1, text: string): EntryForm => {
  const [own, other] = form.games[game]?.score ?? ["", ""];
  return withGame(form, game, { score: side === 0 ? [text, other] : [own, text] });
};

export const addGame = (form: EntryForm): EntryForm =>
  form.games.length < MOST_GAMES ? { ...form, games: [...form.games, emptyGame] } : form;

export const dropGame = (form: EntryForm, game: number): EntryForm => {
  const [first = emptyGame, ...rest] = form.games.filter((_, at) => at !== game);
  return { ...form, games: [first, ...rest] };
};

/**
 * Prefills every handicap that nobody typed, for a new date or a new player.
 * @param advise the handicap a player is off on the day, null where nobody knows
 */
export function prefilled(form: EntryForm, advise: (player: PlayerId, day: Day) => number | null): EntryForm {
  const seats = form.seats.map((seat) => {
    if (seat.player === null || seat.offTyped) return seat;
    const off = advise(seat.player, form.date);
    return { ...seat, off: off === null ? "" : String(off) };
  });
  return { ...form, seats: seats as unknown as EntryForm["seats"] };
}

/** A pairing put into the form, as from the list of the last ones: own side first. */
export function withPairing(
  form: EntryForm,
  sides: readonly [readonly PlayerId[], readonly PlayerId[]],
  nameOf: (player: PlayerId) => string,
): EntryForm {
  const seat = (player: PlayerId | undefined): SeatForm =>
    player === undefined ? emptySeat : { ...emptySeat, player, text: nameOf(player) };
  const [[a, b], [c, d]] = sides;
  return { ...form, doubles: b !== undefined, seats: [seat(a), seat(b), seat(c), seat(d)], same: null, choice: 0 };
}

/** A report that is to be corrected, as a form; the side with one of `ours` comes first. */
export function correctionForm(
  facts: MatchFacts,
  entry: { readonly id: EntryId; readonly event: EventId | null; readonly start: string | null },
  ours: (player: PlayerId) => boolean,
  nameOf: (player: PlayerId) => string,
): EntryForm {
  const turned =
    !facts.sides[0].some(({ player }) => ours(player)) && facts.sides[1].some(({ player }) => ours(player));
  const [own, opponents] = turned ? [facts.sides[1], facts.sides[0]] : facts.sides;
  const seats = [own[0], own[1], opponents[0], opponents[1]].map(
    (lineup): SeatForm =>
      lineup === undefined
        ? emptySeat
        : { text: nameOf(lineup.player), player: lineup.player, off: String(lineup.off), offTyped: true },
  );
  const games = facts.games.map(({ score: [a, b], ended }): GameForm => {
    const [mine, theirs] = turned ? [b, a] : [a, b];
    return { score: [String(mine), String(theirs)], ending: ended ?? "played-out" };
  });
  const { date, occasion, play, format, excluded } = facts;
  return {
    ...newForm({ date, occasion, event: entry.event, play, format, doubles: own.length === 2 }),
    start: entry.start ?? "",
    seats: seats as unknown as EntryForm["seats"],
    games: games as unknown as EntryForm["games"],
    excluded,
    replaces: entry.id,
  };
}
