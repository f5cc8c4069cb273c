/** The screens outside any device: starting a club, joining one, recovering one. */
import type { Screen } from "./lazy.tsx";
import { lazyScreen } from "./lazy.tsx";

const screens: Readonly<Record<string, Screen>> = {
  "/start": lazyScreen(() => import("./found/found-screen.tsx"), "FoundScreen"),
  "/start-league": lazyScreen(() => import("./found/found-league-screen.tsx"), "FoundLeagueScreen"),
  "/recover": lazyScreen(() => import("./found/recover-screen.tsx"), "RecoverScreen"),
  "/join": lazyScreen(() => import("./invite/join-screen.tsx"), "JoinScreen"),
};

/** The screen at a path such as `/join`, or null. */
export const frontAt = (path: string): Screen | null => screens[path.replace(/\/+$/, "")] ?? null;
