/** What needs attention on this device now, for the first screen and for the number on its tab. */
import type { Day } from "@sward/core";
import { lastMet, useDesk } from "../desk-store.ts";
import type { Group } from "./groups.ts";
import { groupMatters } from "./groups.ts";
import { troublesOf } from "./troubles.ts";

export function useGroups(): readonly Group[] {
  const desk = useDesk();
  const today = desk.today();
  return groupMatters(desk, today, troublesOf([desk.club, ...desk.leagues], metDay(lastMet.value), today));
}

/** A moment's day; within a day of it in any time zone, which is near enough for counting days. */
const metDay = (moment: string | null): Day | null => moment?.slice(0, 10) ?? null;
