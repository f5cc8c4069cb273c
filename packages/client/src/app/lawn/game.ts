/**
 * The game as it stands, from how it was set up and what was tapped. `apply` takes one tap and says what the game is then, or why
 * the tap cannot be; `replay` plays all of them. What is known of the use of an extra stroke is kept here:
 *
 * - it belongs to a player, who may take it after his own turn, with the ball just played, and several may follow one another
 *   (Hassocks Croquet Club, https://www.hassockscroquetclub.net/tournaments; Croquet North Carolina, 2013,
 *   http://croquetnc.org/reference/handicap-golf-croquet-introduction);
 * - it is said before the opponent plays; once that side has played, the chance of that turn is gone (Caversham Croquet Club,
 *   https://cavershamcroquet.uk/blog/2022/05/18/gc-handicap-competitions-rules/);
 * - it scores nothing for the player's own side (Caversham, as above); it does for the opponent: common practice, no source;
 * - yes may be withdrawn before the stroke, no is final (Sussex County Croquet Club, doubles allocation,
 *   https://sussexcountycroquetclub.org.uk/articles.php?lng=en&pg=1656). Withdrawing is not taken for a no: no source says it is;
 * - none in the extension; again if play goes on after it (Caversham, as above). What is left at the end lapses: common practice.
 *
 * The pad is not a referee: faults, wrong balls and offside are between the players, and "another ball is next" puts it right.
 */
import type { Format, Game, Result } from "@sward/core";
import { fail, ok, winningScore } from "@sward/core";
import type { Striker } from "./order.ts";
import { nextBall, strikerOf } from "./order.ts";
import type { BallAt, PadEvent, PadSetup, SideAt } from "./pad.ts";

export type Taken = NonNullable<Game["taken"]>[number];

export type Phase =
  | { readonly type: "play" }
  /** Time was called; turns still to be played. */
  | { readonly type: "extension"; readonly turns: number }
  /** Level after time: the next hoop ends the game. */
  | { readonly type: "deciding" }
  | { readonly type: "over"; readonly ended: "played-out" | "time" | "abandoned" };

export interface GameState {
  readonly first: SideAt;
  /** Which side scored each hoop, in order. */
  readonly hoops: readonly SideAt[];
  readonly taken: readonly Taken[];
  /** Extra strokes each seat still has. */
  readonly left: readonly (readonly number[])[];
  /** The ball to be played; while an extra stroke is announced, the one that plays it. */
  readonly due: BallAt;
  /** An extra stroke has been announced and not been played. */
  readonly announced: boolean;
  /** Who may take an extra stroke now, and with which ball. */
  readonly offer: (Striker & { readonly ball: BallAt }) | null;
  /** Who has said no for the turn that is just over. */
  readonly declined: Striker | null;
  /** The last stroke scored; if it was an extra stroke, the side of the player. */
  readonly ran: { readonly extraOf: SideAt | null } | null;
  readonly phase: Phase;
}

export interface PadState extends GameState {
  /** Games of the match that are over, oldest first, without the one in hand. */
  readonly past: readonly GameState[];
  readonly clock: { readonly elapsed: number; readonly since: number | null };
}

export type PadRefusal =
  | { readonly type: "game-over" }
  | { readonly type: "game-not-over" }
  /** The side's own hoop does not count in an extra stroke. */
  | { readonly type: "own-hoop-in-extra"; readonly side: SideAt }
  | { readonly type: "no-stroke-to-offer"; readonly why: "extension" | "declined" | "nothing-played" | "none-left" }
  | { readonly type: "extra-announced" }
  | { readonly type: "extra-not-announced" }
  | { readonly type: "no-hoop-before" }
  | { readonly type: "clock-runs" }
  | { readonly type: "clock-stands" }
  | { readonly type: "time-called" }
  | { readonly type: "enough-games" };

const MOST_GAMES = 9;

const newGame = ({ sides }: PadSetup, first: SideAt): GameState => ({
  first,
  hoops: [],
  taken: [],
  left: sides.map((side) => side.map(({ given }) => given)),
  due: 0,
  announced: false,
  offer: null,
  declined: null,
  ran: null,
  phase: { type: "play" },
});

export const newState = (setup: PadSetup): PadState => ({
  ...newGame(setup, setup.first),
  past: [],
  clock: { elapsed: 0, since: null },
});

export const scoreOf = ({ hoops }: Pick<GameState, "hoops">): readonly [number, number] => {
  const second = hoops.filter((side) => side === 1).length;
  return [hoops.length - second, second];
};

/** The side that has more hoops; null when they are level. */
export function leaderOf(state: Pick<GameState, "hoops">): SideAt | null {
  const [a, b] = scoreOf(state);
  return a === b ? null : a > b ? 0 : 1;
}

/** Both sides need one hoop more, or time is up and they are level. */
export function nextHoopDecides(format: Format, state: GameState): boolean {
  const last = winningScore(format) - 1;
  const [a, b] = scoreOf(state);
  return state.phase.type === "deciding" || (state.phase.type !== "over" && a === last && b === last);
}

/** The setup and all taps of a pad, played; `kept` taps could be, which is all of them but for a pad another version wrote. */
export function replay(
  setup: PadSetup,
  events: readonly PadEvent[],
): { readonly state: PadState; readonly kept: number } {
  let state = newState(setup);
  for (const [at, event] of events.entries()) {
    const next = apply(setup, state, event);
    if (!next.ok) return { state, kept: at };
    state = next.value;
  }
  return { state, kept: events.length };
}

/** The game after one more tap, or why that tap cannot be. */
export function apply(setup: PadSetup, state: PadState, event: PadEvent): Result<PadState, PadRefusal> {
  if (event.type === "next-game") return nextGame(setup, state, event.first);
  if (state.phase.type === "over") return fail({ type: "game-over" });
  switch (event.type) {
    case "stroke":
      return stroke(setup, state, event.hoop);
    case "also":
      return also(setup, state, event.side);
    case "take":
    case "decline":
      return answer(state, event.type);
    case "withdraw":
      return withdraw(state);
    case "ball":
      if (state.announced) return fail({ type: "extra-announced" });
      return ok({ ...state, due: event.ball, offer: null, declined: null, ran: null });
    case "clock-on":
      if (state.clock.since !== null) return fail({ type: "clock-runs" });
      return ok({ ...state, clock: { ...state.clock, since: event.at } });
    case "clock-off":
      if (state.clock.since === null) return fail({ type: "clock-stands" });
      return ok({ ...state, clock: stopped(state.clock, event.at) });
    case "time":
      return time(setup, state);
    case "stop":
      return ok(over(state, event.how));
  }
}

function stroke(setup: PadSetup, state: PadState, hoop: SideAt | null): Result<PadState, PadRefusal> {
  const { side, seat } = strikerOf(setup, state.first, state.due);
  const extra = state.announced;
  if (extra && hoop === side) return fail({ type: "own-hoop-in-extra", side });
  const { phase } = state;
  const left = extra
    ? state.left.map((seats, s) => seats.map((strokes, at) => (s === side && at === seat ? strokes - 1 : strokes)))
    : state.left;
  const played: PadState = settle(setup, {
    ...state,
    left,
    hoops: hoop === null ? state.hoops : [...state.hoops, hoop],
    taken: extra ? [...state.taken, { side, seat, hoop: state.hoops.length + 1 }] : state.taken,
    due: nextBall(state.due),
    announced: false,
    offer: null,
    declined: null,
    ran: hoop === null ? null : { extraOf: extra ? side : null },
    phase: phase.type === "extension" ? { type: "extension", turns: phase.turns - 1 } : phase,
  });
  // A turn of the extension brings no extra stroke, also when it was the last of them.
  if (phase.type === "extension" || played.phase.type === "over" || (left[side]?.[seat] ?? 0) === 0) return ok(played);
  return ok({ ...played, offer: { side, seat, ball: state.due } });
}

function also(setup: PadSetup, state: PadState, side: SideAt): Result<PadState, PadRefusal> {
  if (state.announced) return fail({ type: "extra-announced" });
  if (state.ran === null) return fail({ type: "no-hoop-before" });
  if (state.ran.extraOf === side) return fail({ type: "own-hoop-in-extra", side });
  return ok(settle(setup, { ...state, hoops: [...state.hoops, side] }));
}

function answer(state: PadState, said: "take" | "decline"): Result<PadState, PadRefusal> {
  const { offer } = state;
  if (state.announced) return fail({ type: "extra-announced" });
  if (offer === null) return fail({ type: "no-stroke-to-offer", why: whyNot(state) });
  if (said === "take") return ok({ ...state, due: offer.ball, announced: true, ran: null });
  return ok({ ...state, offer: null, declined: { side: offer.side, seat: offer.seat } });
}

function whyNot({ phase, declined, left, taken, hoops, due }: GameState) {
  if (phase.type === "extension") return "extension";
  if (declined !== null) return "declined";
  if (left.flat().every((strokes) => strokes === 0)) return "none-left";
  return hoops.length === 0 && taken.length === 0 && due === 0 ? "nothing-played" : "none-left";
}

function withdraw(state: PadState): Result<PadState, PadRefusal> {
  if (!state.announced) return fail({ type: "extra-not-announced" });
  return ok({ ...state, announced: false, due: nextBall(state.due) });
}

function time({ limit }: PadSetup, state: PadState): Result<PadState, PadRefusal> {
  if (state.announced) return fail({ type: "extra-announced" });
  if (state.phase.type !== "play" || limit === null) return fail({ type: "time-called" });
  return ok(afterTime(limit.level, { ...state, offer: null, phase: { type: "extension", turns: limit.turns } }));
}

/** Whether the last stroke has ended the game, or its time. */
function settle({ format, limit }: PadSetup, state: PadState): PadState {
  if (Math.max(...scoreOf(state)) >= winningScore(format)) return over(state, "played-out");
  if (state.phase.type === "deciding" && leaderOf(state) !== null) return over(state, "time");
  return afterTime(limit?.level ?? "stands", state);
}

function afterTime(level: "next-hoop" | "stands", state: PadState): PadState {
  if (state.phase.type !== "extension" || state.phase.turns > 0) return state;
  if (leaderOf(state) === null && level === "next-hoop") return { ...state, phase: { type: "deciding" } };
  return over(state, "time");
}

const over = (state: PadState, ended: Extract<Phase, { type: "over" }>["ended"]): PadState => ({
  ...state,
  announced: false,
  offer: null,
  phase: { type: "over", ended },
});

function nextGame(setup: PadSetup, state: PadState, first: SideAt): Result<PadState, PadRefusal> {
  const { past, clock: _, ...game } = state;
  if (state.phase.type !== "over") return fail({ type: "game-not-over" });
  if (past.length + 1 >= MOST_GAMES) return fail({ type: "enough-games" });
  return ok({ ...newGame(setup, first), past: [...past, game], clock: { elapsed: 0, since: null } });
}

const stopped = ({ elapsed, since }: PadState["clock"], at: number): PadState["clock"] => ({
  elapsed: elapsed + Math.max(0, at - (since ?? at)),
  since: null,
});

/** Milliseconds left of the time limit, negative once it is over; null without a limit or before the clock was started. */
export function timeLeft({ limit }: PadSetup, { clock }: Pick<PadState, "clock">, now: number): number | null {
  if (limit === null || (clock.since === null && clock.elapsed === 0)) return null;
  const run = clock.since === null ? clock.elapsed : stopped(clock, now).elapsed;
  return limit.minutes * 60_000 - run;
}

/** Extra strokes a game ended with in hand, by seat: they lapse. */
export const lapsed = ({ left }: Pick<GameState, "left">): number => left.flat().reduce((sum, one) => sum + one, 0);
