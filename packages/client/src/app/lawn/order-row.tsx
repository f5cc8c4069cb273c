/** The four balls in the order of play, with the next one marked; tapping another puts a missed turn right. */
import { lawnWords } from "../words/lawn.ts";
import { BallMark } from "./ball-mark.tsx";
import { seatName } from "./names.ts";
import { BALLS, colourOf, strikerOf } from "./order.ts";
import type { PadInHand } from "./use-pad.ts";

export function OrderRow({ pad: { setup }, state, tap }: Pick<PadInHand, "pad" | "state" | "tap">) {
  return (
    <fieldset class="lawn-order">
      <legend class="unseen">
        {lawnWords.order}. {lawnWords.orderHint}
      </legend>
      {BALLS.map((ball) => {
        const colour = colourOf(setup, ball);
        const next = state.due === ball;
        const name = seatName(setup, state.first, strikerOf(setup, state.first, ball));
        return (
          <button
            key={ball}
            type="button"
            aria-current={next ? "true" : undefined}
            onClick={() => !next && tap({ type: "ball", ball })}
          >
            <BallMark colour={colour} />
            <span>{lawnWords.colour(colour)}</span>
            <span class="unseen">{lawnWords.ballOf(name)}</span>
            {next && <span class="lawn-order-next">{lawnWords.nextMark}</span>}
          </button>
        );
      })}
    </fieldset>
  );
}
