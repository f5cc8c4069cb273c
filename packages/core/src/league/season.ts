/**
 * Who played for which club in a season of a league. A season is what one set of rules is in force for: leagues agree their rules anew
 * each winter. Told by the teams named and by the matches reported, so a club that named nobody is seen all the same; fixtures that
 * were conceded or void do not make a player anybody's.
 *
 * API: `seasonOf(league, day)` · `inSeason(season, day)` · `appearancesIn(league, state, season)`: by person, in order of day.
 *
 * SPEC: LG26, LG27.
 */
import type { FixtureId, KeyId, PlayerId } from "../ids.ts";
import type { Day } from "../ledger/kinds.ts";
import type { BookState } from "../state.ts";
import type { LeagueBook, LeagueFixture } from "./league-book.ts";
import { homeSide } from "./outcome.ts";
import { personIn } from "./standing.ts";

/** From the first day to before the last; null for no end. */
export interface Season {
  readonly from: Day | null;
  readonly before: Day | null;
}

/** The season a day belongs to. Before the first rules it is that of the first. */
export function seasonOf({ rules }: Pick<LeagueBook, "rules">, day: Day): Season {
  const at = Math.max(
    0,
    rules.findLastIndex(({ from }) => from <= day),
  );
  return { from: at === 0 ? null : (rules[at]?.from ?? null), before: rules[at + 1]?.from ?? null };
}

export const inSeason = ({ from, before }: Season, day: Day): boolean =>
  (from === null || from <= day) && (before === null || day < before);

export interface Appearance {
  readonly fixture: FixtureId;
  readonly day: Day;
  readonly club: KeyId;
  readonly reserve: boolean;
}

/** By the id a person is known by. */
export type Appearances = ReadonlyMap<PlayerId, readonly Appearance[]>;

export function appearancesIn(league: LeagueBook, state: BookState, season: Season): Appearances {
  const person = personIn(state);
  const found = new Map<PlayerId, Appearance[]>();
  const note = (player: PlayerId, one: Appearance): void => {
    const list = found.get(person(player)) ?? [];
    if (list.some(({ fixture, club }) => fixture === one.fixture && club === one.club)) return;
    found.set(person(player), [...list, one]);
  };
  for (const fixture of league.fixtures) {
    const { mark, day } = fixture;
    if (!inSeason(season, day) || mark?.as === "void" || mark?.as === "conceded") continue;
    for (const team of fixture.teams) {
      for (const { player } of team?.players ?? []) {
        const reserve = team?.reserves.some((one) => person(one) === person(player)) ?? false;
        note(player, { fixture: fixture.fixture, day, club: team?.club ?? fixture.home, reserve });
      }
    }
    for (const { player, club } of playedIn(fixture, state)) {
      note(player, { fixture: fixture.fixture, day, club, reserve: false });
    }
  }
  return found;
}

function playedIn(fixture: LeagueFixture, state: BookState): { readonly player: PlayerId; readonly club: KeyId }[] {
  return fixture.matches.flatMap((key) => {
    const match = key === null ? undefined : state.matches.get(key);
    const facts = match?.facts ?? null;
    const home = facts === null ? null : homeSide(fixture, facts, state);
    if (facts === null || home === null) return [];
    return facts.sides.flatMap((side, at) =>
      side.map(({ player }) => ({ player, club: at === home ? fixture.home : fixture.away })),
    );
  });
}
