/**
 * Who a visitor may be, as a record that was brought along tells: a record of the player's home club names his ids and games, and a
 * visitor of ours who has one of those ids, or was in games that look the same, is probably he. Offered with the reasons, never linked
 * by itself: two brothers may have played the same people on the same day.
 *
 * Games look the same when day, play, length and scores are, and nothing else is asked: opponents' ids differ between two clubs as the
 * player's own do.
 *
 * API: `linkCandidates(here, record, person)`, most reasons first; `everyLinkCandidate(here, record)` for all the record's people in one
 * pass. The link itself is asked of `checkLink` and signed.
 *
 * SPEC: PE11.
 */
import type { MatchKey, PlayerId } from "../ids.ts";
import { byCodeUnits } from "../order.ts";
import type { BookState, Match, MatchFacts } from "../state.ts";
import { checkLink } from "./check-link.ts";

export interface LinkCandidate {
  /** The visitor here, and the id the record's player is known by. */
  readonly player: PlayerId;
  readonly to: PlayerId;
  /** The record has this id for the same person. */
  readonly named: boolean;
  /** Matches of the two that look the same. */
  readonly matches: number;
}

type Known = Pick<BookState, "players" | "matches">;

/** @param person the id the record's player is known by there */
export function linkCandidates(here: Known, record: Known, person: PlayerId): readonly LinkCandidate[] {
  return candidates(here, record, [person]);
}

type IsWanted = (player: PlayerId, to: PlayerId) => boolean;

/**
 * Of everybody whom the record knows; a person does not stand for himself.
 * @param isWanted which pairs to look at: among many people games look the same by chance, and each pair that does costs a check
 */
export const everyLinkCandidate = (
  here: Known,
  record: Known,
  isWanted: IsWanted = () => true,
): readonly LinkCandidate[] => candidates(here, record, [...record.players.keys()], isWanted);

function candidates(
  here: Known,
  record: Known,
  persons: readonly PlayerId[],
  isWanted: IsWanted = () => true,
): readonly LinkCandidate[] {
  const namesOf = new Map(
    persons.map((person) => [person, new Set([person, ...(record.players.get(person)?.alsoKnownAs ?? [])])]),
  );
  const theirs = looksOf(record, (player) => namesOf.has(player));
  const ours = looksOf(here, (player) => here.players.get(player)?.standing === "visitor");
  const matchesOf = matchesByPlayer(here, (player) => here.players.get(player)?.standing === "visitor");
  const found: LinkCandidate[] = [];
  for (const { player, standing, alsoKnownAs } of here.players.values()) {
    if (standing !== "visitor") continue;
    for (const [person, names] of namesOf) {
      if (!isWanted(player, person)) continue;
      const named = [player, ...alsoKnownAs].some((id) => names.has(id));
      const matches = inCommon(ours.get(player), theirs.get(person));
      if (!named && matches === 0) continue;
      // Who was in one match with somebody has it among his own.
      const own = { players: here.players, matches: matchesOf.get(player) ?? new Map() };
      if (checkLink({ player, to: person }, own) === null) found.push({ player, to: person, named, matches });
    }
  }
  return found.sort(
    (a, b) =>
      Number(b.named) - Number(a.named) ||
      b.matches - a.matches ||
      byCodeUnits(a.player, b.player) ||
      byCodeUnits(a.to, b.to),
  );
}

/** Matches of each wanted player, by any account of them. */
export function matchesByPlayer(
  { matches }: Pick<BookState, "matches">,
  isWanted: (player: PlayerId) => boolean,
): ReadonlyMap<PlayerId, ReadonlyMap<MatchKey, Match>> {
  const found = new Map<PlayerId, Map<MatchKey, Match>>();
  for (const [key, match] of matches) {
    for (const { facts } of match.reports) {
      for (const side of facts.sides) {
        for (const { player } of side) {
          if (!isWanted(player)) continue;
          const own = found.get(player) ?? new Map<MatchKey, Match>();
          found.set(player, own.set(key, match));
        }
      }
    }
  }
  return found;
}

type Looks = ReadonlyMap<string, number>;

/** How often each look occurs among a player's matches. */
function looksOf({ matches }: Known, isWanted: (player: PlayerId) => boolean): ReadonlyMap<PlayerId, Looks> {
  const found = new Map<PlayerId, Map<string, number>>();
  for (const { facts, reports } of matches.values()) {
    const told = facts ?? reports[0]?.facts;
    if (told === undefined) continue;
    for (const [at, side] of told.sides.entries()) {
      const look = lookOf(told, at === 0);
      for (const { player } of side) {
        if (!isWanted(player)) continue;
        const looks = found.get(player) ?? new Map<string, number>();
        found.set(player, looks.set(look, (looks.get(look) ?? 0) + 1));
      }
    }
  }
  return found;
}

/** A match as one side sees it: day, play, length, how many a side, own scores first. */
const lookOf = ({ date, play, format, sides, games }: MatchFacts, first: boolean): string => {
  const scores = games.map(({ score: [a, b] }) => (first ? `${a}-${b}` : `${b}-${a}`));
  return [date, play, format, sides[0].length, ...scores].join(" ");
};

function inCommon(ours: Looks | undefined, theirs: Looks | undefined): number {
  let count = 0;
  for (const [look, times] of ours ?? []) count += Math.min(times, theirs?.get(look) ?? 0);
  return count;
}
