/**
 * Whether what a document's store holds may be applied, judged by the screen that judges what comes from a relay. Apart from the stores,
 * since a page fetches it after the first view.
 */
import type { RoomKind, ScreenLimits, Steps } from "@sward/core";
import { atOnce, screenLimits, screenUpdate } from "@sward/core";

/** Our own stored state is one long update; the relay's pages are not. */
const storedLimits: ScreenLimits = { ...screenLimits, updateBytes: 1024 * 1024 * 1024 };

/** Whether these updates, applied in this order to an empty document, pass the screen; a step for each. */
export function* judgingStored(updates: readonly Uint8Array[], kind: RoomKind): Steps<boolean> {
  const next = new Map<number, number>();
  const known = { next: (client: number) => next.get(client) ?? 0, clients: 0 };
  for (const update of updates) {
    yield;
    known.clients = next.size;
    const verdict = screenUpdate(update, known, { kind, policy: "whole", limits: storedLimits });
    if (verdict.refusals.length > 0 || verdict.gap !== null) return false;
    for (const [client, clock] of verdict.next) next.set(client, clock);
  }
  return true;
}

export const storedUpdatesAreSound = (updates: readonly Uint8Array[], kind: RoomKind): boolean =>
  atOnce(judgingStored(updates, kind));
