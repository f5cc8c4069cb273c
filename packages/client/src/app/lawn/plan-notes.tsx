/** A plan for each player who receives extra strokes, and what it says of the hoop in hand. Folded: it is a hint for one side. */
import { lawnWords } from "../words/lawn.ts";
import { scoreOf } from "./game.ts";
import { seatNames } from "./names.ts";
import { planHint, strokePlan } from "./stroke-plan.ts";
import type { PadInHand } from "./use-pad.ts";

export function PlanNotes({ pad: { setup }, state }: Pick<PadInHand, "pad" | "state">) {
  if (setup.play === "level" || state.phase.type === "over") return null;
  const { format } = setup;
  const receivers = ([0, 1] as const).flatMap((side) =>
    seatNames(setup, state.first, side).flatMap((name, seat) => {
      const given = setup.sides[side][seat]?.given ?? 0;
      return given === 0 ? [] : [{ name, given, left: state.left[side]?.[seat] ?? 0 }];
    }),
  );
  return (
    <>
      {receivers.map(({ name, given, left }) => {
        const plan = strokePlan(given, format);
        const question = { left, hoop: state.hoops.length + 1, score: scoreOf(state), format };
        return (
          <details class="lawn-more" key={name}>
            <summary>{lawnWords.plan.of(name)}</summary>
            <p>
              {lawnWords.plan.types[plan.type]} {plan.type !== "every-hoop" && lawnWords.plan.hoops(plan.hoops)}{" "}
              {lawnWords.plan.never}
            </p>
            {left > 0 && <p>{lawnWords.plan.hints[planHint(plan, question)]}</p>}
          </details>
        );
      })}
    </>
  );
}
