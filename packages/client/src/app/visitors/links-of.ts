/**
 * The links of a person that stand, each with who made it and when, and whether this device may take it back. A link may also be
 * refused here before it is signed: the leagues of the club know homes that the club's own book does not. Pure.
 */
import type { BookState, EntryId, KeyId, LinkFault, Player, PlayerId } from "@sward/core";
import { checkLink, matchesByPlayer, readStanding } from "@sward/core";
import type { VisitedDesk } from "./visited-desk.ts";
import { knownAs } from "./visited-desk.ts";

export interface StandingLink {
  readonly entry: EntryId;
  readonly player: PlayerId;
  readonly to: PlayerId;
  readonly by: KeyId;
  readonly at: string;
}

/** In the order they were written down by the devices' clocks. */
export function linksOf({ club }: Pick<VisitedDesk, "club">, player: PlayerId): readonly StandingLink[] {
  const state = club.state();
  const person = knownAs(state, player);
  const own = person === null ? undefined : state.players.get(person);
  if (own === undefined || own.alsoKnownAs.length === 0) return [];
  const ids = new Set([own.player, ...own.alsoKnownAs]);
  const links = readStanding({ state, counted: club.counted() }, ["player-linked"])("player-linked");
  return links
    .filter(({ body }) => ids.has(body.player))
    .map(({ id, author, at, body }): StandingLink => ({ entry: id, by: author, at, ...body }))
    .sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.entry < b.entry ? -1 : 1));
}

export interface AskedLink {
  readonly player: PlayerId;
  readonly to: PlayerId;
}

type Matches = Pick<BookState, "matches">;

/** A book's matches in which any of these people took part by some account. */
export function matchesWith(state: Matches, who: ReadonlySet<PlayerId>): Matches {
  return {
    matches: new Map([...matchesByPlayer(state, (player) => who.has(player)).values()].flatMap((own) => [...own])),
  };
}

/**
 * As core asks it, with those beside whom only a league knows; null when the link may be made. Made once for many questions.
 * @param only who will be linked, where that is known: then only each one's own matches are looked through for the other
 */
export function linkJudge(
  { club, leagues }: VisitedDesk,
  only: ReadonlySet<PlayerId> | null = null,
): (link: AskedLink) => LinkFault | null {
  const state = club.state();
  const own = only === null ? null : matchesByPlayer(state, (player) => only.has(player));
  const players = new Map<PlayerId, Player>(state.players);
  const known = new Set([...players.values()].flatMap(({ player, alsoKnownAs }) => [player, ...alsoKnownAs]));
  for (const league of leagues) {
    for (const [id, one] of league.state().players) {
      // Whom the club's book knows, it knows better.
      if (![id, ...one.alsoKnownAs].some((other) => known.has(other))) players.set(id, one);
    }
  }
  return (link) => {
    const matches = own === null ? state.matches : (own.get(link.player) ?? new Map());
    return checkLink(link, { players, matches });
  };
}
