/**
 * A club's year in counts, from its record alone: games, people, changes of handicap, league matches. Counts and nothing else; who
 * is good at it is not what a report at a general meeting is for. A game given without play (a walkover) is not a game played. A year
 * begins in the month the club says: south of the line a season lies across the turn of the calendar's.
 */
import type { BookState, Day, Fixture, Format, KeyId, Match, MatchFacts, Occasion, Play, PlayerId } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import { changesOf } from "../card/card-groups.ts";
import type { ReadableBook } from "../entry/reading.ts";
import { ownClub, tallyOf, viewSlots } from "../league/slots.ts";

/** Twelve months. */
export interface ClubYear {
  /** Such as "2026", or "2025/26" when it does not begin in January. */
  readonly name: string;
  readonly from: Day;
  /** First day of the next one. */
  readonly until: Day;
}

export interface YearReport {
  readonly year: ClubYear;
  readonly matches: number;
  readonly games: number;
  readonly play: Readonly<Record<Play, number>>;
  readonly singles: number;
  readonly doubles: number;
  readonly formats: readonly (readonly [Format, number])[];
  readonly occasions: readonly (readonly [Occasion, number])[];
  /** Games by month, the first month of the year first; months from 1. */
  readonly months: readonly (readonly [month: number, games: number])[];
  /** Matches of the year that do not stand: held, waiting or void. */
  readonly open: number;
  readonly members: { readonly now: number; readonly played: number; readonly started: number };
  /** Visitors met in a game. */
  readonly visitors: number;
  readonly changes: readonly YearChange[];
  readonly most: readonly { readonly player: PlayerId; readonly games: number }[];
}

export interface YearChange {
  readonly player: PlayerId;
  readonly date: Day;
  readonly from: number;
  readonly to: number;
  /** Set by a handicapper rather than played for. */
  readonly set: boolean;
}

/** The year a day lies in, for a club whose years begin in this month (from 1). */
export function yearAt(day: Day, begins: number): ClubYear {
  const [year = 0, month = 1] = day.split("-").map(Number);
  const first = month < begins ? year - 1 : year;
  const next = String(first + 1);
  const start = `-${String(begins).padStart(2, "0")}-01`;
  return {
    name: begins === 1 ? String(first) : `${first}/${next.slice(-2)}`,
    from: `${first}${start}`,
    until: `${next}${start}`,
  };
}

/** The years in which something was played, newest first; today's always among them. */
export function yearsOf({ matches }: Pick<BookState, "matches">, today: Day, begins: number): readonly ClubYear[] {
  const days = [today, ...[...matches.values()].flatMap((match) => dayOf(match) ?? [])];
  const years = new Map(days.map((day) => [yearAt(day, begins).name, yearAt(day, begins)]));
  return [...years.values()].sort((a, b) => byCodeUnits(b.from, a.from));
}

const MOST = 10;

export function yearReport(state: BookState, year: ClubYear): YearReport {
  const played = [...state.matches.values()].flatMap(({ facts }) =>
    facts !== null && isIn(year, facts.date) ? [facts] : [],
  );
  const count = (fits: (facts: MatchFacts) => boolean): number => sum(played.filter(fits).map(gamesOf));
  const games = new Map<PlayerId, number>();
  for (const facts of played) {
    for (const { player } of facts.sides.flat()) games.set(player, (games.get(player) ?? 0) + gamesOf(facts));
  }
  const people = [...state.players.values()];
  const isOurs = (player: PlayerId): boolean => (state.players.get(player)?.standing ?? "visitor") !== "visitor";
  const some = [...games].filter(([, many]) => many > 0);
  return {
    year,
    matches: played.length,
    games: count(() => true),
    play: { handicap: count(({ play }) => play === "handicap"), level: count(({ play }) => play === "level") },
    singles: count(isSingles),
    doubles: count((facts) => !isSingles(facts)),
    formats: ([13, 7, 19] as const).map((format) => [format, count((facts) => facts.format === format)] as const),
    occasions: [...new Set(played.map(({ occasion }) => occasion))]
      .map((occasion) => [occasion, count((facts) => facts.occasion === occasion)] as const)
      .sort(([a, some], [b, others]) => others - some || byCodeUnits(a, b)),
    months: monthsFrom(Number(year.from.slice(5, 7))).map(
      (month) => [month, count(({ date }) => Number(date.slice(5, 7)) === month)] as const,
    ),
    open: [...state.matches.values()].filter((match) => match.facts === null && isIn(year, dayOf(match))).length,
    members: {
      now: people.filter(({ standing }) => standing === "member").length,
      played: some.filter(([player]) => isOurs(player)).length,
      started: [...state.cards.values()].filter(({ lines }) => isIn(year, lines[0]?.date ?? null)).length,
    },
    visitors: some.filter(([player]) => !isOurs(player)).length,
    changes: changesIn(state, year),
    most: mostGames(some.filter(([player]) => isOurs(player))),
  };
}

/** The first ten by games, and whoever has as many as the tenth. */
function mostGames(games: readonly (readonly [PlayerId, number])[]): YearReport["most"] {
  const sorted = [...games].sort(([a, some], [b, others]) => others - some || byCodeUnits(a, b));
  const least = sorted[MOST - 1]?.[1] ?? 0;
  return sorted.filter(([, many]) => many >= least).map(([player, many]) => ({ player, games: many }));
}

function changesIn({ cards }: BookState, year: ClubYear): readonly YearChange[] {
  return [...cards.values()]
    .flatMap(({ player, lines }) =>
      changesOf(lines).flatMap(({ date, from, to, line }): YearChange[] =>
        from === null || from === to || !isIn(year, date) ? [] : [{ player, date, from, to, set: line.line === "set" }],
      ),
    )
    .sort((a, b) => byCodeUnits(a.date, b.date) || byCodeUnits(a.player, b.player));
}

export interface LeagueYear {
  readonly name: string;
  readonly fixtures: readonly {
    readonly fixture: Fixture;
    readonly rival: KeyId;
    readonly home: boolean;
    readonly won: number;
    readonly lost: number;
    /** Matches of it that do not stand, or were drawn. */
    readonly open: number;
  }[];
}

/** The club's own fixtures of a year in one league, by date; null when it had none. */
export function leagueYear(league: Pick<ReadableBook, "state" | "device">, year: ClubYear): LeagueYear | null {
  const own = ownClub(league);
  const fixtures = [...league.state().fixtures.values()]
    .filter(({ date, home, away }) => isIn(year, date) && (home === own || away === own))
    .sort((a, b) => byCodeUnits(a.date, b.date) || byCodeUnits(a.fixture, b.fixture))
    .map((fixture) => {
      const { home, away, open } = tallyOf(league, fixture, viewSlots(league, fixture));
      const atHome = fixture.home === own;
      return {
        fixture,
        rival: atHome ? fixture.away : fixture.home,
        home: atHome,
        won: atHome ? home : away,
        lost: atHome ? away : home,
        open,
      };
    });
  return fixtures.length === 0 ? null : { name: league.state().name, fixtures };
}

const gamesOf = ({ games }: MatchFacts): number => games.filter(({ ended }) => ended !== "walkover").length;

const isSingles = ({ sides }: MatchFacts): boolean => sides[0].length === 1;

const dayOf = ({ facts, reports }: Match): Day | null => facts?.date ?? reports[0]?.facts.date ?? null;

const isIn = ({ from, until }: ClubYear, day: Day | null): boolean => day !== null && from <= day && day < until;

const monthsFrom = (first: number): readonly number[] =>
  Array.from({ length: 12 }, (_, at) => ((first - 1 + at) % 12) + 1);

const sum = (all: readonly number[]): number => all.reduce((total, each) => total + each, 0);
