/**
 * What a fixture came to, by the league's rules, from the matches of its slots: each match's facts are those its reports agree in or a
 * ruling accepted, so it makes no difference who reported. Which side played for which club is told by the teams that were named, or
 * else by the home the players have; a match whose sides cannot be told is left open and said to be so.
 *
 * A fixture counts when all its slots are settled or it is marked as rained off, conceded or void. Until then its tally is shown and
 * the table leaves it out: half a fixture would move a club up and down with every report.
 *
 * API: `fixtureOutcome(rules, fixture, state)` → `Outcome`; `Outcome.result` is what the table counts, null while it counts for nothing.
 *
 * SPEC: LG13 to LG19.
 */
import type { FixtureId, KeyId } from "../ids.ts";
import type { Day, Game } from "../ledger/kinds.ts";
import { winningScore } from "../matches/identity.ts";
import type { BookState, Match, MatchFacts } from "../state.ts";
import type { LeagueFixture } from "./league-book.ts";
import type { LeagueRules, Measure } from "./league-rules.ts";
import { gamesToWin } from "./league-rules.ts";
import { clubOf } from "./standing.ts";

/** Home, away. */
export type Pair = readonly [number, number];

export type FixtureTally = Readonly<Record<Measure, Pair>> & { readonly drawnGames: number };

export interface FixtureResult {
  readonly tally: FixtureTally;
  /** 0 home, 1 away; null for a draw. */
  readonly winner: 0 | 1 | null;
  /** What told the two apart; null for a draw. */
  readonly by: Measure | "forfeit" | null;
}

export interface SlotOutcome {
  /** From 1. */
  readonly number: number;
  readonly standing:
    | "counts"
    | "not-reported"
    /** Reports differ. */
    | "differs"
    /** One club reported, and the rules wait for the other. */
    | "one-report"
    | "ruled-void"
    /** Neither team nor home tells which side is which club's. */
    | "sides-unknown";
  /** Games counted, home first. */
  readonly games: readonly Pair[];
}

export type FixtureStanding = "to-play" | "in-play" | "postponed" | "played" | "rained-off" | "conceded" | "void";

export interface Outcome {
  readonly fixture: FixtureId;
  readonly day: Day;
  readonly home: KeyId;
  readonly away: KeyId;
  readonly standing: FixtureStanding;
  readonly slots: readonly SlotOutcome[];
  /** Of the games that count so far. */
  readonly tally: FixtureTally;
  /** A game left out so that an even number counts. */
  readonly dropped: { readonly slot: number; readonly game: number } | null;
  readonly result: FixtureResult | null;
}

export function fixtureOutcome(rules: LeagueRules, fixture: LeagueFixture, state: BookState): Outcome {
  const { fixture: id, day, home, away, mark } = fixture;
  const slots = fixture.slots.map((_, at) => slotOutcome(rules, fixture, at, state));
  const settled = slots.every(({ standing }) => standing === "counts" || standing === "ruled-void");
  const reported = slots.some(({ games }) => games.length > 0);
  const make = (standing: FixtureStanding, counted: readonly SlotOutcome[], result: FixtureResult | null): Outcome => {
    const dropped = droppedGame(slots, counted);
    return { fixture: id, day, home, away, standing, slots, tally: tallyOf(counted), dropped, result };
  };
  switch (mark?.as) {
    case "void":
      return make("void", slots, null);
    case "conceded":
      return make("conceded", slots, forfeited(rules, mark.by === home ? 1 : 0));
    case "rained-off": {
      const counted = rules.unfinished.some === "even-games" ? evenGames(slots) : slots;
      const any = counted.some(({ games }) => games.length > 0);
      const counts = any ? rules.unfinished.some !== "void" : rules.unfinished.none === "draw";
      return make("rained-off", counted, counts ? decided(rules, tallyOf(counted)) : null);
    }
    default:
      if (settled && reported) return make("played", slots, decided(rules, tallyOf(slots)));
      if (settled) return make("void", slots, null);
      return make(reported ? "in-play" : mark?.as === "postponed" ? "postponed" : "to-play", slots, null);
  }
}

function slotOutcome(rules: LeagueRules, fixture: LeagueFixture, at: number, state: BookState): SlotOutcome {
  const key = fixture.matches[at] ?? null;
  const match = key === null ? undefined : state.matches.get(key);
  const of = (standing: SlotOutcome["standing"], games: readonly Pair[] = []): SlotOutcome => ({
    number: at + 1,
    standing,
    games,
  });
  if (match === undefined) return of("not-reported");
  if (match.status === "void") return of("ruled-void");
  if (match.status === "held") return of("differs");
  const facts = match.facts ?? match.reports[0]?.facts;
  if (facts === undefined) return of("not-reported");
  if (!isEnough(rules, fixture, match, state)) return of("one-report");
  const home = homeSide(fixture, facts, state);
  if (home === null) return of("sides-unknown");
  const games = facts.games.filter((game) => gameCounts(rules, game));
  return of(
    "counts",
    games.map(({ score: [a, b] }): Pair => (home === 0 ? [a, b] : [b, a])),
  );
}

/** One club's word alone is enough when the rules say so; the league's own is always. */
function isEnough(rules: LeagueRules, { home }: LeagueFixture, match: Match, state: BookState): boolean {
  if (match.status !== "one-report" && match.status !== "waiting") return true;
  if (rules.oneReport === "counts") return true;
  return match.reports.some(({ by }) => {
    const club = clubOf(state, by);
    return club === null || (rules.oneReport === "home-counts" && club === home);
  });
}

const gameCounts = (rules: LeagueRules, { ended }: Game): boolean =>
  ended === "walkover" ? rules.gameForfeited === "counts" : ended !== "abandoned";

/** Which side of the facts played for the home club; null when that cannot be told. */
export function homeSide(
  { home, away, teams }: LeagueFixture,
  facts: Pick<MatchFacts, "sides">,
  state: BookState,
): 0 | 1 | null {
  const inTeam = (side: MatchFacts["sides"][number], at: 0 | 1): boolean =>
    side.some(({ player }) => teams[at]?.players.some((one) => one.player === player));
  const atHome = (side: MatchFacts["sides"][number], club: KeyId): boolean =>
    side.every(({ player }) => (state.players.get(player)?.home?.book as string | undefined) === club);
  const [one, two] = facts.sides;
  // A player lent to another club plays for that one, whatever his home: so teams are asked first.
  return (
    onlyOne(inTeam(one, 0) || inTeam(two, 1), inTeam(two, 0) || inTeam(one, 1)) ??
    onlyOne(atHome(one, home) || atHome(two, away), atHome(two, home) || atHome(one, away))
  );
}

const onlyOne = (first: boolean, second: boolean): 0 | 1 | null => (first === second ? null : first ? 0 : 1);

function tallyOf(slots: readonly SlotOutcome[]): FixtureTally {
  const tally = { slots: [0, 0], games: [0, 0], hoops: [0, 0] } as Record<Measure, [number, number]>;
  let drawnGames = 0;
  for (const { games } of slots) {
    const won: [number, number] = [0, 0];
    for (const [a, b] of games) {
      tally.hoops[0] += a;
      tally.hoops[1] += b;
      if (a === b) drawnGames += 1;
      else won[a > b ? 0 : 1] += 1;
    }
    tally.games[0] += won[0];
    tally.games[1] += won[1];
    if (won[0] !== won[1]) tally.slots[won[0] > won[1] ? 0 : 1] += 1;
  }
  return { ...tally, drawnGames };
}

/** Who won a fixture, and what told the two apart: the first measure of the rules in which they differ. */
export function decided(rules: Pick<LeagueRules, "score">, tally: FixtureTally): FixtureResult {
  for (const by of rules.score) {
    const [home, away] = tally[by];
    if (home !== away) return { tally, winner: home > away ? 0 : 1, by };
  }
  return { tally, winner: null, by: null };
}

/** A fixture given to one side; with every game to nothing where the rules say so. */
export function forfeited(rules: LeagueRules, winner: 0 | 1): FixtureResult {
  const pair = (count: number): Pair => (winner === 0 ? [count, 0] : [0, count]);
  const all = rules.forfeit.games === "all" ? rules.slots : [];
  const games = all.reduce((sum, slot) => sum + gamesToWin(slot), 0);
  const hoops = all.reduce((sum, slot) => sum + gamesToWin(slot) * winningScore(slot.format), 0);
  return {
    tally: { slots: pair(all.length), games: pair(games), hoops: pair(hoops), drawnGames: 0 },
    winner,
    by: "forfeit",
  };
}

/** Without the last game, in the order of the slots, when an odd number was played. */
function evenGames(slots: readonly SlotOutcome[]): readonly SlotOutcome[] {
  const count = slots.reduce((sum, { games }) => sum + games.length, 0);
  const last = slots.findLast(({ games }) => games.length > 0);
  if (count % 2 === 0 || last === undefined) return slots;
  return slots.map((slot) => (slot === last ? { ...slot, games: slot.games.slice(0, -1) } : slot));
}

function droppedGame(all: readonly SlotOutcome[], counted: readonly SlotOutcome[]): Outcome["dropped"] {
  const at = all.findIndex(({ games }, place) => games.length !== counted[place]?.games.length);
  const slot = all[at];
  return slot === undefined ? null : { slot: slot.number, game: slot.games.length };
}
