/** One game at the lawn. Read from the top by both sides, tapped at the bottom by one thumb. */
import { useEffect, useState } from "preact/hooks";
import { Notice } from "../parts/notice.tsx";
import { Page } from "../parts/page.tsx";
import { places, useHref } from "../place.ts";
import { lawnWords } from "../words/lawn.ts";
import { Board } from "./board.tsx";
import { ClockLine } from "./clock-line.tsx";
import { OfferTaps, OfferText } from "./offer.tsx";
import { OrderRow } from "./order-row.tsx";
import { OverPanel } from "./over-panel.tsx";
import type { Pad, PadEvent, SideAt } from "./pad.ts";
import { PadMore } from "./pad-more.tsx";
import { PlanNotes } from "./plan-notes.tsx";
import { Taps, UndoTap } from "./taps.tsx";
import { usePad } from "./use-pad.ts";
import type { Wakefulness } from "./wake-lock.ts";
import { stayAwake } from "./wake-lock.ts";

const BRIGHT = "sward/lawn-bright";

export function PadScreen({ initial }: { readonly initial: Pad }) {
  const hand = usePad(initial);
  const { pad, state, sides, kept, said } = hand;
  const href = useHref();
  const [awake, setAwake] = useState<Wakefulness>("asking");
  const [bright, setBright] = useState(() => localStorage.getItem(BRIGHT) === "yes");
  useEffect(() => stayAwake(navigator.wakeLock, document, setAwake), []);
  const over = state.phase.type === "over";

  const stroke = (hoop: SideAt | null): void => {
    const { clock } = state;
    const unstarted = pad.setup.limit !== null && clock.since === null && clock.elapsed === 0;
    const start: PadEvent[] = unstarted && state.phase.type === "play" ? [{ type: "clock-on", at: Date.now() }] : [];
    hand.tap(...start, { type: "stroke", hoop });
  };

  return (
    <div class={bright ? "lawn-pad lawn-bright" : "lawn-pad"}>
      <Page title={lawnWords.versus(sides[0] ?? "", sides[1] ?? "")}>
        <div class="lawn-play">
          <p class="lawn-top small">
            <a href={href(places.lawn)}>{lawnWords.more.back}</a>
            <span role="status">{lawnWords.awake[awake]}</span>
          </p>
          {!kept && <Notice tone="bad" title={lawnWords.notKept} live />}
          <Board pad={pad} state={state} />
          <ClockLine pad={pad} state={state} tap={hand.tap} />
          {over ? (
            <OverPanel pad={pad} state={state} sides={sides} tap={hand.tap} />
          ) : (
            <OrderRow pad={pad} state={state} tap={hand.tap} />
          )}
          <div class="lawn-dock">
            {!over && pad.setup.play === "handicap" && <OfferText pad={pad} state={state} />}
            <p class="lawn-said" role="alert">
              {said}
            </p>
            {!over && pad.setup.play === "handicap" && <OfferTaps pad={pad} state={state} tap={hand.tap} />}
            {!over && <Taps hand={hand} onStroke={stroke} />}
            <UndoTap pad={pad} sides={sides} undo={hand.undo} />
          </div>
        </div>
        <div class="lawn-foot">
          {(awake === "not-here" || awake === "refused") && <p class="small">{lawnWords.awakeHint}</p>}
          {kept && <p class="small">{lawnWords.kept}</p>}
          <label class="choice">
            <input
              type="checkbox"
              checked={bright}
              onChange={(event) => {
                setBright(event.currentTarget.checked);
                localStorage.setItem(BRIGHT, event.currentTarget.checked ? "yes" : "no");
              }}
            />
            {lawnWords.bright}
          </label>
          <PlanNotes pad={pad} state={state} />
          {!over && <PadMore sides={sides} tap={hand.tap} />}
        </div>
      </Page>
    </div>
  );
}
