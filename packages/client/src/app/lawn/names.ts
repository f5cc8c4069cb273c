/** What players and sides are called on a pad: by their names, or by their balls where nobody wrote any. */
import { lawnWords } from "../words/lawn.ts";
import type { Striker } from "./order.ts";
import { ballsOf, colourOf } from "./order.ts";
import type { PadSetup, SideAt } from "./pad.ts";

/** @param first the side that plays the first ball in the game in hand */
export function seatName(setup: PadSetup, first: SideAt, { side, seat }: Striker): string {
  const name = setup.sides[side][seat]?.name ?? "";
  if (name !== "") return name;
  return lawnWords.byBalls(ballsOf(setup, first, { side, seat }).map((ball) => colourOf(setup, ball)));
}

export const seatNames = (setup: PadSetup, first: SideAt, side: SideAt): readonly string[] =>
  setup.sides[side].map((_, seat) => seatName(setup, first, { side, seat: seat === 0 ? 0 : 1 }));

export const sideName = (setup: PadSetup, first: SideAt, side: SideAt): string =>
  lawnWords.together(seatNames(setup, first, side));
