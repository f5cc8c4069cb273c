/** When the volume that is written in is to be closed: its season is over, or its client ids are many (`closing.ts` says why). */
import type { Counted } from "@sward/core";
import type * as Y from "yjs";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { BookOptions } from "./options.ts";
import type { ClosedVolume } from "./vault.ts";

export interface DueDeps {
  readonly options: Pick<BookOptions, "book" | "clock" | "clientsPerVolume">;
  readonly epoch: Pick<EpochKeys, "epoch" | "room">;
  readonly ledger: { counted(): Iterable<Counted> };
}

export interface Due {
  /** By this device's calendar. */
  thisSeason(): number;
  /**
   * The season in which the last volume began; null when nothing tells.
   * @param before the volume before it
   */
  seasonAfter(before: ClosedVolume | undefined): number | null;
  /** @param season in which it began */
  isDue(doc: Y.Doc, season: number | null): boolean;
}

/** Well below what a relay takes in one room (4,096): many may come at once who have not heard yet. */
const CLIENTS = 2_500;

export function createDue({ options, epoch, ledger }: DueDeps): Due {
  let began: number | null = null;
  const thisSeason = (): number => Number(options.clock.today().slice(0, 4));

  function firstSeason(): number | null {
    for (const { entry, origin } of ledger.counted()) {
      const opens =
        epoch.epoch === 0
          ? entry.kind === "book-opened"
          : entry.kind === "epoch-opened" && entry.body.room === epoch.room;
      if (!opens || origin !== options.book) continue;
      const year = Number(entry.at.slice(0, 4));
      began = Math.min(began ?? year, year);
    }
    return began;
  }

  return {
    thisSeason,
    seasonAfter: (before) => before?.next ?? began ?? firstSeason(),
    isDue({ clientID, store: { clients } }, season) {
      if (!clients.has(clientID) && clients.size >= (options.clientsPerVolume ?? CLIENTS)) return true;
      return thisSeason() > (season ?? thisSeason());
    },
  };
}
