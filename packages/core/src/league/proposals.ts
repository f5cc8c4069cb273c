/**
 * Changes of handicap that somebody else than the home club's handicapper thinks right: an officer of another club, an event's
 * handicapper. A proposal moves nothing. The home club's officers answer it where it was made, so both see the answer, and where they
 * agree they set the handicap in their own book, which alone says what a player's handicap is.
 *
 * API: `viewProposals({state, counted})`, in a league's book or a club's.
 *
 * SPEC: LG42, LG43.
 */
import type { EntryId, KeyId, PlayerId } from "../ids.ts";
import { byAuthorLastFirst } from "../ledger/chain.ts";
import type { EntryOf } from "../ledger/entry.ts";
import type { Day } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import type { BookState } from "../state.ts";
import type { LeagueSource } from "./standing.ts";
import { clubOf, personIn, readStanding } from "./standing.ts";

interface Said {
  readonly entry: EntryId;
  readonly reason: string;
  readonly by: KeyId;
  /** In a league, the club the author writes for; null for the league's own and in a club's book. */
  readonly club: KeyId | null;
  readonly at: string;
}

export interface Proposal extends Said {
  readonly player: PlayerId;
  readonly handicap: number;
  readonly on: Day;
  readonly answer: (Said & { readonly accepts: boolean }) | null;
}

/** By day, then by id; those without an answer are the home club's to look at. */
export function viewProposals(source: LeagueSource): readonly Proposal[] {
  const { state } = source;
  const person = personIn(state);
  const standing = readStanding(source, ["change-proposed", "change-answered"]);
  const answers = standing("change-answered").sort(byAuthorLastFirst);
  const said = (entry: EntryOf<"change-proposed"> | EntryOf<"change-answered">): Said => ({
    entry: entry.id,
    reason: entry.body.reason,
    by: entry.author,
    club: clubOf(state, entry.author) ?? null,
    at: entry.at,
  });
  const proposals = standing("change-proposed").map((entry): Proposal => {
    const player = person(entry.body.player);
    const answer = answers.find(({ author, body }) => body.proposal === entry.id && mayAnswer(state, player, author));
    const { handicap, on } = entry.body;
    return {
      ...said(entry),
      player,
      handicap,
      on,
      answer: answer === undefined ? null : { ...said(answer), accepts: answer.body.accepts },
    };
  });
  return proposals.sort((a, b) => byCodeUnits(a.on, b.on) || byCodeUnits(a.entry, b.entry));
}

/**
 * In a club's book its officers answer. In a league's the player's home club does, and for a player whose home is no club of the league,
 * the league. That the author is an officer is judged before.
 */
export function mayAnswer(state: BookState, player: PlayerId, author: KeyId): boolean {
  if (state.as !== "league") return true;
  const club = clubOf(state, author);
  const home = state.players.get(player)?.home?.book as KeyId | undefined;
  return home !== undefined && state.clubs.has(home) ? club === home : club === null;
}
