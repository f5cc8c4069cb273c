/** The form of a proposal: what it holds, what is wrong with it, and what it would write. Pure. */
import type { Day, Draft, Match, PlayerId } from "@sward/core";
import { isDay } from "../card/handicap-setting.ts";
import { factsOf, fromSideOf, matchesOf } from "../visitors/link-preview.ts";
import type { VisitedDesk } from "../visitors/visited-desk.ts";
import { knownAs } from "../visitors/visited-desk.ts";
import { proposalWords } from "../words/proposals.ts";
import type { EvidenceGame } from "./evidence.ts";
import { groundsText, LONGEST } from "./evidence.ts";

export interface ProposeForm {
  readonly handicap: number;
  readonly on: string;
  readonly reason: string;
  readonly games: readonly EvidenceGame[];
}

export interface ProposeFaults {
  readonly on: string | null;
  readonly reason: string | null;
}

export function proposeFaults({ on, reason, games }: ProposeForm): ProposeFaults | null {
  const { propose } = proposalWords;
  const over = groundsText({ reason, games }).length - LONGEST;
  const faults = {
    on: isDay(on) ? null : propose.dateMissing,
    reason: reason.trim() === "" ? propose.reasonMissing : over > 0 ? propose.tooLong(over) : null,
  };
  return faults.on === null && faults.reason === null ? null : faults;
}

export const proposeDraft = (player: PlayerId, form: ProposeForm): Draft => ({
  kind: "change-proposed",
  body: { player, handicap: form.handicap, on: form.on, reason: groundsText(form) },
});

/** A game that may be given as evidence, as it is offered. */
export interface OfferedGame extends EvidenceGame {
  readonly off: number;
  readonly against: readonly PlayerId[];
}

/** The person's latest matches in any book here, each once, latest first. */
export function gamesToOffer({ club, leagues }: VisitedDesk, person: PlayerId, most: number): readonly OfferedGame[] {
  const found = new Map<string, OfferedGame>();
  const state = club.state();
  const known = knownAs(state, person) ?? person;
  const ids = [known, ...(state.players.get(known)?.alsoKnownAs ?? [])];
  for (const book of [club, ...leagues]) {
    for (const id of ids) {
      const there = knownAs(book.state(), id) ?? id;
      for (const match of matchesOf(book.state(), there)) {
        const game = offered(match, there);
        if (game !== null) found.set(`${game.day} ${game.score}`, found.get(`${game.day} ${game.score}`) ?? game);
      }
    }
  }
  return [...found.values()].sort((a, b) => (a.day < b.day ? 1 : a.day > b.day ? -1 : 0)).slice(0, most);
}

function offered(match: Match, person: PlayerId): OfferedGame | null {
  const facts = match.facts === null ? null : factsOf(match);
  if (facts === null) return null;
  const { sides, games, date } = fromSideOf(facts, person);
  const off = sides[0].find(({ player }) => player === person)?.off;
  if (off === undefined) return null;
  return {
    day: date as Day,
    score: games.map(({ score }) => score.join("-")).join(" "),
    off,
    against: sides[1].map(({ player }) => player),
  };
}
