/** The round on this device, and how it is moved on. */
import type { PlayerId } from "@sward/core";
import { useLocation } from "preact-iso";
import { useDesk } from "../desk-store.ts";
import { places, useHref } from "../place.ts";
import { keepRound, readRound } from "./kept-round.ts";
import type { Round } from "./round.ts";

export interface RoundHere {
  readonly round: Round | null;
  keep(round: Round | null): void;
  /** Keeps the round and goes to the card it is at, or to the summary after the last one. */
  goTo(round: Round): void;
}

export function useRound(): RoundHere {
  const { club } = useDesk();
  const { route } = useLocation();
  const href = useHref();
  const keep = (round: Round | null): void => keepRound(localStorage, club.device, club.id, round);
  return {
    round: readRound(localStorage, club.device, club.id),
    keep,
    goTo(round) {
      keep(round);
      route(href(placeIn(round)));
    },
  };
}

/** Where a round is at. */
export function placeIn({ cards, at }: Pick<Round, "cards" | "at">): string {
  const player: PlayerId | undefined = cards[at];
  return player === undefined ? places.checkSummary : places.checkCard(player);
}
