/** What needs attention on this device now, for the first screen and for the number on its tab. */
import type { Day } from "@sward/core";
import { lastMet, useDesk } from "../desk-store.ts";
import { further } from "./further.ts";
import type { Group } from "./groups.ts";
import { groupMatters } from "./groups.ts";
import { troublesOf } from "./troubles.ts";

export function useGroups(): readonly Group[] {
  const desk = useDesk();
  const today = desk.today();
  const troubles = troublesOf([desk.club, ...desk.leagues], metDay(lastMet.value), today);
  return groupMatters(desk, today, troubles, further.value ?? []);
}

/** A moment's day; within a day of it in any time zone, which is near enough for counting days. */
const metDay = (moment: string | null): Day | null => moment?.slice(0, 10) ?? null;
