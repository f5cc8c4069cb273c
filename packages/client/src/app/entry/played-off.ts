/**
 * The handicap to prefill for a player on a day. Of our own members the card says it. Of others only what their home club stated in
 * a league, or what they last played off, is known here, whichever is of the later day; a person may always write another, which is
 * then what the match was played off.
 */
import type { Day, PlayerId } from "@sward/core";
import { handicapInForce } from "@sward/core";
import type { ReadableBook, ReadableDesk } from "./reading.ts";

export type Advice =
  | {
      readonly from: "card";
      readonly off: number;
      /** A change that waits for the end of a day or an event. */
      readonly waiting: { readonly to: number; readonly after: Day } | null;
    }
  | { readonly from: "stated" | "last-played"; readonly off: number; readonly on: Day }
  | { readonly from: "nobody" };

export function adviseOff({ club, leagues }: ReadableDesk, player: PlayerId, day: Day): Advice {
  const card = club.state().cards.get(player);
  if (card !== undefined) {
    const { handicap, waiting } = handicapInForce(card, day);
    return { from: "card", off: handicap, waiting };
  }
  const said = [
    ...leagues.flatMap((league) => statedIn(league, player)),
    ...[club, ...leagues].flatMap((book) => lastPlayed(book, player, day)),
  ].filter(({ on }) => on <= day);
  let latest: (typeof said)[number] | undefined;
  // A statement comes first in the list and so holds against a match of the same day.
  for (const one of said) if (latest === undefined || one.on > latest.on) latest = one;
  return latest ?? { from: "nobody" };
}

type Said = Extract<Advice, { readonly on: Day }>;

function statedIn(league: Pick<ReadableBook, "state">, player: PlayerId): Said[] {
  const stated = league.state().stated.get(player);
  return stated === undefined ? [] : [{ from: "stated", off: stated.handicap, on: stated.on }];
}

function lastPlayed(book: Pick<ReadableBook, "state">, player: PlayerId, day: Day): Said[] {
  let latest: Said | undefined;
  for (const { facts } of book.state().matches.values()) {
    if (facts === null || facts.date > day || (latest !== undefined && facts.date <= latest.on)) continue;
    const seat = facts.sides.flat().find((each) => each.player === player);
    if (seat !== undefined) latest = { from: "last-played", off: seat.off, on: facts.date };
  }
  return latest === undefined ? [] : [latest];
}
