/** A ball in its colour; the word always stands beside it. */
import type { Colour } from "./order.ts";

export const BallMark = ({ colour }: { readonly colour: Colour }) => (
  <span class={`lawn-ball lawn-${colour}`} aria-hidden="true" />
);
