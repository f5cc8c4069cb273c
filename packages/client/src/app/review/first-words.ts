/** What is said of a newcomer's estimate, in whole sentences. */
import { reviewWords } from "../words/review.ts";
import type { FirstGamesEstimate } from "./first-games.ts";

/** @param now the handicap in force */
export function estimateWords(estimate: FirstGamesEstimate, now: number): string {
  const { newcomers } = reviewWords;
  const within = now >= estimate.strongest && now <= estimate.weakest;
  return [
    newcomers.sentence(estimate),
    within ? newcomers.inside(now) : newcomers.outside(now),
    ...(estimate.beyondTable ? [newcomers.end] : []),
  ].join(" ");
}
