/** Where screens are: every address below `/d/<device>/` is built here, and read here. */
import type { BookId, EventId, FixtureId, PlayerId } from "@sward/core";
import { useLocation } from "preact-iso";

/** A screen's place below the device, such as `members/abc`. */
export const places = {
  attention: "",
  members: "members",
  member: (player: PlayerId) => `members/${player}`,
  moving: "moving",
  proposals: "proposals",
  entry: "entry",
  league: "league",
  fixture: (book: BookId, fixture: FixtureId) => `league/${book}/${fixture}`,
  strokes: "strokes",
  lawn: "lawn",
  pad: (pad: string) => `lawn/${pad}`,
  padResult: (pad: string) => `lawn/${pad}/result`,
  tables: "tables",
  print: "print",
  printWall: "print/strokes",
  printHandicaps: "print/handicaps",
  printReport: "print/report",
  printMatch: "print/match",
  printFixture: (book: BookId, fixture: FixtureId) => `print/match/${book}/${fixture}`,
  printCard: (player: PlayerId) => `print/card/${player}`,
  printChart: (player: PlayerId) => `print/chart/${player}`,
  review: "review",
  reviewOf: (player: PlayerId) => `review/${player}`,
  sharing: "sharing",
  files: "files",
  event: (event: EventId) => `events/${event}`,
  check: "check",
  checkCard: (player: PlayerId) => `check/${player}`,
  checkSummary: "check/summary",
} as const;

/** `/d/<device>` of an address, or null when it is not below a device. */
export const baseOf = (path: string): string | null => /^\/d\/[^/]+/.exec(path)?.[0] ?? null;

/** What follows the device in a path, without slashes at its ends. */
export const placeOf = (path: string): string => path.slice(baseOf(path)?.length ?? 0).replaceAll(/^\/+|\/+$/g, "");

/** What a path has in the places of a pattern such as `/members/:player`; null when it does not fit. */
export function paramsOf(pattern: string, path: string): Readonly<Record<string, string>> | null {
  const wanted = pattern.split("/");
  const given = path.split("/");
  if (wanted.length !== given.length) return null;
  const params: Record<string, string> = {};
  for (const [place, part] of wanted.entries()) {
    const found = given[place] ?? "";
    if (!part.startsWith(":")) {
      if (part !== found) return null;
    } else if (found === "") return null;
    else params[part.slice(1)] = found;
  }
  return params;
}

/** Builds addresses of this device: `href(places.members)`, `href(places.entry, { correct: id })`. */
export function useHref(): (place: string, query?: Readonly<Record<string, string>>) => string {
  const base = baseOf(useLocation().path) ?? "";
  return (place, query) => {
    const search = query === undefined ? "" : `?${new URLSearchParams(query)}`;
    return `${base}/${place}${search}`;
  };
}
