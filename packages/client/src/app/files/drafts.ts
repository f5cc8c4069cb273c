/** What an import saves, in one append: visitors who join with it, events that open with it, and its matches. */
import type { Day, Draft, EventId, MatchReported, PlayerId } from "@sward/core";
import type { Person } from "../entry/people.ts";

export type Joiner = Pick<Person, "player" | "name" | "short" | "standing" | "home">;

export interface ImportDrafts {
  readonly drafts: readonly Draft[];
  /** Names for the roster, of those who join. */
  readonly joining: readonly Joiner[];
}

/**
 * @param people everybody a match may name
 * @param titles of events that are opened with the import
 */
export function importDrafts(
  matches: readonly MatchReported[],
  people: ReadonlyMap<PlayerId, Joiner>,
  titles: ReadonlyMap<EventId, string>,
): ImportDrafts {
  const joining = new Map<PlayerId, Joiner>();
  const opening = new Map<EventId, Extract<Draft, { kind: "event-opened" }>["body"]>();
  for (const { sides, event, date, occasion } of matches) {
    for (const { player } of sides.flat()) {
      const person = people.get(player);
      if (person?.standing === "new" || person?.standing === "league") joining.set(player, person);
    }
    const title = event === undefined ? undefined : titles.get(event);
    if (event === undefined || title === undefined) continue;
    const held = opening.get(event);
    const [from, to]: [Day, Day] = [earlier(held?.from, date), later(held?.to, date)];
    opening.set(event, { event, title: title.slice(0, LONGEST_TITLE), occasion: held?.occasion ?? occasion, from, to });
  }
  const drafts: Draft[] = [];
  for (const { player, home } of joining.values()) {
    drafts.push({ kind: "player-joined", body: { player, standing: "visitor", ...homeOf(home) } });
  }
  for (const body of opening.values()) drafts.push({ kind: "event-opened", body });
  for (const body of matches) drafts.push({ kind: "match-reported", body });
  return { drafts, joining: [...joining.values()] };
}

/** As long as a record's title may be. */
const LONGEST_TITLE = 80;

const earlier = (held: Day | undefined, day: Day): Day => (held !== undefined && held < day ? held : day);
const later = (held: Day | undefined, day: Day): Day => (held !== undefined && held > day ? held : day);

function homeOf(home: Joiner["home"]): Pick<Extract<Draft, { kind: "player-joined" }>["body"], "home"> {
  if (home === null) return {};
  return { home: home.book === undefined ? { club: home.club ?? "" } : { book: home.book } };
}
