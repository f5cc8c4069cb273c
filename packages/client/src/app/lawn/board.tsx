/** What both sides look at: the score, the extra strokes each player still has, and the hoop to play for. */
import { lawnWords } from "../words/lawn.ts";
import { BallMark } from "./ball-mark.tsx";
import { nextHoopDecides, scoreOf } from "./game.ts";
import { seatNames } from "./names.ts";
import type { Striker } from "./order.ts";
import { ballsOf, colourOf, hoopPlace } from "./order.ts";
import type { PadSetup, SideAt } from "./pad.ts";
import type { PadInHand } from "./use-pad.ts";

/** More are written and not drawn: they would take a second line, and nobody counts twelve dots. */
const MOST_DRAWN = 8;

export function Board({ pad, state }: Pick<PadInHand, "pad" | "state">) {
  const { format } = pad.setup;
  const n = state.hoops.length + 1;
  return (
    <div class="lawn-board">
      <div class="lawn-sides">
        {([0, 1] as const).map((side) => (
          <SideColumn key={side} side={side} pad={pad} state={state} />
        ))}
      </div>
      {state.phase.type !== "over" && (
        <p class="lawn-hoop">
          <strong>{lawnWords.hoop(hoopPlace(format, n), n)}</strong>
          {nextHoopDecides(format, state) && <span> {lawnWords.decides}</span>}
        </p>
      )}
    </div>
  );
}

function SideColumn({ side, pad: { setup }, state }: Pick<PadInHand, "pad" | "state"> & { readonly side: SideAt }) {
  const names = seatNames(setup, state.first, side);
  const hoops = scoreOf(state)[side];
  const receives = setup.play === "handicap" && setup.sides[side].some(({ given }) => given > 0);
  return (
    <section class="lawn-side" aria-label={lawnWords.scoreOf(lawnWords.together(names), hoops)}>
      <p class="lawn-score">
        {hoops}
        {!setup.doubles && <Balls setup={setup} first={state.first} striker={{ side, seat: 0 }} />}
        {setup.doubles && receives && <span class="lawn-caption">{lawnWords.strokesTitle}</span>}
      </p>
      {names.map((name, seat) => {
        const place = { side, seat: seat === 0 ? 0 : 1 } as const;
        return (
          <div class="lawn-player" key={seat}>
            <p class="lawn-name">
              {setup.doubles && <Balls setup={setup} first={state.first} striker={place} />} {name}
            </p>
            {!setup.doubles && receives && <p class="lawn-caption">{lawnWords.strokesTitle}</p>}
            {setup.play === "handicap" && (
              <Tokens
                drawn={!setup.doubles}
                name={name}
                left={state.left[side]?.[seat] ?? 0}
                given={setup.sides[side][seat]?.given ?? 0}
              />
            )}
          </div>
        );
      })}
    </section>
  );
}

interface BallsProps {
  readonly setup: PadSetup;
  readonly first: SideAt;
  readonly striker: Striker;
}

const Balls = ({ setup, first, striker }: BallsProps) => (
  <span class="lawn-balls">
    {ballsOf(setup, first, striker).map((ball) => (
      <BallMark key={ball} colour={colourOf(setup, ball)} />
    ))}
  </span>
);

interface TokensProps {
  /** As dots too: in doubles there is no room for them. */
  readonly drawn: boolean;
  readonly name: string;
  readonly left: number;
  readonly given: number;
}

function Tokens({ drawn, name, left, given }: TokensProps) {
  if (given === 0) return <p class="lawn-tokens unseen">{lawnWords.strokesLeft(name, 0, 0)}</p>;
  return (
    <p class="lawn-tokens">
      <span class="unseen">{lawnWords.strokesLeft(name, left, given)}</span>
      <span aria-hidden="true">
        {drawn && given <= MOST_DRAWN && (
          <span class="lawn-dots">
            {"●".repeat(left)}
            {"○".repeat(given - left)}
          </span>
        )}{" "}
        <span class="lawn-left">{lawnWords.strokesLeftShort(left, given)}</span>
      </span>
    </p>
  );
}
