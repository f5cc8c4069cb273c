/**
 * The extra stroke: who may take one now, and with which ball. The two buttons stay where they are whether or not one may be taken,
 * so that nothing moves under a thumb; a tap that cannot be is answered with the reason.
 */
import { lawnWords } from "../words/lawn.ts";
import { seatName } from "./names.ts";
import { colourOf } from "./order.ts";
import type { PadInHand } from "./use-pad.ts";

type Shown = Pick<PadInHand, "pad" | "state">;

export function OfferText({ pad: { setup }, state }: Shown) {
  const { offer, announced, declined } = state;
  const { name, left, colour } = offered({ setup }, state);
  return (
    <section class={announced ? "lawn-offer lawn-announced" : "lawn-offer"} aria-label={lawnWords.strokesTitle}>
      <p class="lawn-offer-text" aria-live="polite">
        {colour !== null && announced && <strong>{lawnWords.offer.announced(name, colour)} </strong>}
        {colour !== null && !announced && lawnWords.offer.may(name, colour, left)}
        {offer === null &&
          (declined === null ? lawnWords.offer.none : lawnWords.offer.declined(seatName(setup, state.first, declined)))}
        {announced && <span>{lawnWords.offer.rule}</span>}
      </p>
    </section>
  );
}

export function OfferTaps({ pad, state, tap }: Shown & Pick<PadInHand, "tap">) {
  const { offer, announced } = state;
  const { name, left } = offered(pad, state);
  return (
    <div class="lawn-pair">
      <button
        type="button"
        class="lawn-tap"
        aria-disabled={offer === null || announced ? "true" : undefined}
        onClick={() => tap({ type: "take" })}
      >
        {lawnWords.tap.take}
        {offer !== null && <span class="unseen">{lawnWords.tap.takeFor(name, left)}</span>}
      </button>
      {announced ? (
        <button type="button" class="lawn-tap" onClick={() => tap({ type: "withdraw" })}>
          {lawnWords.tap.withdraw}
          <span class="unseen">{lawnWords.tap.of(name)}</span>
        </button>
      ) : (
        <button
          type="button"
          class="lawn-tap"
          aria-disabled={offer === null ? "true" : undefined}
          onClick={() => tap({ type: "decline" })}
        >
          {lawnWords.tap.decline}
          {offer !== null && <span class="unseen">{lawnWords.tap.of(name)}</span>}
        </button>
      )}
    </div>
  );
}

function offered({ setup }: Pick<Shown["pad"], "setup">, state: Shown["state"]) {
  const { offer } = state;
  if (offer === null) return { name: "", left: 0, colour: null };
  const left = state.left[offer.side]?.[offer.seat] ?? 0;
  return { name: seatName(setup, state.first, offer), left, colour: colourOf(setup, offer.ball) };
}
