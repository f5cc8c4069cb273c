/** How long an invitation is good for, and how it stands to those who look at it. Pure. */
import type { GivenInvitation } from "../../invite/host.ts";

export const lives = { hour: 3_600, day: 86_400, week: 604_800 } as const;
export type Life = keyof typeof lives;

export type Shown = GivenInvitation["state"] | "expired";

/** @param now seconds since 1970 */
export const shownState = ({ state, invitation }: GivenInvitation, now: number): Shown =>
  state === "open" && now > invitation.until ? "expired" : state;

/** Whether its meeting room is still of use: somebody may ask, or has yet to hear the answer. */
export const isMet = (given: GivenInvitation, now: number): boolean => now <= given.invitation.until + lives.day;

/** Codes that more than one ask has: somebody has made one to look like another. */
export function sharedCodes(codes: Iterable<string>): ReadonlySet<string> {
  const seen = new Set<string>();
  const shared = new Set<string>();
  for (const code of codes) {
    if (seen.has(code)) shared.add(code);
    seen.add(code);
  }
  return shared;
}
