/**
 * What a link would change, to be read before it is saved: which games become one because both clubs, or two people, had written them
 * down, whether their accounts then agree, and what every card says before and after. Undoing it gives all of this back, so the same
 * is told of taking a link away. Pure; the record as it would be is handed in.
 */
import type { BookState, Game, Match, MatchFacts, MatchKey, PlayerId } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import { knownAs } from "./visited-desk.ts";

export interface CardSays {
  readonly handicap: number;
  readonly index: number;
  readonly games: number;
}

export interface CardChange {
  /** The person's id as it would be. */
  readonly player: PlayerId;
  /** Null where there is no card. */
  readonly before: CardSays | null;
  readonly after: CardSays | null;
}

export interface LinkPreview {
  /** Matches that were several and would be one, by day. */
  readonly becomeOne: readonly Match[];
  /** Matches that were one and would be several. */
  readonly becomeSeveral: readonly Match[];
  /** Of the person under any of the two ids, as they would be. */
  readonly matches: number;
  readonly cards: readonly CardChange[];
}

type Said = Pick<BookState, "players" | "matches" | "cards">;

/** @param person any id of who is linked */
export function previewOf(before: Said, after: Said, person: PlayerId): LinkPreview {
  return {
    becomeOne: together(before, after),
    becomeSeveral: together(after, before),
    matches: matchesOf(after, person).length,
    cards: cardChanges(before, after),
  };
}

/** The facts of a match that are shown: those that count, else the first account's. */
export const factsOf = ({ facts, reports }: Match): MatchFacts | null => facts ?? reports[0]?.facts ?? null;

/** The same facts with a person's own side and score first. */
export function fromSideOf(facts: MatchFacts, person: PlayerId): MatchFacts {
  const { sides, games } = facts;
  if (!sides[1].some(({ player }) => player === person)) return facts;
  const turned = games.map((game): Game => ({ ...game, score: [game.score[1], game.score[0]] }));
  return { ...facts, sides: [sides[1], sides[0]], games: turned };
}

/** Matches in which a person takes part under any id, oldest first. */
export function matchesOf(
  { players, matches }: Pick<BookState, "players" | "matches">,
  id: PlayerId,
): readonly Match[] {
  const person = knownAs({ players }, id) ?? id;
  return [...matches.values()]
    .filter((match) => factsOf(match)?.sides.some((side) => side.some(({ player }) => player === person)) === true)
    .sort((a, b) => byCodeUnits(factsOf(a)?.date ?? "", factsOf(b)?.date ?? "") || byCodeUnits(a.key, b.key));
}

/** Matches of `to` whose reports were of several matches in `from`. */
function together(from: Said, to: Said): readonly Match[] {
  const was = new Map<string, MatchKey>();
  for (const { key, reports } of from.matches.values()) for (const { entry } of reports) was.set(entry, key);
  const found = [...to.matches.values()].filter(({ reports }) => {
    const keys = new Set(reports.flatMap(({ entry }) => was.get(entry) ?? []));
    return keys.size > 1;
  });
  return found.sort((a, b) => byCodeUnits(factsOf(a)?.date ?? "", factsOf(b)?.date ?? "") || byCodeUnits(a.key, b.key));
}

function cardChanges(before: Said, after: Said): readonly CardChange[] {
  const changes: CardChange[] = [];
  const seen = new Set<PlayerId>();
  for (const player of [...after.cards.keys(), ...before.cards.keys()]) {
    const now = knownAs(after, player) ?? player;
    if (seen.has(now)) continue;
    seen.add(now);
    // The id a person goes by may be another one with the link.
    const ids = [now, ...(after.players.get(now)?.alsoKnownAs ?? [])];
    const was = ids.find((id) => before.cards.has(id)) ?? player;
    const change = { player: now, before: saysOf(before, was), after: saysOf(after, now) };
    if (JSON.stringify(change.before) !== JSON.stringify(change.after)) changes.push(change);
  }
  return changes.sort((a, b) => byCodeUnits(a.player, b.player));
}

function saysOf({ cards }: Said, player: PlayerId): CardSays | null {
  const card = cards.get(player);
  if (card === undefined) return null;
  return {
    handicap: card.handicap,
    index: card.index,
    games: card.lines.filter(({ line }) => line === "game").length,
  };
}
