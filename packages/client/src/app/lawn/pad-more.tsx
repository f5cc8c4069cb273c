/** What is seldom needed, folded away so that no thumb meets it by accident. */
import { Button } from "../parts/button.tsx";
import { lawnWords } from "../words/lawn.ts";
import type { PadInHand } from "./use-pad.ts";

export const PadMore = ({ sides, tap }: Pick<PadInHand, "sides" | "tap">) => (
  <details class="lawn-more">
    <summary>{lawnWords.more.title}</summary>
    <div class="row">
      {([0, 1] as const).map((side) => (
        <Button key={side} onClick={() => tap({ type: "also", side })}>
          {lawnWords.more.also(sides[side] ?? "")}
        </Button>
      ))}
      <Button onClick={() => tap({ type: "stop", how: "time" })}>{lawnWords.more.stopTime}</Button>
      <Button look="danger" onClick={() => tap({ type: "stop", how: "abandoned" })}>
        {lawnWords.more.stopAbandoned}
      </Button>
    </div>
  </details>
);
