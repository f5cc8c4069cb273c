/**
 * What a score pad kept of a match — who scored each hoop, which extra strokes were taken at which, how many were given — when its
 * report is corrected. What still fits the corrected report goes with it, and what does not is named before it is saved. Pure.
 *
 * A game is found again by its place, or where games were left out or added by its score; a player by who it is, and where a name
 * was corrected by the partner or the opponents. Rejected: dropping the record with each correction (a wrong date would cost the
 * strokes of an afternoon) and keeping it whatever was corrected (a record that contradicts the score is worse than none).
 */
import type { EntryId, Game, MatchReported, PlayerId, StrokeTaken } from "@sward/core";
import type { ReadableBook } from "./reading.ts";

export type Lost =
  /** Games of the corrected report, from 1, that nothing of the record fits. */
  | { readonly part: "game"; readonly game: number }
  | { readonly part: "hoops"; readonly game: number }
  | { readonly part: "taken"; readonly game: number; readonly strokes: number }
  /** What was given follows from the corrected handicaps. */
  | { readonly part: "given" };

/** What is corrected, or how it is made from a sound form: a score pad has no players before. */
export type Recorded = MatchReported | ((body: MatchReported) => MatchReported) | undefined;

export const recordedFor = (recorded: Recorded, body: MatchReported): MatchReported | undefined =>
  typeof recorded === "function" ? recorded(body) : recorded;

export interface KeptRecord {
  readonly body: MatchReported;
  readonly lost: readonly Lost[];
}

export const hasRecord = ({ games }: Pick<MatchReported, "games">): boolean =>
  games.some(({ hoops, taken }) => hoops !== undefined || taken !== undefined);

/** A report as it was entered, in its own order; undefined when it is no report that counts. */
export function reportBody(book: Pick<ReadableBook, "counted">, entry: EntryId): MatchReported | undefined {
  for (const { entry: one } of book.counted()) if (one.id === entry && one.kind === "match-reported") return one.body;
  return undefined;
}

/** @param corrected as the form makes it, without a record */
export function keepRecord(corrected: MatchReported, recorded: MatchReported | undefined): KeptRecord {
  if (recorded === undefined || !hasRecord(recorded)) return { body: corrected, lost: [] };
  const seats =
    corrected.play === recorded.play && corrected.format === recorded.format ? findSeats(corrected, recorded) : null;
  const sameOffs = seats?.every(({ was, now }) => offAt(recorded, was) === offAt(corrected, now)) === true;
  const given = seats !== null && sameOffs ? givenBy(recorded, seats) : undefined;
  const lost: Lost[] = [];
  if (recorded.given !== undefined && given === undefined && corrected.play === "handicap")
    lost.push({ part: "given" });
  const body = given === undefined ? corrected : { ...corrected, given };
  const pairs = pairGames(corrected, recorded, seats);
  const games = body.games.map((game, at): Game => {
    const record = pairs[at];
    if (record === undefined) return game;
    if (seats === null) {
      lost.push({ part: "game", game: at + 1 });
      return game;
    }
    return withKept(game, at + 1, { record, seats, given: body.given }, lost);
  });
  return { body: { ...body, games }, lost };
}

interface Seat {
  readonly side: 0 | 1;
  readonly seat: 0 | 1;
}

interface Moved {
  readonly was: Seat;
  readonly now: Seat;
}

const seatsIn = ({ sides }: MatchReported): readonly (Seat & { readonly player: PlayerId })[] =>
  sides.flatMap((side, s) => side.map(({ player }, seat) => ({ side: s as 0 | 1, seat: seat as 0 | 1, player })));

const offAt = ({ sides }: MatchReported, { side, seat }: Seat): number | undefined => sides[side][seat]?.off;

/** Where each seat of the record is now; null when nobody can tell, or partners have become opponents. */
function findSeats(corrected: MatchReported, recorded: MatchReported): readonly Moved[] | null {
  const [now, was] = [seatsIn(corrected), seatsIn(recorded)];
  if (now.length !== was.length) return null;
  const stayed = was.flatMap(({ player, ...seat }): Moved[] => {
    const found = now.find((one) => one.player === player);
    return found === undefined ? [] : [{ was: seat, now: { side: found.side, seat: found.seat } }];
  });
  const turned = new Set(stayed.map(({ was: { side: from }, now: { side: to } }) => from !== to));
  if (turned.size !== 1) return null;
  const isTurned = turned.has(true);
  const moved = [...stayed];
  for (const { player, ...seat } of was) {
    if (now.some((one) => one.player === player)) continue;
    const side = isTurned ? other(seat.side) : seat.side;
    const free = now.find(
      (one) => one.side === side && !moved.some((to) => to.now.side === side && to.now.seat === one.seat),
    );
    if (free === undefined) return null;
    moved.push({ was: seat, now: { side, seat: free.seat } });
  }
  return moved;
}

const other = (side: 0 | 1): 0 | 1 => (side === 0 ? 1 : 0);

function givenBy({ given }: MatchReported, seats: readonly Moved[]): MatchReported["given"] {
  if (given === undefined) return undefined;
  const row = (side: 0 | 1): number[] =>
    seats
      .filter(({ now }) => now.side === side)
      .sort((a, b) => a.now.seat - b.now.seat)
      .map(({ was }) => given[was.side][was.seat] ?? 0);
  return [row(0), row(1)];
}

/** The recorded game of each corrected one: by place while their number is the same, else the next that has its score. */
function pairGames(
  { games }: MatchReported,
  recorded: MatchReported,
  seats: readonly Moved[] | null,
): readonly (Game | undefined)[] {
  if (games.length === recorded.games.length) return recorded.games;
  const isTurned = seats?.[0]?.was.side !== seats?.[0]?.now.side;
  let from = 0;
  return games.map(({ score }) => {
    const at = recorded.games.findIndex(
      (one, place) =>
        place >= from && one.score[isTurned ? 1 : 0] === score[0] && one.score[isTurned ? 0 : 1] === score[1],
    );
    if (at === -1) return undefined;
    from = at + 1;
    return recorded.games[at];
  });
}

interface Fitting {
  readonly record: Game;
  readonly seats: readonly Moved[];
  readonly given: MatchReported["given"];
}

function withKept(game: Game, number: number, { record, seats, given }: Fitting, lost: Lost[]): Game {
  const isTurned = seats[0]?.was.side !== seats[0]?.now.side;
  const hoops = record.hoops?.map((side) => (isTurned ? other(side) : side));
  const fits = hoops !== undefined && ([0, 1] as const).every((side) => count(hoops, side) === game.score[side]);
  if (hoops !== undefined && !fits) lost.push({ part: "hoops", game: number });

  const left = new Map<string, number>();
  // In a game that was stopped the next hoop was being played for.
  const played = game.score[0] + game.score[1] + (game.ended === undefined ? 0 : 1);
  const taken = record.taken?.flatMap(({ side, seat, hoop }): StrokeTaken[] => {
    const now = seats.find(({ was }) => was.side === side && was.seat === seat)?.now;
    if (now === undefined || hoop > played) return [];
    const key = `${now.side} ${now.seat}`;
    const before = left.get(key) ?? given?.[now.side][now.seat] ?? 0;
    left.set(key, before - 1);
    return before > 0 ? [{ ...now, hoop }] : [];
  });
  const gone = (record.taken?.length ?? 0) - (taken?.length ?? 0);
  if (gone > 0) lost.push({ part: "taken", game: number, strokes: gone });
  return { ...game, ...(fits ? { hoops } : {}), ...(taken === undefined ? {} : { taken }) };
}

const count = (hoops: readonly (0 | 1)[], side: 0 | 1): number => hoops.filter((one) => one === side).length;
