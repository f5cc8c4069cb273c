/**
 * Which screen stands at which place below a device. The first screen comes with the app; every other is one line here and a script
 * of its own (lazy.tsx), fetched at once when the address names it and by and by when the browser has nothing else to do.
 */
import { AttentionScreen } from "./attention/attention-screen.tsx";
import type { Screen } from "./lazy.tsx";
import { fetchTheRest, lazyScreen } from "./lazy.tsx";
import { paramsOf } from "./place.ts";
import type { ScreenProps } from "./screen-props.ts";

export type { ScreenProps } from "./screen-props.ts";

const LeagueScreen = lazyScreen(() => import("./league/league-screen.tsx"), "LeagueScreen");
const LawnScreen = lazyScreen(() => import("./lawn/lawn-screen.tsx"), "LawnScreen");

/** In the order in which they are tried. */
export const routes: readonly (readonly [pattern: string, screen: Screen])[] = [
  ["/", AttentionScreen],
  ["/members", lazyScreen(() => import("./members/members-screen.tsx"), "MembersScreen")],
  ["/members/:player", lazyScreen(() => import("./card/card-screen.tsx"), "CardScreen")],
  ["/moving", lazyScreen(() => import("./moving/moving-screen.tsx"), "MovingScreen")],
  ["/proposals", lazyScreen(() => import("./proposals/proposals-screen.tsx"), "ProposalsScreen")],
  ["/events/:event", lazyScreen(() => import("./search/event-screen.tsx"), "EventScreen")],
  ["/check", lazyScreen(() => import("./check/check-screen.tsx"), "CheckScreen")],
  ["/check/summary", lazyScreen(() => import("./check/summary-screen.tsx"), "SummaryScreen")],
  ["/check/:player", lazyScreen(() => import("./check/check-card-screen.tsx"), "CheckCardScreen")],
  ["/entry", lazyScreen(() => import("./entry/entry-screen.tsx"), "EntryScreen")],
  ["/league", LeagueScreen],
  ["/league/join", LeagueScreen],
  ["/league/:book", LeagueScreen],
  ["/league/:book/clubs", LeagueScreen],
  ["/league/:book/fixtures", LeagueScreen],
  ["/league/:book/matters", LeagueScreen],
  ["/league/:book/rules", LeagueScreen],
  ["/league/:book/table", LeagueScreen],
  ["/league/:book/statements", LeagueScreen],
  ["/league/:book/:fixture", LeagueScreen],
  ["/league/:book/:fixture/team", LeagueScreen],
  ["/strokes", lazyScreen(() => import("./strokes/strokes-screen.tsx"), "StrokesScreen")],
  ["/tables", lazyScreen(() => import("./tables/tables-screen.tsx"), "TablesScreen")],
  ["/print", lazyScreen(() => import("./print/print-screen.tsx"), "PrintScreen")],
  ["/print/strokes", lazyScreen(() => import("./print/wall-screen.tsx"), "WallScreen")],
  ["/print/handicaps", lazyScreen(() => import("./print/handicaps-screen.tsx"), "HandicapsScreen")],
  ["/print/report", lazyScreen(() => import("./print/report-screen.tsx"), "ReportScreen")],
  ["/print/match", lazyScreen(() => import("./print/blank-sheet-screen.tsx"), "BlankSheetScreen")],
  ["/print/match/:book/:fixture", lazyScreen(() => import("./print/fixture-sheet-screen.tsx"), "FixtureSheetScreen")],
  ["/print/card/:player", lazyScreen(() => import("./card/fold-screen.tsx"), "FoldScreen")],
  ["/print/chart/:player", lazyScreen(() => import("./print/chart-screen.tsx"), "ChartScreen")],
  ["/lawn", LawnScreen],
  ["/lawn/:pad", LawnScreen],
  ["/lawn/:pad/:step", LawnScreen],
  ["/review", lazyScreen(() => import("./review/review-screen.tsx"), "ReviewScreen")],
  ["/review/:player", lazyScreen(() => import("./review/player-review-screen.tsx"), "PlayerReviewScreen")],
  ["/files", lazyScreen(() => import("./files/files-screen.tsx"), "FilesScreen")],
  ["/sharing", lazyScreen(() => import("./sharing/sharing-screen.tsx"), "SharingScreen")],
];

interface Found {
  readonly screen: Screen;
  readonly params: ScreenProps["params"];
}

/** The screen at a place such as `members/abc`, with what the pattern found in it; null when there is none. */
export function screenAt(place: string): Found | null {
  for (const [pattern, screen] of routes) {
    const params = paramsOf(pattern, `/${place}`);
    if (params !== null) return { screen, params };
  }
  return null;
}

/** Has the screen at `place`, where its script is here, work out what it shows. */
export function prepareScreen(place: string): void {
  const screen = screenAt(place)?.screen;
  if (screen !== undefined && "prepare" in screen) screen.prepare();
}

/** Fetches the script of the screen at `place` now, and all others whenever `idle` calls back. */
export async function fetchScreens(place: string, idle: (run: () => void) => void): Promise<void> {
  const first = screenAt(place)?.screen;
  if (first !== undefined && "fetch" in first) await first.fetch().catch(() => undefined);
  await fetchTheRest(idle);
}
