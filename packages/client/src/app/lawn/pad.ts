/**
 * What a score pad keeps: how the game was set up, and every tap since, in order. Everything shown is found by playing the taps
 * again (game.ts), so undo is dropping the last one, and a reload or a dead battery loses nothing that was tapped. Rejected: keeping
 * the score itself beside them (two truths, and undo would have to know how to take each thing back).
 *
 * The file edge: another version of the app may have written what is read back, so the shapes are schemas.
 */
import { BookId, FixtureId, Format, Play, PlayerId } from "@sward/core";
import * as z from "zod/mini";

export const SideAt = z.union([z.literal(0), z.literal(1)]);
/** A side, and also a seat within one. */
export type SideAt = z.infer<typeof SideAt>;

const whole = (min: number, max: number) => z.int().check(z.minimum(min), z.maximum(max));
/** Milliseconds of the device's clock since 1970. */
const Moment = whole(0, 2 ** 50);

export const PadSeat = z.object({
  /** Null for one who was only written down by name. */
  player: z.nullable(PlayerId()),
  /** Empty where nobody wrote one: the seat then goes by its balls. */
  name: z.string(),
  /** The handicap played off, as typed. */
  off: z.string(),
  /** Extra strokes this player has in each game. */
  given: whole(0, 60),
});
export type PadSeat = z.infer<typeof PadSeat>;

export const TimeLimit = z.object({
  minutes: whole(1, 600),
  /** Turns played after time is called; 0 when play stops at once. */
  turns: whole(0, 40),
  /** What happens when the score is level after that. */
  level: z.enum(["next-hoop", "stands"]),
});
export type TimeLimit = z.infer<typeof TimeLimit>;

const SideSeats = z.array(PadSeat).check(z.minLength(1), z.maxLength(2));

export const PadSetup = z.object({
  format: Format(),
  play: Play(),
  doubles: z.boolean(),
  sides: z.tuple([SideSeats, SideSeats]),
  /** The side that plays the first ball. */
  first: SideAt,
  /** In doubles, which seat of each side plays that side's first ball. */
  leads: z.tuple([SideAt, SideAt]),
  colours: z.enum(["primary", "secondary"]),
  limit: z.nullable(TimeLimit),
  slot: z.nullable(z.object({ book: BookId(), fixture: FixtureId(), number: whole(1, 200) })),
});
export type PadSetup = z.infer<typeof PadSetup>;

const BallAt = z.union([z.literal(0), z.literal(1), z.literal(2), z.literal(3)]);
/** A ball by its place in the order of play. */
export type BallAt = z.infer<typeof BallAt>;

export const PadEvent = z.discriminatedUnion("type", [
  /** The ball that was due has been played; `hoop` is the side for which the hoop in order was scored, if it was. */
  z.object({ type: z.literal("stroke"), hoop: z.nullable(SideAt) }),
  /** The same stroke scored the next hoop too. */
  z.object({ type: z.literal("also"), side: SideAt }),
  /** The player who has just played says yes to an extra stroke, takes that back, or says no. */
  z.object({ type: z.literal("take") }),
  z.object({ type: z.literal("withdraw") }),
  z.object({ type: z.literal("decline") }),
  /** Another ball than the one shown is next: a turn was missed, or a tap was. */
  z.object({ type: z.literal("ball"), ball: BallAt }),
  z.object({ type: z.literal("clock-on"), at: Moment }),
  z.object({ type: z.literal("clock-off"), at: Moment }),
  /** Time is called: the extension begins. */
  z.object({ type: z.literal("time") }),
  z.object({ type: z.literal("stop"), how: z.enum(["time", "abandoned"]) }),
  /** Another game of the same match; `first` as in the setup. */
  z.object({ type: z.literal("next-game"), first: SideAt }),
]);
export type PadEvent = z.infer<typeof PadEvent>;

export const Pad = z.object({
  v: z.literal(1),
  id: z.string().check(z.regex(/^[A-Za-z0-9_-]{4,32}$/)),
  begun: Moment,
  setup: PadSetup,
  events: z.array(PadEvent),
  /** Its result has been saved as a match. */
  saved: z.boolean(),
});
export type Pad = z.infer<typeof Pad>;

/** The pad without its last tap; the same pad when there is none. */
export const undone = (pad: Pad): Pad => ({ ...pad, events: pad.events.slice(0, -1) });
