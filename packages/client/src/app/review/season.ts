/** Which season is looked at: a calendar year of the record, or all of them. */
import type { BookState, Day, Span } from "@sward/core";
import { seasonOf } from "../dates.ts";

/** A year such as "2026", or "all". */
export type Season = string;

export const ALL: Season = "all";

/** Years with matches, the latest first. */
export function seasonsIn({ matches }: Pick<BookState, "matches">): readonly Season[] {
  const years = new Set<string>();
  for (const { facts } of matches.values()) if (facts !== null) years.add(seasonOf(facts.date));
  return [...years].sort().reverse();
}

/** The one asked for when the record has it; else the latest that has begun. */
export function seasonAsked(asked: string | undefined, seasons: readonly Season[], today: Day): Season {
  if (asked === ALL || (asked !== undefined && seasons.includes(asked))) return asked;
  return seasons.find((year) => year <= seasonOf(today)) ?? ALL;
}

export const spanOf = (season: Season): Span =>
  season === ALL ? { from: "0000-01-01", to: "9999-12-31" } : { from: `${season}-01-01`, to: `${season}-12-31` };
