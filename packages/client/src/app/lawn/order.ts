/**
 * The order of the balls and of the hoops. Two side facts decide it: which side plays the first ball, and in doubles which partner
 * does. Colours: blue, red, black, yellow, or the second set green, pink, brown, white; blue and black are one side's (Epsom &
 * Remuera Croquet Club, "Golf Croquet", https://epsom-remuera.croquet.org.nz/golf-croquet; World Croquet Federation, rules of 2013,
 * 1(a), http://www.worldcroquet.org.uk/index.php/croquet-information/golf-croquet/golf-croquet-rules).
 */
import type { Format } from "@sward/core";
import type { BallAt, PadSetup, SideAt } from "./pad.ts";

export type Colour = "blue" | "red" | "black" | "yellow" | "green" | "pink" | "brown" | "white";

const colours: Readonly<Record<PadSetup["colours"], readonly [Colour, Colour, Colour, Colour]>> = {
  primary: ["blue", "red", "black", "yellow"],
  secondary: ["green", "pink", "brown", "white"],
};

export const colourOf = (setup: Pick<PadSetup, "colours">, ball: BallAt): Colour => colours[setup.colours][ball];

export const BALLS: readonly BallAt[] = [0, 1, 2, 3];

export const nextBall = (ball: BallAt): BallAt => ((ball + 1) % 4) as BallAt;

export interface Striker {
  readonly side: SideAt;
  readonly seat: SideAt;
}

const otherOf = (side: SideAt): SideAt => (side === 0 ? 1 : 0);

/** Who plays a ball. In singles each player has two balls and always sits on seat 0. */
export function strikerOf(setup: Pick<PadSetup, "doubles" | "leads">, first: SideAt, ball: BallAt): Striker {
  const side = ball % 2 === 0 ? first : otherOf(first);
  const lead = setup.leads[side];
  return { side, seat: !setup.doubles ? 0 : ball < 2 ? lead : otherOf(lead) };
}

/** The balls a seat plays. */
export const ballsOf = (
  setup: Pick<PadSetup, "doubles" | "leads">,
  first: SideAt,
  { side, seat }: Striker,
): readonly BallAt[] =>
  BALLS.filter((ball) => {
    const striker = strikerOf(setup, first, ball);
    return striker.side === side && striker.seat === seat;
  });

export interface HoopPlace {
  /** The hoop's own number on the lawn, 1 to 12. */
  readonly hoop: number;
  /** Played a second time, after all hoops of the round. */
  readonly again: boolean;
}

/**
 * Hoops played after the twelfth, round and round. That the 13th is hoop 3 again: https://epsom-remuera.croquet.org.nz/golf-croquet.
 * The whole cycle is printed for advantage play (Croquet England, https://www.croquet.org.uk/?p=games%2Fgolf%2Fadvantage%2Ffaqs); that a
 * 19-point game follows it too is common practice, no source.
 */
const AFTER_TWELVE = [3, 4, 1, 2, 11, 12] as const;

/**
 * Where the n-th hoop of a game is, n from 1. In a 7-point game the 7th is hoop 1 again since 2013 (World Croquet Federation,
 * "2013 Golf Croquet Rules, commentary on changes", https://worldcroquet.org/2013-golf-croquet-rules-commentary-on-changes/).
 */
export function hoopPlace(format: Format, n: number): HoopPlace {
  if (format === 7 && n === 7) return { hoop: 1, again: true };
  if (n <= 12) return { hoop: n, again: false };
  return { hoop: AFTER_TWELVE[(n - 13) % AFTER_TWELVE.length] ?? 3, again: true };
}
