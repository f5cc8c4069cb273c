/** Which screen stands at which place below a device. */
import type { AnyComponent } from "preact";
import { AttentionScreen } from "./attention/attention-screen.tsx";
import { CardScreen } from "./card/card-screen.tsx";
import { EntryScreen } from "./entry/entry-screen.tsx";
import { LeagueScreen } from "./league/league-screen.tsx";
import { MembersScreen } from "./members/members-screen.tsx";
import { paramsOf } from "./place.ts";
import type { ScreenProps } from "./screen-props.ts";
import { SharingScreen } from "./sharing/sharing-screen.tsx";
import { StrokesScreen } from "./strokes/strokes-screen.tsx";

export type { ScreenProps } from "./screen-props.ts";

type Screen = AnyComponent<ScreenProps>;

const routes: readonly (readonly [pattern: string, screen: Screen])[] = [
  ["/", AttentionScreen],
  ["/members", MembersScreen],
  ["/members/:player", CardScreen],
  ["/entry", EntryScreen],
  ["/league", LeagueScreen],
  ["/league/:book", LeagueScreen],
  ["/league/:book/:fixture", LeagueScreen],
  ["/strokes", StrokesScreen],
  ["/sharing", SharingScreen],
];

/** The screen at a place such as `members/abc`, with what the pattern found in it; null when there is none. */
export function screenAt(place: string): { readonly screen: Screen; readonly params: ScreenProps["params"] } | null {
  for (const [pattern, screen] of routes) {
    const params = paramsOf(pattern, `/${place}`);
    if (params !== null) return { screen, params };
  }
  return null;
}
