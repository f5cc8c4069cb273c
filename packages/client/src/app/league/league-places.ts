/** Places of a league's own screens, apart from the others (`place.ts`): the first view does not need them. */
import type { BookId } from "@sward/core";

export const leaguePlaces = {
  join: "league/join",
  clubs: (book: BookId) => `league/${book}/clubs`,
  fixtures: (book: BookId) => `league/${book}/fixtures`,
  rules: (book: BookId) => `league/${book}/rules`,
  table: (book: BookId) => `league/${book}/table`,
} as const;
