/** What a screen does not show is done when it has been drawn, and keeps nobody waiting who has just pressed something. */

/** Milliseconds after which it is done all the same: a page that nobody sees draws nothing. */
const LATEST = 500;
/** Two frames, where a browser does not say when it is idle. */
const FRAMES = 30;

export const onceDrawn: (run: () => void) => void =
  typeof requestIdleCallback === "function"
    ? (run) => void requestIdleCallback(run, { timeout: LATEST })
    : (run) => void setTimeout(run, FRAMES);
