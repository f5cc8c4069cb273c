/** Places of a league's own screens, apart from the others (`place.ts`): the first view does not need them. */
import type { BookId, FixtureId } from "@sward/core";

export const leaguePlaces = {
  join: "league/join",
  clubs: (book: BookId) => `league/${book}/clubs`,
  fixtures: (book: BookId) => `league/${book}/fixtures`,
  rules: (book: BookId) => `league/${book}/rules`,
  matters: (book: BookId) => `league/${book}/matters`,
  statements: (book: BookId) => `league/${book}/statements`,
  team: (book: BookId, fixture: FixtureId) => `league/${book}/${fixture}/team`,
  table: (book: BookId) => `league/${book}/table`,
} as const;
