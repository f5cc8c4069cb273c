/**
 * What waits for somebody in a league: reports that differ, reports that one club alone has made and whose days are over, fixtures of
 * which nothing is heard, clubs that say different things of one, and teams the rules would have something said about. All from the
 * league's entries and the reader's day, so that the secretary and the clubs see the same; nothing is a fault before its days are over.
 */
import type {
  FixtureId,
  FixtureMark,
  KeyId,
  LeagueFixture,
  LeagueReading,
  LeagueSource,
  NamedTeam,
  Outcome,
  RuleSet,
  TeamFault,
  TeamWarning,
} from "@sward/core";
import { checkTeam } from "@sward/core";
import { daysBetween } from "../dates.ts";

export type Matter =
  | { readonly type: "differs"; readonly matches: readonly number[] }
  /** It cannot be told which side played for which club. */
  | { readonly type: "sides-unknown"; readonly matches: readonly number[] }
  /** Reported by this club alone (null: the league); `late`: days past those the rules give. */
  | {
      readonly type: "one-sided";
      readonly matches: readonly number[];
      readonly by: KeyId | null;
      readonly late: number;
    }
  /** Matches nobody has reported; all of them, or what is missing of a fixture begun. */
  | { readonly type: "unreported"; readonly matches: readonly number[]; readonly all: boolean; readonly late: number }
  /** Not settled though the season's last day is past. */
  | { readonly type: "overdue" }
  /** Both clubs have said something of the fixture, and not the same. */
  | { readonly type: "said-differently"; readonly marks: readonly FixtureMark[] }
  | { readonly type: "team"; readonly club: KeyId; readonly warnings: readonly TeamWarning[] }
  | { readonly type: "team-wrong"; readonly club: KeyId; readonly fault: TeamFault };

export interface FixtureMatters {
  readonly fixture: FixtureId;
  readonly day: string;
  readonly home: KeyId;
  readonly away: KeyId;
  readonly matters: readonly Matter[];
}

/** A club's own fixtures are looked at for a club, all for the league (null). Teams are looked at until so many days after. */
export interface MattersFor {
  readonly today: string;
  readonly club: KeyId | null;
  readonly set?: RuleSet | undefined;
}

const TEAM_DAYS = 14;

export function leagueMatters(
  { league, outcomes, overdue, rules, statements }: LeagueReading,
  state: LeagueSource["state"],
  { today, club, set }: MattersFor,
): readonly FixtureMatters[] {
  if (rules === null) return [];
  const fixtures = new Map(league.fixtures.map((one) => [one.fixture, one]));
  const late = new Set(overdue.map(({ fixture }) => fixture));
  return outcomes.flatMap((outcome) => {
    const { fixture: id, day, home, away, standing } = outcome;
    const fixture = fixtures.get(id);
    if (fixture === undefined || (club !== null && club !== home && club !== away)) return [];
    const daysLate = rules.reportWithin === null ? null : daysBetween(day, today) - rules.reportWithin;
    const matters: Matter[] = [
      ...slotMatters(outcome, fixture, state, daysLate),
      ...(late.has(id) ? [{ type: "overdue" } as const] : []),
      ...saidDifferently(fixture),
    ];
    if (standing !== "void" && standing !== "conceded" && daysBetween(day, today) <= TEAM_DAYS) {
      for (const team of fixture.teams) {
        if (team !== null) matters.push(...teamMatters(team, id, { state, league, statements, rules, set }));
      }
    }
    return matters.length === 0 ? [] : [{ fixture: id, day, home, away, matters }];
  });
}

const settled: ReadonlySet<Outcome["standing"]> = new Set(["void", "conceded", "rained-off"]);

function slotMatters(
  { slots, standing }: Outcome,
  fixture: LeagueFixture,
  state: LeagueSource["state"],
  late: number | null,
): Matter[] {
  if (standing === "void" || standing === "conceded") return [];
  const numbersOf = (stands: (typeof slots)[number]["standing"]): number[] =>
    slots.filter((slot) => slot.standing === stands).map(({ number }) => number);
  const found: Matter[] = [];
  for (const type of ["differs", "sides-unknown"] as const) {
    const matches = numbersOf(type);
    if (matches.length > 0) found.push({ type, matches });
  }
  if (late === null || late <= 0) return found;
  for (const [by, matches] of oneSided(fixture, state)) found.push({ type: "one-sided", matches, by, late });
  const matches = numbersOf("not-reported");
  if (matches.length > 0 && !settled.has(standing)) {
    found.push({ type: "unreported", matches, all: matches.length === slots.length, late });
  }
  return found;
}

/** Matches that one club alone has reported, by that club, whether or not the rules let them count. */
function oneSided(fixture: LeagueFixture, state: LeagueSource["state"]): ReadonlyMap<KeyId | null, readonly number[]> {
  const found = new Map<KeyId | null, number[]>();
  for (const [at, key] of fixture.matches.entries()) {
    const match = key === null ? undefined : state.matches.get(key);
    if (match === undefined || (match.status !== "one-report" && match.status !== "waiting")) continue;
    const clubs = new Set(match.reports.map(({ by }) => state.devices.get(by)?.club ?? null));
    // The league's own word needs nobody else's.
    if (clubs.has(null)) continue;
    for (const club of clubs) found.set(club, [...(found.get(club) ?? []), at + 1]);
  }
  return found;
}

function saidDifferently({ mark, otherMarks }: LeagueFixture): Matter[] {
  if (mark === null || mark.said === null) return [];
  const marks = [mark, ...otherMarks];
  const others = marks.filter((one) => one.as !== mark.as || one.to !== mark.to || one.by !== mark.by);
  return others.some((one) => one.said !== mark.said) ? [{ type: "said-differently", marks }] : [];
}

function teamMatters(
  { club, players, reserves }: NamedTeam,
  fixture: FixtureId,
  context: Parameters<typeof checkTeam>[1],
): Matter[] {
  const checked = checkTeam({ fixture, club, players: [...players], reserves: [...reserves] }, context);
  if (!checked.ok) return [{ type: "team-wrong", club, fault: checked.fault }];
  const { warnings } = checked.value;
  return warnings.length === 0 ? [] : [{ type: "team", club, warnings }];
}
