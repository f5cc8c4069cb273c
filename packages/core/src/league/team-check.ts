/**
 * A team before it is named: what makes it no team at all is refused, and what the league's rules advise against is told as a warning
 * before play, since captains may agree otherwise and an offline captain may not know the latest. Whether a warning is held against a
 * club afterwards is for the league's secretary, with a ruling.
 *
 * API: `checkTeam(team, about)` → `Result<{warnings}, TeamFault>`.
 *
 * SPEC: LG32 to LG37.
 */
import type { FixtureId, KeyId, PlayerId } from "../ids.ts";
import type { Bodies, Lineup } from "../ledger/kinds.ts";
import type { Result } from "../result.ts";
import { fail, ok } from "../result.ts";
import type { RuleSet } from "../rules/rule-set.ts";
import { triggerOf } from "../rules/triggers.ts";
import type { BookState } from "../state.ts";
import type { LeagueBook, LeagueFixture } from "./league-book.ts";
import type { LeagueRules } from "./league-rules.ts";
import type { Appearances } from "./season.ts";
import { appearancesIn, seasonOf } from "./season.ts";
import { personIn } from "./standing.ts";
import type { Statement, Statements } from "./statements.ts";
import { statedOn } from "./statements.ts";

export type TeamFault =
  | { readonly type: "team-unknown-fixture"; readonly fixture: FixtureId }
  /** The club does not play in this fixture. */
  | { readonly type: "team-unknown-club"; readonly club: KeyId }
  | { readonly type: "team-unknown-player"; readonly player: PlayerId }
  | { readonly type: "team-count"; readonly players: number; readonly wanted: number }
  | { readonly type: "team-player-twice"; readonly player: PlayerId }
  /** In the other team of this fixture, or in one of another fixture on the same day. */
  | {
      readonly type: "team-player-elsewhere";
      readonly player: PlayerId;
      readonly fixture: FixtureId;
      readonly club: KeyId;
    }
  /** `seat`, from 1, has a lower handicap than the one before. */
  | { readonly type: "team-order"; readonly seat: number; readonly off: number; readonly before: number }
  | { readonly type: "team-reserve-not-in-team"; readonly player: PlayerId }
  | {
      readonly type: "team-handicap-not-in-table";
      readonly player: PlayerId;
      readonly off: number;
      readonly rules: string;
    };

export type TeamWarning =
  | { readonly about: "handicap-above"; readonly player: PlayerId; readonly off: number; readonly most: number }
  | { readonly about: "handicap-below"; readonly player: PlayerId; readonly off: number; readonly least: number }
  /** Places left empty forfeit their games. */
  | { readonly about: "short"; readonly players: number; readonly wanted: number }
  | { readonly about: "total-below"; readonly total: number; readonly atLeast: number }
  | {
      readonly about: "played-for-another-club";
      readonly player: PlayerId;
      readonly club: KeyId;
      readonly fixture: FixtureId;
    }
  | { readonly about: "too-many-borrowed"; readonly players: readonly PlayerId[]; readonly allowed: number }
  | { readonly about: "too-many-reserves"; readonly players: readonly PlayerId[]; readonly allowed: number }
  /** `times` with this one. */
  | { readonly about: "reserve-too-often"; readonly player: PlayerId; readonly times: number; readonly allowed: number }
  | { readonly about: "off-another"; readonly player: PlayerId; readonly off: number; readonly stated: Statement }
  | { readonly about: "not-stated"; readonly player: PlayerId };

export interface TeamContext {
  readonly state: BookState;
  readonly league: LeagueBook;
  readonly statements: Statements;
  readonly rules: LeagueRules;
  /** For whether a handicap is in the table; left out when the league adopted none this version knows. */
  readonly set?: RuleSet | undefined;
}

export type TeamDraft = Pick<Bodies["lineup-named"], "fixture" | "club" | "players" | "reserves">;

export function checkTeam(
  team: TeamDraft,
  context: TeamContext,
): Result<{ readonly warnings: readonly TeamWarning[] }, TeamFault> {
  const fixture = context.league.fixtures.find((one) => one.fixture === team.fixture);
  if (fixture === undefined) return fail({ type: "team-unknown-fixture", fixture: team.fixture });
  const fault = teamFault(team, fixture, context);
  return fault === null ? ok({ warnings: warningsOf(team, fixture, context) }) : fail(fault);
}

function teamFault(team: TeamDraft, fixture: LeagueFixture, context: TeamContext): TeamFault | null {
  const { club, players, reserves = [] } = team;
  const { rules, state, set } = context;
  if (club !== fixture.home && club !== fixture.away) return { type: "team-unknown-club", club };
  const wanted = rules.team.players;
  if (players.length > wanted) return { type: "team-count", players: players.length, wanted };
  const person = personIn(state);
  const seen = new Set<PlayerId>();
  for (const { player, off } of players) {
    const who = person(player);
    if (!state.players.has(who)) return { type: "team-unknown-player", player };
    if (seen.has(who)) return { type: "team-player-twice", player };
    seen.add(who);
    if (set !== undefined && triggerOf(set, off) === undefined) {
      return { type: "team-handicap-not-in-table", player, off, rules: set.id };
    }
    const elsewhere = teamElsewhere(who, club, fixture, context);
    if (elsewhere !== null) return { type: "team-player-elsewhere", player, ...elsewhere };
  }
  const stray = reserves.find((player) => !seen.has(person(player)));
  if (stray !== undefined) return { type: "team-reserve-not-in-team", player: stray };
  return rules.team.order === "by-handicap" ? orderFault(players) : null;
}

function teamElsewhere(
  player: PlayerId,
  club: KeyId,
  { fixture: own, day }: LeagueFixture,
  { league, state }: TeamContext,
): { readonly fixture: FixtureId; readonly club: KeyId } | null {
  const person = personIn(state);
  for (const { fixture, day: other, teams } of league.fixtures) {
    if (other !== day) continue;
    for (const team of teams) {
      if (team === null || (fixture === own && team.club === club)) continue;
      if (team.players.some((one) => person(one.player) === player)) return { fixture, club: team.club };
    }
  }
  return null;
}

function orderFault(players: readonly Lineup[]): TeamFault | null {
  for (const [at, { off }] of players.entries()) {
    const before = players[at - 1]?.off;
    if (before !== undefined && off < before) return { type: "team-order", seat: at + 1, off, before };
  }
  return null;
}

function warningsOf(team: TeamDraft, fixture: LeagueFixture, context: TeamContext): TeamWarning[] {
  const { league, state, rules } = context;
  const person = personIn(state);
  const season = appearancesIn(league, state, seasonOf(league, fixture.day));
  const wanted = rules.team.players;
  const short = team.players.length < wanted;
  return [
    ...(short ? [{ about: "short" as const, players: team.players.length, wanted }] : []),
    ...team.players.flatMap((one) =>
      playerWarnings({ ...one, player: person(one.player) }, team, fixture, context, season),
    ),
    ...totalWarning(team.players, rules),
    ...borrowedWarning(team, context),
    ...reserveWarnings(team, fixture, context, season),
  ];
}

function playerWarnings(
  { player, off }: Lineup,
  { club }: TeamDraft,
  fixture: LeagueFixture,
  { statements, rules }: TeamContext,
  season: Appearances,
): TeamWarning[] {
  const found: TeamWarning[] = [];
  const { least, most } = rules.handicaps;
  if (most !== null && off > most) found.push({ about: "handicap-above", player, off, most });
  if (least !== null && off < least) found.push({ about: "handicap-below", player, off, least });
  const other = season.get(player)?.find((one) => one.club !== club && one.fixture !== fixture.fixture);
  if (rules.team.oneClub && other !== undefined) {
    found.push({ about: "played-for-another-club", player, club: other.club, fixture: other.fixture });
  }
  const stated = statedOn(statements, player, fixture.day);
  if (stated === null) found.push({ about: "not-stated", player });
  else if (stated.handicap !== off) found.push({ about: "off-another", player, off, stated });
  return found;
}

function totalWarning(players: readonly Lineup[], { handicaps }: LeagueRules): TeamWarning[] {
  const total = players.reduce((sum, { off }) => sum + off, 0);
  const { totalAtLeast: atLeast } = handicaps;
  return atLeast !== null && total < atLeast ? [{ about: "total-below", total, atLeast }] : [];
}

/** Borrowed is who is not known to be the club's own. */
function borrowedWarning({ club, players }: TeamDraft, { state, rules }: TeamContext): TeamWarning[] {
  const person = personIn(state);
  const borrowed = players
    .map(({ player }) => person(player))
    .filter((player) => (state.players.get(player)?.home?.book as string | undefined) !== club);
  const allowed = rules.team.borrowed;
  return borrowed.length > allowed ? [{ about: "too-many-borrowed", players: borrowed, allowed }] : [];
}

function reserveWarnings(
  { club, reserves = [] }: TeamDraft,
  fixture: LeagueFixture,
  { state, rules }: TeamContext,
  season: Appearances,
): TeamWarning[] {
  const { inFixture, inSeason } = rules.team.reserves;
  const players = reserves.map(personIn(state));
  const found: TeamWarning[] = [];
  if (inFixture !== null && players.length > inFixture) {
    found.push({ about: "too-many-reserves", players, allowed: inFixture });
  }
  for (const player of inSeason === null ? [] : players) {
    const before = (season.get(player) ?? []).filter(
      (one) => one.reserve && one.club === club && one.fixture !== fixture.fixture && one.day <= fixture.day,
    );
    const times = before.length + 1;
    if (inSeason !== null && times > inSeason)
      found.push({ about: "reserve-too-often", player, times, allowed: inSeason });
  }
  return found;
}
