/** Things to do in groups, most pressing first. */
import type { Day } from "@sward/core";
import type { Matter, MatterDesk } from "./matters.ts";
import { mattersOf } from "./matters.ts";
import type { TroubleMatter } from "./troubles.ts";

/** Most pressing first. */
const order = [
  "device",
  "record",
  "matches",
  "looked-at-again",
  "changes",
  "played-off",
  "starts",
  "reviews",
  "idle",
  "waiting",
] as const;

export type GroupName = (typeof order)[number];

export interface Group {
  readonly name: GroupName;
  readonly matters: readonly Matter[];
}

/** @param troubles of this device, from `troublesOf` */
export function groupMatters(desk: MatterDesk, today: Day, troubles: readonly TroubleMatter[] = []): readonly Group[] {
  const byGroup = new Map<GroupName, Matter[]>(order.map((name) => [name, []]));
  for (const matter of [...troubles, ...mattersOf(desk, today)]) byGroup.get(groupOf(matter))?.push(matter);
  return order.flatMap((name) => {
    const matters = byGroup.get(name) ?? [];
    return matters.length === 0 ? [] : [{ name, matters }];
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
