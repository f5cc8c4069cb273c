/** The counts of a season, worked out anew when the record changes and not at every drawing. */
import type { ReviewCounts } from "@sward/core";
import { reviewCounts } from "@sward/core";
import { useMemo } from "preact/hooks";
import { useDesk, version } from "../desk-store.ts";
import type { Season } from "./season.ts";
import { seasonAsked, seasonsIn, spanOf } from "./season.ts";

export interface SeasonCounts {
  readonly season: Season;
  readonly seasons: readonly Season[];
  readonly counts: ReviewCounts;
}

/** @param asked the `season` of the address */
export function useReview(asked: string | undefined): SeasonCounts {
  const { club, today } = useDesk();
  const drawn = version.value;
  // A book changes in place, and `version` is what tells that it did.
  return useMemo(() => {
    const state = club.state();
    const seasons = seasonsIn(state);
    const season = seasonAsked(asked, seasons, today());
    return { season, seasons, counts: reviewCounts(state, club.counted(), spanOf(season)) };
  }, [club, drawn, asked]);
}
