/**
 * Keeps the screen awake while a pad is open, where the browser can (Screen Wake Lock, https://www.w3.org/TR/screen-wake-lock/). The
 * browser lets go of it whenever the page is not to be seen, so it is asked for again each time it comes back. Whether it holds is
 * shown: a player who trusts it in vain finds a dark phone in the middle of a hoop.
 */

/** What is used of `navigator.wakeLock`. */
export interface WakeLockMaker {
  request(type: "screen"): Promise<WakeLockHeld>;
}

export interface WakeLockHeld {
  release(): Promise<void>;
  addEventListener(type: "release", told: () => void): void;
}

/** What is used of `document`. */
export interface Sight {
  readonly visibilityState: string;
  addEventListener(type: "visibilitychange", told: () => void): void;
  removeEventListener(type: "visibilitychange", told: () => void): void;
}

/** `not-here`: this browser cannot. `refused`: it can and would not, as when the battery is low. */
export type Wakefulness = "asking" | "awake" | "refused" | "not-here";

/** Asks until the returned function is called. @param told every change, the first at once */
export function stayAwake(
  maker: WakeLockMaker | undefined,
  sight: Sight,
  told: (state: Wakefulness) => void,
): () => void {
  if (maker === undefined) {
    told("not-here");
    return () => undefined;
  }
  let held: WakeLockHeld | null = null;
  let asking = false;
  let ended = false;
  const ask = async (): Promise<void> => {
    if (ended || asking || held !== null || sight.visibilityState !== "visible") return;
    asking = true;
    told("asking");
    try {
      const lock = await maker.request("screen");
      if (ended) {
        await lock.release();
        return;
      }
      held = lock;
      lock.addEventListener("release", () => {
        held = null;
        // Out of sight it is always let go; in sight the browser had its reasons, and asking at once would be refused again.
        if (!ended) told(sight.visibilityState === "visible" ? "refused" : "asking");
      });
      told("awake");
    } catch {
      if (!ended) told("refused");
    } finally {
      asking = false;
    }
  };
  const seen = (): void => void ask();
  sight.addEventListener("visibilitychange", seen);
  void ask();
  return () => {
    ended = true;
    sight.removeEventListener("visibilitychange", seen);
    void held?.release().catch(() => undefined);
  };
}
