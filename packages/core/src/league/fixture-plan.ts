/**
 * A season's fixtures from the rules, the clubs in the order drawn and a day for each round; and the check of a fixture set by hand.
 * The days come from people, since lawns and holidays decide them; ids come from outside, since core has no chance.
 *
 * API: `planFixtures(rules, clubs, days, newId)` → drafts to sign and who has a bye when · `checkFixture(body, league, state)`.
 *
 * SPEC: LG40, LG41.
 */
import type { FixtureId, KeyId } from "../ids.ts";
import type { Bodies, Day, Draft } from "../ledger/kinds.ts";
import type { Result } from "../result.ts";
import { fail, ok } from "../result.ts";
import type { BookState } from "../state.ts";
import type { LeagueBook } from "./league-book.ts";
import { leagueRulesOn } from "./league-book.ts";
import type { LeagueRules } from "./league-rules.ts";
import { fixtureSlots } from "./league-rules.ts";
import { roundRobin } from "./pairing.ts";
import { inSeason, seasonOf } from "./season.ts";

export type FixtureFault =
  | { readonly type: "fixtures-too-few-clubs"; readonly clubs: number }
  | { readonly type: "fixtures-club-twice"; readonly club: KeyId }
  /** One day is wanted for each round. */
  | { readonly type: "fixtures-days"; readonly days: number; readonly rounds: number }
  | { readonly type: "fixture-same-club"; readonly club: KeyId }
  | { readonly type: "fixture-unknown-club"; readonly club: KeyId }
  /** These two have this meeting already in the season. */
  | { readonly type: "fixture-duplicate"; readonly fixture: FixtureId; readonly day: Day };

export interface FixturePlan {
  readonly drafts: readonly Extract<Draft, { readonly kind: "fixture-set" }>[];
  readonly byes: readonly { readonly day: Day; readonly club: KeyId }[];
}

/** @param newId a fresh random id for every fixture */
export function planFixtures(
  rules: LeagueRules,
  clubs: readonly KeyId[],
  days: readonly Day[],
  newId: () => FixtureId,
): Result<FixturePlan, FixtureFault> {
  if (clubs.length < 2) return fail({ type: "fixtures-too-few-clubs", clubs: clubs.length });
  const twice = clubs.find((club, at) => clubs.indexOf(club) !== at);
  if (twice !== undefined) return fail({ type: "fixtures-club-twice", club: twice });
  const rounds = roundRobin(clubs, rules.meetings);
  if (days.length !== rounds.length) {
    return fail({ type: "fixtures-days", days: days.length, rounds: rounds.length });
  }
  const drafts: FixturePlan["drafts"][number][] = [];
  const byes: FixturePlan["byes"][number][] = [];
  for (const [at, { meetings, bye }] of rounds.entries()) {
    const day = days[at] ?? "";
    for (const { home, away } of meetings) {
      const body = { fixture: newId(), date: day, home, away, slots: fixtureSlots(rules) };
      drafts.push({ kind: "fixture-set", body });
    }
    if (bye !== null) byes.push({ day, club: bye });
  }
  return ok({ drafts, byes });
}

/** What is wrong with a fixture set by hand; null when it may be signed. One that replaces another takes its place. */
export function checkFixture(
  body: Bodies["fixture-set"],
  league: LeagueBook,
  { clubs }: Pick<BookState, "clubs">,
): FixtureFault | null {
  const { home, away } = body;
  if (home === away) return { type: "fixture-same-club", club: home };
  const unknown = [home, away].find((club) => !clubs.has(club));
  if (unknown !== undefined) return { type: "fixture-unknown-club", club: unknown };
  const season = seasonOf(league, body.date);
  const once = leagueRulesOn(league, body.date)?.meetings !== "home-and-away";
  const other = league.fixtures.find((one) => {
    if (one.fixture === body.fixture) return body.replaces === undefined;
    if (one.mark?.as === "void" || !inSeason(season, one.day)) return false;
    return (one.home === home && one.away === away) || (once && one.home === away && one.away === home);
  });
  return other === undefined ? null : { type: "fixture-duplicate", fixture: other.fixture, day: other.day };
}
