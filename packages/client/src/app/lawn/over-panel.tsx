/** The game is over: how it ended, what lapses, and what may come next. */
import { Button, ButtonLink } from "../parts/button.tsx";
import { places, useHref } from "../place.ts";
import { lawnWords } from "../words/lawn.ts";
import type { GameState } from "./game.ts";
import { lapsed, leaderOf, scoreOf } from "./game.ts";
import { colourOf } from "./order.ts";
import type { PadInHand } from "./use-pad.ts";

const scoreText = (game: GameState): string => scoreOf(game).join("–");

export function OverPanel({ pad, state, sides, tap }: Pick<PadInHand, "pad" | "state" | "sides" | "tap">) {
  const href = useHref();
  const left = lapsed(state);
  return (
    <section class="lawn-over" aria-label={lawnWords.over.title}>
      <p class="lawn-outcome" role="status">
        {outcome(state, sides)}
      </p>
      {left > 0 && <p>{lawnWords.over.lapsed(left)}</p>}
      {state.past.length > 0 && <p>{lawnWords.over.games(state.past.map(scoreText).join(", "))}</p>}
      {pad.saved && <p>{lawnWords.over.saved}</p>}
      <div class="row">
        <ButtonLink look={pad.saved ? "plain" : "main"} href={href(places.padResult(pad.id))}>
          {lawnWords.over.enter}
        </ButtonLink>
      </div>
      {!pad.saved && (
        <details class="lawn-more">
          <summary>{lawnWords.over.another}</summary>
          <div class="row">
            {([0, 1] as const).map((first) => (
              <Button key={first} onClick={() => tap({ type: "next-game", first })}>
                {lawnWords.over.anotherFirst(sides[first] ?? "", colourOf(pad.setup, 0))}
              </Button>
            ))}
          </div>
        </details>
      )}
    </section>
  );
}

function outcome(state: GameState, sides: readonly string[]): string {
  const leader = leaderOf(state);
  if (state.phase.type === "over" && state.phase.ended === "abandoned")
    return lawnWords.over.abandoned(scoreText(state));
  if (leader === null) return lawnWords.over.level(scoreText(state));
  const [a, b] = scoreOf(state);
  return lawnWords.over.won(sides[leader] ?? "", leader === 0 ? `${a}–${b}` : `${b}–${a}`);
}
