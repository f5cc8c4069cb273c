/** The time limit: what is left of it, counted from the moment it was started, so that a reload changes nothing; then the extension. */
import { useEffect, useState } from "preact/hooks";
import { lawnWords } from "../words/lawn.ts";
import { timeLeft } from "./game.ts";
import type { PadInHand } from "./use-pad.ts";

/** Such as "49:05"; hours are counted as minutes. */
const clockText = (milliseconds: number): string => {
  const seconds = Math.ceil(milliseconds / 1000);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
};

export function ClockLine({ pad: { setup }, state, tap }: Pick<PadInHand, "pad" | "state" | "tap">) {
  const { phase, clock } = state;
  const running = clock.since !== null && phase.type === "play";
  const [now, setNow] = useState(() => Date.now());
  useEffect(() => {
    setNow(Date.now());
    if (!running) return;
    const timer = setInterval(() => setNow(Date.now()), 1000);
    return () => clearInterval(timer);
  }, [running, clock.since]);
  const { limit } = setup;
  if (limit === null || phase.type === "over") return null;
  if (phase.type === "extension") return <p class="lawn-time">{lawnWords.clock.extension(phase.turns)}</p>;
  if (phase.type === "deciding") return <p class="lawn-time">{lawnWords.clock.deciding}</p>;
  const left = timeLeft(setup, state, Math.max(now, clock.since ?? 0));
  const up = left !== null && left <= 0;
  return (
    <div class={up ? "lawn-time lawn-time-up" : "lawn-time"}>
      <p class="lawn-time-text">
        <span role="timer" aria-label={lawnWords.clock.label}>
          {left === null || up ? "" : clockText(left)}
        </span>
        <span role="status">{up ? lawnWords.clock.up : ""}</span>{" "}
        {up && <span>{lawnWords.clock.callHint(limit.turns)}</span>}
      </p>
      <div class="lawn-time-taps">
        {!up && (
          <button
            type="button"
            class="lawn-tap lawn-small-tap"
            onClick={() => tap({ type: running ? "clock-off" : "clock-on", at: Date.now() })}
          >
            {running ? lawnWords.clock.stop : left === null ? lawnWords.clock.start : lawnWords.clock.goOn}
          </button>
        )}
        <button type="button" class="lawn-tap lawn-small-tap" onClick={() => tap({ type: "time" })}>
          {lawnWords.clock.call}
        </button>
      </div>
    </div>
  );
}
