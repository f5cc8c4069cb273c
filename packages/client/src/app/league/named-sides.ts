/** Who meets whom in each slot of a fixture by the teams named for it, off what. A slot is left out while a place of it is not named. */
import type { Fixture, LeagueReading, Lineup } from "@sward/core";
import { leagueRulesOn } from "@sward/core";

/** Home, away. */
export type NamedSides = readonly [readonly Lineup[], readonly Lineup[]];

/** By number of the slot, from 1; empty where the league's rules lay the fixture out in another way than it was set. */
export function namedSides(
  { league }: Pick<LeagueReading, "league">,
  { fixture: id, slots }: Pick<Fixture, "fixture" | "slots">,
): ReadonlyMap<number, NamedSides> {
  const found = new Map<number, NamedSides>();
  const fixture = league.fixtures.find((one) => one.fixture === id);
  const rules = fixture === undefined ? null : leagueRulesOn(league, fixture.day);
  if (fixture === undefined || rules?.slots.length !== slots.length) return found;
  for (const [at, seats] of rules.slots.entries()) {
    const wanted = slots[at]?.discipline === "doubles" ? 2 : 1;
    const [home, away] = [seats.home, seats.away].map((places, side) =>
      places.flatMap((place) => fixture.teams[side === 0 ? 0 : 1]?.players[place - 1] ?? []),
    );
    if (home?.length === wanted && away?.length === wanted) found.set(at + 1, [home, away]);
  }
  return found;
}
