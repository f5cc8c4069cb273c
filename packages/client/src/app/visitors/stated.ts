/** What clubs say in the leagues of a visitor's handicap, under any of the visitor's ids, latest day first. Pure. */
import type { Day, EntryId, Player, PlayerId } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import { clubName } from "../entry/people.ts";
import type { VisitedDesk } from "./visited-desk.ts";
import { knownAs } from "./visited-desk.ts";

export interface StatedHere {
  readonly entry: EntryId;
  readonly handicap: number;
  readonly on: Day;
  /** Name of the club that states it. */
  readonly club: string;
  /** Name of the league it is stated in. */
  readonly league: string;
}

export function statedOf({ leagues }: Pick<VisitedDesk, "leagues">, person: Player): readonly StatedHere[] {
  const found = leagues.flatMap((league): StatedHere[] => {
    const state = league.state();
    const ids = [person.player, ...person.alsoKnownAs];
    const known = ids.map((id) => knownAs(state, id)).find((id) => id !== null);
    const stated = known == null ? undefined : state.stated.get(known);
    if (stated === undefined || known == null) return [];
    const home = state.players.get(known)?.home ?? null;
    const club = (stated.club === null ? undefined : state.clubs.get(stated.club)?.name) ?? clubName(home, leagues);
    const { entry, handicap, on } = stated;
    return [{ entry, handicap, on, club: club ?? state.name, league: state.name }];
  });
  return found.sort((a, b) => byCodeUnits(b.on, a.on) || byCodeUnits(a.entry, b.entry));
}

/** The name of a player's home club: as a league has it before as somebody wrote it down here; null where nobody knows. */
export function homeNameOf({ club, leagues }: VisitedDesk, id: PlayerId): string | null {
  const state = club.state();
  const person = state.players.get(knownAs(state, id) ?? id);
  if (person !== undefined && person.standing !== "visitor") return state.name;
  const ids = [id, ...(person === undefined ? [] : [person.player, ...person.alsoKnownAs])];
  for (const league of leagues) {
    for (const one of ids) {
      const known = league.state().players.get(knownAs(league.state(), one) ?? one);
      const named = known === undefined ? null : clubName(known.home, leagues);
      if (named !== null) return named;
    }
  }
  return person === undefined ? null : clubName(person.home, leagues);
}
