/**
 * What became of extra strokes, from games whose score pad kept it: how many each player was given, while which hoops they were taken,
 * whether his side made that hoop, and how many lapsed unused. Friendlies are here too, and doubles, for a stroke belongs to a player;
 * what does not count for an index still shows where strokes go.
 *
 * SPEC: RV8, RV9.
 */
import type { MatchKey, PlayerId } from "../ids.ts";
import type { Day, Game, MatchReported } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import type { BookState, Match, MatchFacts } from "../state.ts";
import type { SeatExtras } from "../strokes/choice.ts";
import type { ReportBodies, Resolve, Span } from "./games.ts";
import { agreeing, givenIn, resolver, ruledStrokes, rulesOn, saidOf } from "./games.ts";

export interface StrokeTaking {
  /** The hoop being played for, from 1. */
  readonly hoop: number;
  /** Whether his side made it; null when nobody did, or it was not kept. */
  readonly made: boolean | null;
}

/** One player's extra strokes in one game. */
export interface StrokeRecord {
  readonly match: MatchKey;
  readonly game: number;
  readonly date: Day;
  readonly player: PlayerId;
  readonly given: number;
  readonly taken: readonly StrokeTaking[];
  /** Given and not taken; 0 when more were taken than given. */
  readonly unused: number;
  /** Whether his side won; null when nobody did. */
  readonly won: boolean | null;
}

/** Of every player who was given strokes in a game that was kept, or took one; by day, match, game and player. */
export function strokeRecords(state: BookState, bodies: ReportBodies, span: Span): readonly StrokeRecord[] {
  const resolve = resolver(state);
  const records: StrokeRecord[] = [];
  for (const match of state.matches.values()) {
    const { facts } = match;
    if (facts === null || facts.play === "level" || facts.date < span.from || facts.date > span.to) continue;
    const reports = agreeing(match, facts, bodies, resolve);
    if (!reports.some(({ games }) => games.some(({ taken }) => taken !== undefined))) continue;
    const given = givenBy(state, match, facts, bodies, resolve);
    if (given === null) continue;
    for (const place of facts.games.keys()) records.push(...ofGame(match, facts, place, reports, given, resolve));
  }
  return records.sort(byGameAndPlayer);
}

function givenBy(state: BookState, match: Match, facts: MatchFacts, bodies: ReportBodies, resolve: Resolve) {
  const rules = rulesOn(state, facts.date);
  return givenIn(match, facts, bodies, resolve) ?? (rules === undefined ? null : ruledStrokes(facts, rules));
}

function ofGame(
  match: Match,
  facts: MatchFacts,
  place: number,
  reports: readonly MatchReported[],
  given: SeatExtras,
  resolve: Resolve,
): StrokeRecord[] {
  const body = reports.find(({ games }) => games[place]?.taken !== undefined);
  const kept = body?.games[place];
  if (body === undefined || kept?.taken === undefined || kept.ended === "abandoned" || kept.ended === "walkover")
    return [];
  const sidesByPlayer = saidOf(
    body,
    resolve,
    body.sides.map((side, s) => side.map(() => s)),
  );
  const takenBy = takingsByPlayer(body, kept, resolve);
  return facts.sides.flatMap((side, s) =>
    side.flatMap(({ player }, seat): StrokeRecord[] => {
      const strokes = given[s]?.[seat] ?? 0;
      const taken = takenBy.get(player) ?? [];
      if (strokes === 0 && taken.length === 0) return [];
      const own = sidesByPlayer.get(player) === 1 ? 1 : 0;
      const lead = kept.score[own] - kept.score[own === 0 ? 1 : 0];
      return [
        {
          match: match.key,
          game: place + 1,
          date: facts.date,
          player,
          given: strokes,
          taken,
          unused: strokes > taken.length ? strokes - taken.length : 0,
          won: lead === 0 ? null : lead > 0,
        },
      ];
    }),
  );
}

function takingsByPlayer(
  { sides }: MatchReported,
  { taken = [], hoops = [] }: Game,
  resolve: Resolve,
): ReadonlyMap<PlayerId, readonly StrokeTaking[]> {
  const takings = new Map<PlayerId, StrokeTaking[]>();
  for (const { side, seat, hoop } of taken) {
    const lineup = sides[side][seat];
    if (lineup === undefined) continue;
    const player = resolve(lineup.player);
    const maker = hoops[hoop - 1];
    takings.set(player, [...(takings.get(player) ?? []), { hoop, made: maker === undefined ? null : maker === side }]);
  }
  return takings;
}

const byGameAndPlayer = (a: StrokeRecord, b: StrokeRecord): number =>
  byCodeUnits(a.date, b.date) || byCodeUnits(a.match, b.match) || a.game - b.game || byCodeUnits(a.player, b.player);
