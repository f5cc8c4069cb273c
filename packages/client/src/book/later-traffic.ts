/**
 * A book's traffic, whose script comes after the first view: a record is read from the vault, seen, and written in, before anything has
 * to travel. Until the script is here nothing is connected and nothing is at the relay, which is the truth. If it cannot be fetched the
 * book goes on without, and it is tried again.
 *
 * Rejected: to fetch it at the first change only (a book that is just looked at must hear of others' changes too).
 */
import { fail } from "@sward/core";
import type { Connection } from "../wire/connection.ts";
import type { Traffic, TrafficDeps } from "./traffic.ts";

const TRY_AGAIN_MS = 5_000;

export function laterTraffic(deps: TrafficDeps): Traffic {
  const { options, holdings, inTurn } = deps;
  let traffic: Traffic | null = null;
  let [paused, stopped, missed] = [false, false, false];
  let timer: unknown = null;

  async function here(): Promise<Traffic> {
    if (traffic !== null) return traffic;
    const { createTraffic } = await import("./traffic.ts");
    traffic ??= createTraffic(deps);
    if (paused) traffic.pause();
    if (stopped) traffic.stop();
    return traffic;
  }

  /** Not in the book's turn: a script that is long in coming, or never comes, must not keep anybody from writing. */
  async function attach(): Promise<void> {
    try {
      const fetched = await here();
      if (!stopped) await inTurn(fetched.attach);
      // Keys may have been stated in the meantime.
      if (missed) await inTurn(fetched.retry);
    } catch {
      missed = true;
      deps.tell(null);
      if (!stopped) timer = options.relay?.deps.setTimeout(() => void attach(), TRY_AGAIN_MS);
    }
  }

  function beforeIt(): Connection {
    if (options.relay === null || paused) return { type: "offline" };
    return { type: "connecting", attempt: 0, next: null, fault: missed ? { type: "unreachable" } : null };
  }

  return {
    attach,
    push: async (ids) => traffic?.push(ids),
    retry: async () => traffic?.retry() ?? true,
    async take(texts) {
      try {
        return await (await here()).take(texts);
      } catch (cause) {
        return fail({ type: "not-saved", cause: String(cause) });
      }
    },
    progress: () => traffic?.progress() ?? null,
    isStored: (place) => traffic?.isStored(place) ?? false,
    unstored: () => traffic?.unstored() ?? new Set(holdings.entries.keys()),
    // Asked with every change, of a record that may be long.
    waiting: () => traffic?.waiting() ?? holdings.entries.size,
    connection() {
      const now = traffic?.connection() ?? beforeIt();
      // Nobody has paused it: no document is open yet, or one is being opened anew. A screen would warn, and take it back.
      return now.type === "offline" ? beforeIt() : now;
    },
    pause() {
      paused = true;
      traffic?.pause();
    },
    resume() {
      paused = false;
      traffic?.resume();
    },
    stop() {
      stopped = true;
      options.relay?.deps.clearTimeout(timer);
      traffic?.stop();
    },
    // Stores that were never opened are closed too: when the room is left, one that is closed is wiped.
    close: async () => (await here()).close(),
  };
}
