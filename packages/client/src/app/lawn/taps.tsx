/** The buttons of every turn, at the lower edge where a thumb is: who scored the hoop, or nobody; and undo. */
import { lawnWords } from "../words/lawn.ts";
import { strikerOf } from "./order.ts";
import type { SideAt } from "./pad.ts";
import type { PadInHand } from "./use-pad.ts";

export interface TapsProps {
  readonly hand: PadInHand;
  /** A stroke also starts a clock that nobody has started. */
  readonly onStroke: (hoop: SideAt | null) => void;
}

export function Taps({ hand, onStroke }: TapsProps) {
  const { pad, state, sides } = hand;
  const own = state.announced ? strikerOf(pad.setup, state.first, state.due).side : null;
  return (
    <div class="lawn-taps">
      <div class="lawn-pair">
        {([0, 1] as const).map((side) => (
          <button
            key={side}
            type="button"
            class="lawn-tap lawn-hoop-tap"
            aria-disabled={own === side ? "true" : undefined}
            onClick={() => onStroke(side)}
          >
            <span>{lawnWords.tap.hoop}</span>
            <span class="unseen">{lawnWords.tap.hoopFor}</span>
            <span class="lawn-tap-name">{sides[side]}</span>
          </button>
        ))}
      </div>
      <button type="button" class="lawn-tap lawn-played" onClick={() => onStroke(null)}>
        {lawnWords.tap.played}
      </button>
    </div>
  );
}

export function UndoTap({ pad, sides, undo }: Pick<PadInHand, "pad" | "sides" | "undo">) {
  const last = pad.events.at(-1);
  return (
    <button
      type="button"
      class="lawn-tap lawn-undo"
      aria-disabled={last === undefined ? "true" : undefined}
      onClick={undo}
    >
      {last === undefined ? lawnWords.tap.nothingToUndo : lawnWords.tap.undoOf(lawnWords.event(last, sides))}
    </button>
  );
}
