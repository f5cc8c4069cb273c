/**
 * From a pad to a match: the entry form as the pad fills it in, for a person to confirm and complete, and the stroke record that goes
 * with it when it is saved. A person who writes another score knows better than the pad: of the record only what fits is attached, and
 * what does not is named, as when a report is corrected.
 */
import type { Day, Game, MatchReported, Play } from "@sward/core";
import type { EntryForm, GameForm, Kept, SeatForm } from "../entry/form.ts";
import { newForm } from "../entry/form.ts";
import { keepRecord } from "../entry/kept-record.ts";
import type { GameState, PadState } from "./game.ts";
import { scoreOf } from "./game.ts";
import type { Pad, PadSeat, PadSetup } from "./pad.ts";

/** Games of the match that are over. */
export const gamesOf = (state: PadState): readonly GameState[] =>
  state.phase.type === "over" ? [...state.past, state] : state.past;

/** One game as a report has it, with all that the pad kept of it. */
export function gameRecord(game: GameState, play: Play): Game {
  const [a, b] = scoreOf(game);
  const ended = game.phase.type === "over" && game.phase.ended !== "played-out" ? { ended: game.phase.ended } : {};
  const taken = play === "handicap" ? { taken: [...game.taken] } : {};
  return { score: [a, b], ...ended, hoops: [...game.hoops], ...taken };
}

/** What a pad does not know of its match. */
export type Setting = Pick<Kept, "occasion" | "event"> & { readonly date: Day };

export function formFromPad({ setup }: Pick<Pad, "setup">, state: PadState, setting: Setting): EntryForm {
  const { format, play, doubles, sides } = setup;
  const seat = (one: PadSeat | undefined): SeatForm =>
    one === undefined
      ? { text: "", player: null, off: "", offTyped: false }
      : { text: one.name, player: one.player, off: one.off, offTyped: one.off !== "" };
  const [[a, b], [c, d]] = sides;
  const games = gamesOf(state).map((game): GameForm => {
    const [own, other] = scoreOf(game);
    const ending = game.phase.type === "over" ? game.phase.ended : "played-out";
    return { score: [String(own), String(other)], ending };
  });
  const blank = newForm({ ...setting, format, play, doubles });
  const [first, ...rest] = games;
  return {
    ...blank,
    seats: [seat(a), seat(b), seat(c), seat(d)],
    games: first === undefined ? blank.games : [first, ...rest],
  };
}

/** Extra strokes as the pad gave them, in the order of the sides; null in level play. */
export const givenOf = ({ play, sides }: PadSetup): NonNullable<MatchReported["given"]> | null =>
  play === "level" ? null : [sides[0].map(({ given }) => given), sides[1].map(({ given }) => given)];

/** What the pad kept, as the report of the match it was kept for: who sits where is as the form has it. */
export function padRecord(body: MatchReported, setup: PadSetup, state: PadState): MatchReported {
  const given = givenOf(setup);
  const { play, format } = setup;
  const games = gamesOf(state).map((game) => gameRecord(game, play));
  return { ...body, play, format, games, ...(given === null ? {} : { given }) };
}

/** A checked report with the stroke record of the pad, as far as the form still says what the pad kept. */
export const withRecord = (body: MatchReported, setup: PadSetup, state: PadState): MatchReported =>
  keepRecord(body, padRecord(body, setup, state)).body;
