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
import { linkJudge } from "./links-of.ts";
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
  readonly name: "same" | "like" | "other";
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

/** For every visitor not linked yet, best reasons first. */
export function suggestionsFor(desk: VisitedDesk, nameOf: NameOf): readonly Suggestion[] {
  const state = desk.club.state();
  const visitors = [...state.players.values()].filter(isUnlinked);
  if (visitors.length === 0) return [];
  const judge = linkJudge(desk);
  const everybody = peopleOf(desk, nameOf);
  const alike = matchesAlike(desk);
  const found: Suggestion[] = [];
  for (const { player, home } of visitors) {
    const parts = partsOf(nameOf(player) ?? "");
    const club = home?.club ?? null;
    for (const one of everybody) {
      if (one.player === player) continue;
      const name = likeness(parts, one.parts);
      const matches = alike.get(`${player} ${one.player}`) ?? 0;
      if (name === "other" && matches === 0) continue;
      if (judge({ player, to: one.player }) !== null) continue;
      const sameClub = club === null || one.club === null ? null : isSameClub(club, one.club);
      found.push({ player, to: one.player, is: one.is, club: one.club, name, sameClub, matches });
    }
  }
  return found.sort((a, b) => weight(b) - weight(a) || byCodeUnits(a.player, b.player) || byCodeUnits(a.to, b.to));
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

/** Whom one book knows may be named in the matches of another. */
function matchesAlike({ club, leagues }: VisitedDesk): ReadonlyMap<string, number> {
  const books = [...leagues, club].map((book) => book.state());
  const players = new Map(books.flatMap((state) => [...state.players]));
  const most = new Map<string, number>();
  for (const { matches: all } of books) {
    for (const { player, to, matches } of everyLinkCandidate(club.state(), { players, matches: all })) {
      const key = `${player} ${to}`;
      most.set(key, Math.max(most.get(key) ?? 0, matches));
    }
  }
  return most;
}

function likeness(one: readonly string[], other: readonly string[]): Suggestion["name"] {
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
  (name === "same" ? 4 : name === "like" ? 2 : 0) + (sameClub === true ? 2 : sameClub === false ? -2 : 0) + matches * 2;

const partsOf = (text: string): readonly string[] =>
  text
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/['’]/g, "")
    .split(/[^\p{L}\p{N}]+/u)
    .filter((part) => part !== "");
