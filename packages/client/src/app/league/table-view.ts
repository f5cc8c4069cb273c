/**
 * The league table as a sheet of a notice-board: its rows, the line-by-line reasons of its order, what it counts, what it leaves out and
 * why, and as of when. Made from the league's entries alone: two clubs that hold the same entries read the same sheet, word for word.
 */
import type {
  Counted,
  Earned,
  FixtureId,
  KeyId,
  LeagueFixture,
  LeagueReading,
  LeagueTable,
  Outcome,
  TableRow,
} from "@sward/core";
import { byCodeUnits } from "@sward/core";
import type { ClubNameOf } from "../../league/explained.ts";
import { outcomeTold, slotTold, tableTold } from "../../league/explained.ts";
import { tableWords } from "../words/league-table.ts";

export interface FixtureLine {
  readonly fixture: FixtureId;
  readonly day: string;
  readonly told: string;
  /** Why it stands so, each a sentence. */
  readonly why: readonly string[];
}

export interface TableView {
  readonly rows: readonly TableRow[];
  /** What points were earned for, of those the rules give points for at all. */
  readonly earnedFor: readonly (keyof Earned)[];
  readonly why: readonly string[];
  readonly counted: readonly FixtureLine[];
  readonly leftOut: readonly FixtureLine[];
  /** Fixtures whose day has not come. */
  readonly ahead: number;
}

/** Null while the league has no rules, and so no table. */
export function viewTable(
  { league, outcomes, table }: Pick<LeagueReading, "league" | "outcomes" | "table">,
  nameOf: ClubNameOf,
  today: string,
): TableView | null {
  if (table === null) return null;
  const fixtures = new Map(league.fixtures.map((one) => [one.fixture, one]));
  const lineOf = (outcome: Outcome): FixtureLine => ({
    fixture: outcome.fixture,
    day: outcome.day,
    told: outcomeTold(outcome, nameOf),
    why: [...markTold(fixtures.get(outcome.fixture), nameOf), ...openSlotsTold(outcome)],
  });
  const isAhead = ({ day, standing }: Outcome): boolean =>
    day > today && (standing === "to-play" || standing === "postponed");
  const without = outcomes.filter(({ result }) => result === null);
  return {
    rows: [...table.rows].sort((a, b) => a.place - b.place || byCodeUnits(nameOf(a.club), nameOf(b.club))),
    earnedFor: parts.filter((part) => table.rows.some(({ earned }) => earned[part] !== 0)),
    why: tableTold(inOrderOfNames(table, nameOf), nameOf),
    counted: outcomes.filter(({ result }) => result !== null).map(lineOf),
    leftOut: without.filter((outcome) => !isAhead(outcome)).map(lineOf),
    ahead: without.filter(isAhead).length,
  };
}

/** Clubs that are level stand in the order of their names, and not in that of their keys. */
function inOrderOfNames(table: LeagueTable, nameOf: ClubNameOf): LeagueTable {
  const sorted = (group: readonly KeyId[]): readonly KeyId[] =>
    [...group].sort((a, b) => byCodeUnits(nameOf(a), nameOf(b)) || byCodeUnits(a, b));
  return {
    ...table,
    steps: table.steps.map((step) => ({ ...step, leaves: step.leaves.map(sorted) })),
    level: table.level.map(sorted),
  };
}

const parts: readonly (keyof Earned)[] = ["match", "slot", "game", "hoop", "bonus", "forfeit"];

/** What was said of a fixture, by whom; also what was overruled. */
function markTold(fixture: LeagueFixture | undefined, nameOf: ClubNameOf): readonly string[] {
  if (fixture === undefined || fixture.mark === null) return [];
  const [mark, ...others] = [fixture.mark, ...fixture.otherMarks];
  return [
    tableWords.mark(mark, saidBy(mark.said, nameOf)),
    ...others.map((one) => tableWords.alsoSaid(one, saidBy(one.said, nameOf))),
  ];
}

const saidBy = (said: KeyId | null, nameOf: ClubNameOf): string =>
  said === null ? tableWords.theLeague : nameOf(said);

/** Matches open for one reason together; of a fixture that nobody has begun, and of one that is settled, nothing need be said. */
function openSlotsTold({ slots, standing }: Outcome): readonly string[] {
  if (standing === "void" || standing === "conceded" || slots.every((one) => one.standing === "not-reported"))
    return [];
  const byReason = new Map<string, number[]>();
  for (const { number, standing: stands } of slots) {
    const reason = slotTold(stands);
    if (reason !== "") byReason.set(reason, [...(byReason.get(reason) ?? []), number]);
  }
  return [...byReason].map(([reason, numbers]) => tableWords.openMatches(numbers, reason));
}

const TELLING: ReadonlySet<string> = new Set([
  "match-reported",
  "ruling-made",
  "fixture-marked",
  "fixture-set",
  "league-rules-set",
  "lineup-named",
  "entry-withdrawn",
  "club-admitted",
]);

/** When the last of what the table is made of was written, by its writer's clock; null while nothing was. */
export function tableAsOf(counted: Iterable<Counted>): string | null {
  let latest: string | null = null;
  for (const { entry } of counted) {
    if (TELLING.has(entry.kind) && (latest === null || entry.at > latest)) latest = entry.at;
  }
  return latest;
}
