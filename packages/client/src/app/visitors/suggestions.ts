/**
 * Who a visitor may be: the club's own people, those its leagues know, and other visitors, with every reason there is. A name that is
 * the same, a club that is, matches that look the same on both sides; what core refuses to link is not offered. Offered with the
 * reasons and never linked by itself. Pure; names are handed in.
 *
 * A name is "like" another when the last parts are the same and the first begin with one letter: "A Wren" and "Ada Wren". Rejected:
 * counting wrong letters (in a county of fifty names the nearest one is somebody else).
 */
import type { Player, PlayerId } from "@sward/core";
import { byCodeUnits, everyLinkCandidate } from "@sward/core";
import { clubName } from "../entry/people.ts";
import { linkJudge, matchesWith } from "./links-of.ts";
import type { VisitedDesk } from "./visited-desk.ts";
import { knownAs } from "./visited-desk.ts";

export interface Suggestion {
  /** The visitor. */
  readonly player: PlayerId;
  /** Who it may be. */
  readonly to: PlayerId;
  readonly is: "member" | "visitor" | "league";
  /** Home club in words; null for our own and where nobody knows. */
  readonly club: string | null;
  readonly name: "same" | "like";
  /** Null where one of the two clubs is not known. */
  readonly sameClub: boolean | null;
  /** Matches of the two that look the same. */
  readonly matches: number;
}

export type NameOf = (player: PlayerId) => string | undefined;

/** Whether somebody should look: the name and something else, or a name that is like and games that are the same. */
export const isLikely = ({ name, sameClub, matches }: Suggestion): boolean =>
  (name === "same" && (sameClub !== false || matches > 0)) || (name === "like" && matches > 0);

/** Visitors whose home club's own player nobody has found yet. */
export const isUnlinked = ({ standing, home, alsoKnownAs }: Player): boolean =>
  standing === "visitor" && home?.book === undefined && alsoKnownAs.length === 0;

interface Somebody extends Pick<Suggestion, "is" | "club"> {
  readonly player: PlayerId;
  readonly parts: readonly string[];
}

interface Pair extends Pick<Suggestion, "player" | "name"> {
  readonly home: string | null;
  readonly one: Somebody;
}

/** For every visitor not linked yet, best reasons first. Only of a name that is the same or like: others have games alike by chance. */
export function suggestionsFor(desk: VisitedDesk, nameOf: NameOf): readonly Suggestion[] {
  const visitors = [...desk.club.state().players.values()].filter(isUnlinked);
  const pairs = visitors.length === 0 ? [] : pairsOf(visitors, peopleOf(desk, nameOf), nameOf);
  if (pairs.length === 0) return [];
  const judge = linkJudge(desk, new Set(pairs.map(({ player }) => player)));
  const alike = matchesAlike(desk, pairs);
  const found = pairs.flatMap(({ player, name, home, one }): Suggestion[] => {
    if (judge({ player, to: one.player }) !== null) return [];
    const matches = alike.get(keyOf(player, one.player)) ?? 0;
    const sameClub = home === null || one.club === null ? null : isSameClub(home, one.club);
    return [{ player, to: one.player, is: one.is, club: one.club, name, sameClub, matches }];
  });
  return found.sort((a, b) => weight(b) - weight(a) || byCodeUnits(a.player, b.player) || byCodeUnits(a.to, b.to));
}

function pairsOf(visitors: readonly Player[], everybody: readonly Somebody[], nameOf: NameOf): readonly Pair[] {
  const byLast = new Map<string, Somebody[]>();
  for (const one of everybody) {
    const last = one.parts.at(-1) ?? "";
    byLast.set(last, [...(byLast.get(last) ?? []), one]);
  }
  return visitors.flatMap(({ player, home }) => {
    const parts = partsOf(nameOf(player) ?? "");
    return (byLast.get(parts.at(-1) ?? "") ?? []).flatMap((one): Pair[] => {
      const name = likeness(parts, one.parts);
      return one.player === player || name === "other" ? [] : [{ player, name, home: home?.club ?? null, one }];
    });
  });
}

/** The club's own have the club's name, so that a visitor from "elsewhere" who is called alike is told apart. */
function peopleOf({ club, leagues }: VisitedDesk, nameOf: NameOf): readonly Somebody[] {
  const state = club.state();
  const people = [...state.players.values()].map(({ player, standing, home }): Somebody => {
    const away = standing === "visitor";
    return {
      player,
      parts: partsOf(nameOf(player) ?? ""),
      is: away ? "visitor" : "member",
      club: away ? clubName(home, leagues) : state.name,
    };
  });
  const seen = new Set(people.map(({ player }) => player));
  for (const league of leagues) {
    for (const { player, home, alsoKnownAs } of league.state().players.values()) {
      if ([player, ...alsoKnownAs].some((id) => seen.has(id) || knownAs(state, id) !== null)) continue;
      seen.add(player);
      people.push({ player, parts: partsOf(nameOf(player) ?? ""), is: "league", club: clubName(home, leagues) });
    }
  }
  return people;
}

const keyOf = (player: PlayerId, to: PlayerId): string => `${player} ${to}`;

/** Whom one book knows may be named in the matches of another. */
function matchesAlike({ club, leagues }: VisitedDesk, pairs: readonly Pair[]): ReadonlyMap<string, number> {
  const books = [...leagues, club].map((book) => book.state());
  const everybody = new Map(books.flatMap((state) => [...state.players]));
  const pairKeys = new Set(pairs.map(({ player, one }) => keyOf(player, one.player)));
  const persons = new Set(pairs.map(({ one }) => one.player));
  const players = new Map([...everybody].filter(([id]) => persons.has(id)));
  const here = { ...matchesWith(club.state(), new Set(pairs.map(({ player }) => player))), players: everybody };
  const isWanted = (player: PlayerId, to: PlayerId): boolean => pairKeys.has(keyOf(player, to));
  const most = new Map<string, number>();
  for (const state of books) {
    const record = { ...matchesWith(state, persons), players };
    for (const { player, to, matches } of everyLinkCandidate(here, record, isWanted)) {
      const key = keyOf(player, to);
      most.set(key, Math.max(most.get(key) ?? 0, matches));
    }
  }
  return most;
}

function likeness(one: readonly string[], other: readonly string[]): Suggestion["name"] | "other" {
  if (one.length === 0 || other.length === 0) return "other";
  if (one.join(" ") === other.join(" ")) return "same";
  const isLike = one.length > 1 && one.at(-1) === other.at(-1) && one[0]?.[0] === other[0]?.[0];
  return isLike ? "like" : "other";
}

/** "Withy" is "Withy Croquet Club": every word of the shorter begins a word of the longer. */
export function isSameClub(one: string, other: string): boolean {
  const [short = [], long = []] = [partsOf(one), partsOf(other)].sort((a, b) => a.length - b.length);
  return short.length > 0 && short.every((word) => long.some((part) => part.startsWith(word)));
}

const weight = ({ name, sameClub, matches }: Suggestion): number =>
  (name === "same" ? 4 : 2) + (sameClub === true ? 2 : sameClub === false ? -2 : 0) + matches * 2;

const partsOf = (text: string): readonly string[] =>
  text
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/['’]/g, "")
    .split(/[^\p{L}\p{N}]+/u)
    .filter((part) => part !== "");
