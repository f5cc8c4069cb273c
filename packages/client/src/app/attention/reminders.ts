/** What a date brings up and no entry asks: starts to look at again, and cards without a game for a year. Found after the first view. */
import type { BookState, Day, Steps } from "@sward/core";
import { rulesOnDay } from "../entry/rules-on.ts";
import type { IdleMatter } from "./idle.ts";
import { idleCards } from "./idle.ts";
import type { FoundersMatter, NewcomerMatter } from "./newcomers.ts";
import { newcomersDue, readingBeginnings } from "./newcomers.ts";

export type Reminder = NewcomerMatter | FoundersMatter | IdleMatter;

export function* findingReminders(state: BookState, today: Day): Steps<readonly Reminder[]> {
  const members = [...state.cards.values()].filter(({ player }) => state.players.get(player)?.standing === "member");
  yield* readingBeginnings(members);
  return [...newcomersDue(members, today, (day) => rulesOnDay(state, day)), ...idleCards(state, today)];
}
