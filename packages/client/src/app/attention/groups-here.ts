/** What needs attention on this device now, for the first screen and for the number on its tab. */
import type { Day } from "@sward/core";
import type { Desk } from "../../desk/desk.ts";
import { lastMet, useDesk, version } from "../desk-store.ts";
import { further, reminders } from "./further.ts";
import type { Group } from "./groups.ts";
import { groupMatters } from "./groups.ts";
import { troublesOf } from "./troubles.ts";

interface Found {
  /** What they were made from: the same again, the same groups. */
  readonly of: readonly unknown[];
  readonly groups: readonly Group[];
}

let found: Found | null = null;

/** Asked by the screen and by its tab, which is on every screen: looked for once with each change. */
export function groupsHere(): readonly Group[] {
  const desk = useDesk();
  const of = [desk, version.value, desk.today(), metDay(lastMet.value), further.value, reminders.value];
  if (found === null || !found.of.every((one, at) => one === of[at])) found = { of, groups: look(desk) };
  return found.groups;
}

function look(desk: Desk): readonly Group[] {
  const today = desk.today();
  const troubles = troublesOf([desk.club, ...desk.leagues], metDay(lastMet.value), today);
  return groupMatters(desk, today, troubles, further.value ?? [], reminders.value);
}

/** A moment's day; within a day of it in any time zone, which is near enough for counting days. */
const metDay = (moment: string | null): Day | null => moment?.slice(0, 10) ?? null;
