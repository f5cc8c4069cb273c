/**
 * Everything a league's screens and commands show, read from its book in one go: the season's rules, fixtures with their outcomes, the
 * table, statements and proposals. Read anew whenever the book's state is another object; a league's book has some thousand
 * entries, and this takes milliseconds.
 *
 * API: `readLeague({state, counted}, day)`. The parts: `league` (league-book.ts), `outcomes` (outcome.ts), `table` (table.ts), `statements`
 * (statements.ts), `proposals` (proposals.ts). Before signing: `checkLeagueDraft` (check-league.ts).
 *
 * SPEC: LG47.
 */
import type { Day } from "../ledger/kinds.ts";
import type { LeagueBook } from "./league-book.ts";
import { leagueRulesOn, viewLeague } from "./league-book.ts";
import type { LeagueRules } from "./league-rules.ts";
import type { Outcome } from "./outcome.ts";
import { fixtureOutcome } from "./outcome.ts";
import type { Proposal } from "./proposals.ts";
import { viewProposals } from "./proposals.ts";
import type { Season } from "./season.ts";
import { inSeason, seasonOf } from "./season.ts";
import type { LeagueSource } from "./standing.ts";
import type { Statements } from "./statements.ts";
import { viewStatements } from "./statements.ts";
import type { LeagueTable } from "./table.ts";
import { tableOf } from "./table.ts";

export interface LeagueReading {
  readonly league: LeagueBook;
  readonly season: Season;
  /** The season's rules; null while the league has none that can be read, and then there is no table. */
  readonly rules: LeagueRules | null;
  /** Of the season's fixtures, in their order. */
  readonly outcomes: readonly Outcome[];
  readonly table: LeagueTable | null;
  /** Fixtures not settled though the rules' deadline is past. */
  readonly overdue: readonly Outcome[];
  readonly statements: Statements;
  readonly proposals: readonly Proposal[];
}

/** @param day the reader's calendar day: which season is shown, and what is overdue */
export function readLeague({ state, counted }: LeagueSource, day: Day): LeagueReading {
  // A ledger's counting entries can be walked once only.
  const source: LeagueSource = { state, counted: [...counted] };
  const league = viewLeague(source);
  const season = seasonOf(league, day);
  const rules = leagueRulesOn(league, day);
  const fixtures = league.fixtures.filter((fixture) => inSeason(season, fixture.day));
  const outcomes = rules === null ? [] : fixtures.map((fixture) => fixtureOutcome(rules, fixture, state));
  return {
    league,
    season,
    rules,
    outcomes,
    table: rules === null ? null : tableOf(rules, outcomes, state.clubs.keys()),
    overdue: outcomes.filter((outcome) => rules !== null && isOverdue(rules, outcome, day)),
    statements: viewStatements(source),
    proposals: viewProposals(source),
  };
}

const open: ReadonlySet<Outcome["standing"]> = new Set(["to-play", "in-play", "postponed"]);

/** The deadline is the first such day of the year on or after the fixture's own. */
function isOverdue({ deadline }: LeagueRules, outcome: Outcome, day: Day): boolean {
  if (deadline === null || !open.has(outcome.standing)) return false;
  const year = Number(outcome.day.slice(0, 4));
  const thisYear = `${year}-${deadline}`;
  return day > (thisYear >= outcome.day ? thisYear : `${year + 1}-${deadline}`);
}
