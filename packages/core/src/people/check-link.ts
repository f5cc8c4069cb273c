/**
 * Whether two ids may be said to be one person, before it is signed. A link can be withdrawn and then everything is as before, so only
 * what cannot be so is refused; whether it is so, people know. How somebody came to think so (the player's own code, a name chosen from
 * a list, a record brought along) makes no difference to the link.
 *
 * Leave what is known of a link that disagrees with another to PE5: it comes from two devices that had not met.
 *
 * SPEC: PE9.
 */
import type { BookId, MatchKey, PlayerId } from "../ids.ts";
import type { BookState, MatchFacts } from "../state.ts";

export type LinkFault =
  | { readonly type: "link-self"; readonly player: PlayerId }
  /** Neither id is known in this book. */
  | { readonly type: "link-unknown"; readonly player: PlayerId }
  /** They are one person already, so another link could only make a circle. */
  | { readonly type: "link-circular"; readonly player: PlayerId; readonly to: PlayerId }
  /** Each has a home club, and not the same. */
  | { readonly type: "link-two-homes"; readonly homes: readonly [BookId, BookId] }
  /** They played in one match: nobody can be there twice. */
  | { readonly type: "link-same-match"; readonly match: MatchKey };

/** Null when the link may be made. `to` need not be known in this book: it may be the id a player has at home. */
export function checkLink(
  { player, to }: { readonly player: PlayerId; readonly to: PlayerId },
  { players, matches }: Pick<BookState, "players" | "matches">,
): LinkFault | null {
  if (player === to) return { type: "link-self", player };
  const known = (id: PlayerId): PlayerId | null => {
    if (players.has(id)) return id;
    for (const one of players.values()) if (one.alsoKnownAs.includes(id)) return one.player;
    return null;
  };
  const [one, two] = [known(player), known(to)];
  if (one === null) return { type: "link-unknown", player };
  if (one === two) return { type: "link-circular", player, to };
  const homes = [one, two].map((id) => (id === null ? undefined : players.get(id)?.home?.book));
  const [home, other] = homes;
  if (home !== undefined && other !== undefined && home !== other)
    return { type: "link-two-homes", homes: [home, other] };
  for (const { key, reports } of matches.values()) {
    for (const { facts } of reports) {
      if (isIn(facts, one) && isIn(facts, two ?? to)) return { type: "link-same-match", match: key };
    }
  }
  return null;
}

/** Asked of every match for each link that is offered: without a list made for each. */
function isIn({ sides }: MatchFacts, player: PlayerId): boolean {
  for (const side of sides) for (const seat of side) if (seat.player === player) return true;
  return false;
}
