/** The handicaps of a club as of a day, and since when each is in force: what hangs on the notice board. */
import type { Card, Day } from "@sward/core";
import { handicapInForce } from "@sward/core";
import { changesOf } from "../card/card-groups.ts";
import type { WallPerson } from "./wall-plan.ts";

export interface ListedHandicap extends WallPerson {
  /** First day of it; null when the card does not tell. */
  readonly since: Day | null;
  /** A change that is on the card and not in force yet. */
  readonly waiting: { readonly to: number; readonly after: Day } | null;
}

export type ListOrder = "name" | "handicap";

/** @param people in any order */
export function handicapList(
  people: readonly WallPerson[],
  cards: ReadonlyMap<WallPerson["player"], Card>,
  today: Day,
  order: ListOrder,
): readonly ListedHandicap[] {
  const listed = people.map((person): ListedHandicap => {
    const card = cards.get(person.player);
    if (card === undefined) return { ...person, since: null, waiting: null };
    return { ...person, since: inForceSince(card, today), waiting: handicapInForce(card, today).waiting };
  });
  return listed.sort(
    (a, b) => (order === "handicap" ? a.handicap - b.handicap : 0) || collator.compare(a.name, b.name),
  );
}

/** The day the handicap in force on `today` came into force. */
export function inForceSince(card: Card, today: Day): Day | null {
  let since: Day | null = null;
  for (const { date, after, from, to } of changesOf(card.lines)) {
    const first = after === null ? date : dayAfter(after);
    // Setting a handicap again to what it was is a decision, and no change.
    if (first <= today && from !== to) since = first;
  }
  return since;
}

const dayAfter = (day: Day): Day => new Date(Date.parse(`${day}T00:00:00Z`) + 86_400_000).toISOString().slice(0, 10);

const collator = new Intl.Collator(undefined, { sensitivity: "base" });
