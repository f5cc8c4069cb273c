/** Things to do in groups, most pressing first. */
import type { Day } from "@sward/core";
import type { FurtherGroup } from "./further.ts";
import type { Matter, MatterDesk } from "./matters.ts";
import { mattersOf } from "./matters.ts";
import type { Reminder } from "./reminders.ts";
import type { TroubleMatter } from "./troubles.ts";

/** Most pressing first, those of `further.ts` among them. */
const order = [
  "device",
  "record",
  "matches",
  "looked-at-again",
  "changes",
  "played-off",
  "proposals",
  "starts",
  "reviews",
  "people",
  "idle",
  "waiting",
] as const;

export type GroupName = Exclude<(typeof order)[number], FurtherGroup["name"]>;

export type Group = { readonly name: GroupName; readonly matters: readonly Matter[] } | FurtherGroup;

/**
 * @param troubles of this device, from `troublesOf`
 * @param further from `further.ts`, and so are `reminders`
 */
export function groupMatters(
  desk: MatterDesk,
  today: Day,
  troubles: readonly TroubleMatter[] = [],
  further: readonly FurtherGroup[] = [],
  reminders: readonly Reminder[] = [],
): readonly Group[] {
  const byGroup = new Map<string, Matter[]>(order.map((name) => [name, []]));
  for (const matter of [...troubles, ...mattersOf(desk, today), ...reminders])
    byGroup.get(groupOf(matter))?.push(matter);
  return order.flatMap((name): Group[] => {
    const matters = byGroup.get(name) ?? [];
    if (matters.length > 0) return [{ name: name as GroupName, matters }];
    return further.filter((group) => group.name === name);
  });
}

/** How many there are that this club has to do something about; what waits for others is not counted. */
export const countPressing = (groups: readonly Group[]): number =>
  groups.reduce((sum, { name, matters }) => (name === "waiting" ? sum : sum + matters.length), 0);

function groupOf(matter: Matter): GroupName {
  switch (matter.about) {
    case "storage-trouble":
    case "may-not-write":
    case "relay-refuses":
    case "not-met":
      return "device";
    case "unknown-rules":
    case "forked-device":
      return "record";
    case "disputed-match":
    case "rival-corrections":
      return "matches";
    case "card":
      return matter.touched.length > 0 ? "looked-at-again" : matter.changes.length > 0 ? "changes" : "played-off";
    case "no-handicap":
      return "starts";
    case "newcomer":
    case "founders":
      return "reviews";
    case "idle-card":
      return "idle";
    case "one-report":
      return "waiting";
  }
}
