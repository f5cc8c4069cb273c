/**
 * That a match is saved is said in a frame of its own: the emptied form, the list of what was entered here and all that a game changes
 * elsewhere take a phone three times as long to draw, and come in the frame after it. Whoever does something with the form sooner ends
 * the wait, and does it with the emptied one.
 *
 * Rejected: all in one frame (the word that it is saved waited for all the rest); the rest when the browser is idle (that may be before
 * the frame that was asked for, or half a second after it).
 */
import { holdTelling } from "../telling.ts";

/** Whether somebody has taken the focus to another place meanwhile, where it is left. */
export type Ended = "drawn" | "focus-taken";

export interface SaidFirst {
  /** To be called when it has been set down what is to be said; until it resolves no screen is told of what was saved. */
  drawn(): Promise<Ended>;
  /** Of the form. */
  readonly early: {
    readonly onKeyDownCapture: () => void;
    readonly onPointerDownCapture: () => void;
    readonly onFocusCapture: () => void;
    /** Dictated, pasted from a menu, filled in by the browser. */
    readonly onBeforeInputCapture: () => void;
  };
}

/** Milliseconds in which a frame that is drawn is handed over to be shown. */
const HANDED_OVER = 5;

/** A page that nobody sees draws no frame. */
const UNSEEN = 100;

export function createSaidFirst(): SaidFirst {
  let end = (): void => undefined;
  const early = (): void => end();
  return {
    drawn() {
      holdTelling();
      const focused = document.activeElement;
      return new Promise((ended) => {
        const over = (): void => ended(document.activeElement === focused ? "drawn" : "focus-taken");
        end = over;
        setTimeout(over, UNSEEN);
        requestAnimationFrame(() => setTimeout(over, HANDED_OVER));
      });
    },
    early: { onKeyDownCapture: early, onPointerDownCapture: early, onFocusCapture: early, onBeforeInputCapture: early },
  };
}
