/**
 * What a league's book says beyond its matches: the rules in force, each fixture with its two teams and what became of it. Read from
 * the entries alone, so every club sees the same.
 *
 * Where two devices of one side say different things without naming each other, one author's last holds, and among authors the lowest
 * key's, as for all settings that cannot be replaced. What became of a fixture may be said by the league and by either club; the
 * league's word goes first, and everything else that was said is kept beside it. Rejected: taking a postponement only when both clubs
 * have said so (a club without a phone that day would hold up the other).
 *
 * API: `viewLeague({state, counted})` · `leagueRulesOn(league, day)` · `LeagueFixture.teams[0]` is the home club's.
 *
 * SPEC: LG8 to LG12.
 */
import type { EntryId, KeyId, PlayerId } from "../ids.ts";
import { byAuthorLastFirst } from "../ledger/chain.ts";
import type { EntryOf } from "../ledger/entry.ts";
import type { Bodies, Day, Lineup } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import type { BookState, Fixture } from "../state.ts";
import type { LeagueRules, LeagueRulesFault } from "./league-rules.ts";
import { parseLeagueRules } from "./league-rules.ts";
import type { LeagueSource, Standings } from "./standing.ts";
import { clubOf, personIn, readStanding } from "./standing.ts";

export interface RulesInForce {
  readonly from: Day;
  readonly rules: LeagueRules;
  readonly entry: EntryId;
}

/** Who plays for a club in a fixture, in order, with the handicaps of the day; by the ids persons are known by. */
export interface NamedTeam {
  readonly entry: EntryId;
  readonly club: KeyId;
  readonly players: readonly Lineup[];
  readonly reserves: readonly PlayerId[];
  readonly by: KeyId;
  readonly at: string;
}

/** What became of a fixture, as somebody said. */
export interface FixtureMark {
  readonly entry: EntryId;
  readonly as: Bodies["fixture-marked"]["as"];
  /** The club that conceded. */
  readonly by: KeyId | null;
  readonly to: Day | null;
  readonly reason: string;
  /** The club that says so; null for the league. */
  readonly said: KeyId | null;
  readonly at: string;
}

export interface LeagueFixture extends Fixture {
  /** The day it is to be played on: as set, or as postponed to. */
  readonly day: Day;
  readonly mark: FixtureMark | null;
  /** What else was said of it. */
  readonly otherMarks: readonly FixtureMark[];
  /** Home, away; null while not named. */
  readonly teams: readonly [NamedTeam | null, NamedTeam | null];
}

export interface LeagueBook {
  /** Ascending by day; one for each. */
  readonly rules: readonly RulesInForce[];
  /** Rules this version cannot read: a newer version wrote them, or a file was altered by hand. */
  readonly unreadable: readonly { readonly entry: EntryId; readonly from: Day; readonly fault: LeagueRulesFault }[];
  /** By day, then by id. */
  readonly fixtures: readonly LeagueFixture[];
}

export function viewLeague(source: LeagueSource): LeagueBook {
  const { state } = source;
  const standing = readStanding(source, ["league-rules-set", "lineup-named", "fixture-marked"]);
  const marks = standing("fixture-marked").sort(byAuthorLastFirst);
  const named = standing("lineup-named").sort(byAuthorLastFirst);
  const fixtures = [...state.fixtures.values()].map((fixture): LeagueFixture => {
    const [mark = null, ...otherMarks] = marksOf(fixture, marks, state);
    const team = (club: KeyId) => teamOf(fixture, club, named, state);
    const day = mark?.as === "postponed" && mark.to !== null ? mark.to : fixture.date;
    return { ...fixture, day, mark, otherMarks, teams: [team(fixture.home), team(fixture.away)] };
  });
  fixtures.sort((a, b) => byCodeUnits(a.day, b.day) || byCodeUnits(a.fixture, b.fixture));
  return { ...settleRules(standing), fixtures };
}

/** The rules for fixtures of a day: the last set from that day or before, else the first there are. */
export const leagueRulesOn = ({ rules }: Pick<LeagueBook, "rules">, day: Day): LeagueRules | null =>
  (rules.findLast(({ from }) => from <= day) ?? rules[0])?.rules ?? null;

function settleRules(standing: Standings): Pick<LeagueBook, "rules" | "unreadable"> {
  const rules: RulesInForce[] = [];
  const unreadable: { entry: EntryId; from: Day; fault: LeagueRulesFault }[] = [];
  const entries = standing("league-rules-set");
  entries.sort((a, b) => byCodeUnits(a.body.from, b.body.from) || byAuthorLastFirst(a, b));
  for (const { id, body } of entries) {
    const { from } = body;
    const parsed = parseLeagueRules(body.rules);
    if (!parsed.ok) unreadable.push({ entry: id, from, fault: parsed.fault });
    else if (rules.at(-1)?.from !== from) rules.push({ from, rules: parsed.value, entry: id });
  }
  return { rules, unreadable };
}

function marksOf(fixture: Fixture, marks: readonly EntryOf<"fixture-marked">[], state: BookState): FixtureMark[] {
  const said = marks.filter(({ body }) => body.fixture === fixture.fixture);
  const found = said.flatMap((entry): FixtureMark[] => {
    const club = clubOf(state, entry.author);
    if (club === undefined || !mayMark(entry.body, club, fixture)) return [];
    const { as, by = null, to = null, reason } = entry.body;
    return [{ entry: entry.id, as, by, to, reason, said: club, at: entry.at }];
  });
  return [...found.filter((mark) => mark.said === null), ...found.filter((mark) => mark.said !== null)];
}

/** A club speaks of its own fixtures, concedes for itself alone, and leaves it to the league to call one void. */
export function mayMark(body: Bodies["fixture-marked"], club: KeyId | null, { home, away }: Fixture): boolean {
  if (body.as === "conceded" && body.by !== home && body.by !== away) return false;
  if (club === null) return true;
  if (club !== home && club !== away) return false;
  return body.as === "conceded" ? body.by === club : body.as !== "void";
}

/** A club names its own team; the league may name anybody's, and a club's own word goes first. */
function teamOf(
  fixture: Fixture,
  club: KeyId,
  named: readonly EntryOf<"lineup-named">[],
  state: BookState,
): NamedTeam | null {
  const about = named.filter(({ body }) => body.fixture === fixture.fixture && body.club === club);
  const own = about.find(({ author }) => clubOf(state, author) === club);
  const entry = own ?? about.find(({ author }) => clubOf(state, author) === null);
  if (entry === undefined) return null;
  const { id, author, at, body } = entry;
  const person = personIn(state);
  const players = body.players.map((one) => ({ ...one, player: person(one.player) }));
  return { entry: id, club, players, reserves: (body.reserves ?? []).map(person), by: author, at };
}
