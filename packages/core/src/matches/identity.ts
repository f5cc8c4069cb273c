/**
 * What makes two reports one match: its slot in a fixture, or else its day, play, format, the players on each side and which
 * match of that kind between them that day it was. Never the score, which is what reports may differ in, and never a clock or
 * an id made at the time of writing, which two people at one lawn cannot share.
 *
 * Sides and partners are sorted, so it does not matter whose name was written first; the facts are turned the same way.
 *
 * SPEC: MA.
 */
import type { MatchKey, PlayerId } from "../ids.ts";
import type { Game, Lineup, MatchReported } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import type { FactName, MatchFacts } from "../state.ts";
import type { Sharing } from "./sharing.ts";
import { nothingShared } from "./sharing.ts";

export type Resolve = (id: PlayerId) => PlayerId;

export function matchKey(body: MatchReported, resolve: Resolve): MatchKey {
  if (body.slot !== undefined) return `slot:${body.slot.fixture}:${body.slot.number}` as MatchKey;
  const [one, two] = [sideName(body.sides[0], resolve), sideName(body.sides[1], resolve)];
  return keyOf(body, one <= two ? `${one}v${two}` : `${two}v${one}`, body.n);
}

/** The same of facts, whose sides are in order. */
export const keyOfFacts = (facts: MatchFacts, n: number): MatchKey =>
  keyOf(facts, `${lineupName(facts.sides[0])}v${lineupName(facts.sides[1])}`, n);

/** Joined and not added up: of a text that was added up an engine keeps all the pieces, and a book keeps its keys. */
const keyOf = ({ date, play, format }: Pick<MatchReported, "date" | "play" | "format">, sides: string, n: number) =>
  [date, play, format, sides, n].join("|") as MatchKey;

/** A side's players as its match is named by them. Of one player nothing is made: it is asked twice for every report that is read. */
function sideName(side: readonly Lineup[], resolve: Resolve): string {
  const [first] = side;
  return side.length === 1 && first !== undefined
    ? resolve(first.player)
    : namesOf(side.map(({ player }) => resolve(player)));
}

const namesOf = (players: readonly PlayerId[]): string => [...players].sort(byCodeUnits).join("+");

/** The identity that a match named before a link has after it; a key of any other form is left as it is. */
export function currentKey(key: MatchKey, resolve: Resolve): MatchKey {
  const named = /^([^|]*\|[^|]*\|[^|]*\|)([^|]*)(\|[^|]*)$/.exec(key);
  const sides = /^(.{22}(?:\+.{22})?)v(.{22}(?:\+.{22})?)$/.exec(named?.[2] ?? "");
  if (named === null || sides === null) return key;
  const players = [sides[1], sides[2]].map((side) => (side ?? "").split("+").map((id) => resolve(id as PlayerId)));
  return `${named[1]}${sidesName(players)}${named[3]}` as MatchKey;
}

/** What a report says of its match: facts, as they were signed. */
export type Said = Omit<MatchFacts, "excluded"> & { readonly excluded?: boolean | undefined };

/** The facts of a report with players resolved and sides and partners in canonical order. */
export function matchFacts(body: Said, resolve: Resolve, sharing: Sharing = nothingShared): MatchFacts {
  const [one, two] = [inOrder(body.sides[0], resolve, sharing), inOrder(body.sides[1], resolve, sharing)];
  const turned = isTurned(one, two);
  return {
    date: sharing.text(body.date),
    occasion: sharing.text(body.occasion),
    play: sharing.text(body.play),
    format: body.format,
    sides: turned ? sharing.sides(two, one) : sharing.sides(one, two),
    games: gamesOf(body.games, turned, sharing),
    excluded: body.excluded === true,
  };
}

function inOrder(side: readonly Lineup[], resolve: Resolve, sharing: Sharing): readonly Lineup[] {
  const [first] = side;
  if (side.length === 1 && first !== undefined) {
    const player = resolve(first.player);
    // Who keeps nothing has the body: its own seat says the same, and what is not made need not be moved about by the collector.
    return sharing === nothingShared && player === first.player ? side : sharing.seat(player, first.off);
  }
  return side.map(({ player, off }) => sharing.seat(resolve(player), off)[0]).sort(byPlayer);
}

function gamesOf(games: readonly Game[], turned: boolean, sharing: Sharing): readonly Game[] {
  const [first] = games;
  return games.length === 1 && first !== undefined
    ? gameFacts(first, turned, sharing)
    : games.map((game) => gameFacts(game, turned, sharing)[0] as Game);
}

/** What a score pad kept beside the score is no fact of the match. */
const gameFacts = ({ score: [a, b], ended }: Game, turned: boolean, sharing: Sharing): readonly Game[] =>
  turned ? sharing.game(b, a, ended) : sharing.game(a, b, ended);

/** Whether the second side comes first in the canonical order. Of both, the partners are in order. */
const isTurned = (one: readonly Lineup[], two: readonly Lineup[]): boolean => lineupName(one) > lineupName(two);

/** The same games, told by the other side. */
export const gamesTurned = (games: readonly Game[]): readonly Game[] =>
  games.map((game) => ({ ...game, score: [game.score[1], game.score[0]] }));

const factNames: readonly FactName[] = ["date", "occasion", "play", "format", "sides", "games", "excluded"];

/** The facts in which two accounts of one match differ. */
export const differences = (a: MatchFacts, b: MatchFacts): FactName[] =>
  factNames.filter((name) =>
    name === "sides" ? !sameSides(a, b) : name === "games" ? !sameGames(a.games, b.games) : a[name] !== b[name],
  );

export type MatchFault =
  | { readonly type: "uneven-sides" }
  | { readonly type: "player-twice"; readonly player: PlayerId }
  /** Extra strokes given to, or taken by, a seat that nobody has. */
  | { readonly type: "strokes-of-nobody" }
  | { readonly type: "score-cannot-be"; readonly game: number; readonly score: readonly [number, number] };

/** Hoops a side needs in a game of this many points. */
export const winningScore = (format: MatchReported["format"]): number => (format + 1) / 2;

/** What of a report a match can be or cannot. */
interface Checkable extends Pick<MatchFacts, "format" | "sides" | "games"> {
  readonly given?: readonly (readonly number[])[] | undefined;
}

/** What no real match can be: refused when it is entered, and never counted when it comes from elsewhere. */
export function checkMatch(body: Checkable): MatchFault | null {
  const [one, two] = body.sides;
  if (one.length !== two.length) return { type: "uneven-sides" };
  const twice = playerTwice(one, two);
  if (twice !== null) return { type: "player-twice", player: twice };
  const seats = [one.length, two.length];
  if (body.given?.some((side, s) => side.length !== seats[s])) return { type: "strokes-of-nobody" };
  for (const { taken } of body.games)
    if (taken?.some(({ side, seat }) => seat >= (seats[side] ?? 0))) return { type: "strokes-of-nobody" };
  let position = 1;
  for (const game of body.games) {
    if (!scoreCanBe(game, body.format)) return { type: "score-cannot-be", game: position, score: game.score };
    position += 1;
  }
  return null;
}

/** The first who sits on two seats. Asked of every report that is read, so nothing is made for it. */
function playerTwice(one: readonly Lineup[], two: readonly Lineup[]): PlayerId | null {
  for (let seat = 1; seat < one.length + two.length; seat++) {
    const player = playerAt(one, two, seat);
    for (let before = 0; before < seat; before++) if (playerAt(one, two, before) === player) return player;
  }
  return null;
}

const playerAt = (one: readonly Lineup[], two: readonly Lineup[], seat: number): PlayerId =>
  ((seat < one.length ? one[seat] : two[seat - one.length]) as Lineup).player;

function scoreCanBe({ score: [a, b], ended }: Game, format: MatchReported["format"]): boolean {
  const target = winningScore(format);
  const high = Math.max(a, b);
  const low = Math.min(a, b);
  if (ended === undefined) return high === target && low < target;
  if (ended === "walkover") return high <= target && low < target;
  // Stopped on time or given up before either side had its last hoop.
  return high < target;
}

const sidesName = (sides: readonly (readonly PlayerId[])[]): string => sides.map(namesOf).sort(byCodeUnits).join("v");

const lineupName = (side: readonly Lineup[]): string =>
  side.length === 1 ? (side[0] as Lineup).player : side.map(({ player }) => player).join("+");

const byPlayer = (a: Lineup, b: Lineup): number => byCodeUnits(a.player, b.player);

const sameSides = (a: MatchFacts, b: MatchFacts): boolean =>
  a.sides.every((side, s) => {
    const other = b.sides[s] ?? [];
    return (
      side.length === other.length &&
      side.every(({ player, off }, p) => other[p]?.player === player && other[p]?.off === off)
    );
  });

const sameGames = (a: readonly Game[], b: readonly Game[]): boolean =>
  a.length === b.length &&
  a.every(({ score, ended }, g) => score[0] === b[g]?.score[0] && score[1] === b[g]?.score[1] && ended === b[g]?.ended);
