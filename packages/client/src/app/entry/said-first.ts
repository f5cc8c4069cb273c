/**
 * That a match is saved is said in a frame of its own: the emptied form, the list of what was entered here and all that a game changes
 * elsewhere take a phone three times as long to draw, and come in the frame after it. Nobody can come between the two: whoever does
 * something with the form sooner ends the wait, and does it with the emptied one.
 *
 * Rejected: all in one frame (the word that it is saved waited for all the rest); the rest when the browser is idle (that may be before
 * the frame that was asked for, or half a second after it).
 */
import { holdTelling } from "../telling.ts";

/** How the wait ended: with the frame; or with the focus taken to a place in the form, where it is left. */
export type Ended = "drawn" | "focus-taken";

export interface SaidFirst {
  /** To be called when it has been set down what is to be said; until it resolves no screen is told of what was saved. */
  drawn(): Promise<Ended>;
  /** Of the form. */
  readonly early: {
    readonly onKeyDownCapture: () => void;
    readonly onPointerDownCapture: () => void;
    readonly onFocusCapture: () => void;
  };
}

/** Milliseconds in which a frame that is drawn is handed over to be shown. */
const HANDED_OVER = 5;

/** A page that nobody sees draws no frame. */
const UNSEEN = 100;

export function createSaidFirst(): SaidFirst {
  let end: (how: Ended) => void = () => undefined;
  const goOn = (): void => end("drawn");
  return {
    drawn() {
      holdTelling();
      return new Promise((ended) => {
        const drawn = (): void => ended("drawn");
        end = ended;
        setTimeout(drawn, UNSEEN);
        requestAnimationFrame(() => setTimeout(drawn, HANDED_OVER));
      });
    },
    early: { onKeyDownCapture: goOn, onPointerDownCapture: goOn, onFocusCapture: () => end("focus-taken") },
  };
}
