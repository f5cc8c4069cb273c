/**
 * Who is meant by a name in a file. A whole name or short name that one person has is that person; "Wren, Ada" too, for the comma says
 * how it is turned. Everything less is an offer: an initial with a surname, a slip of a letter or two. The person at the screen
 * decides once for each spelling. Rejected: taking a close spelling when only one comes near (a club has a father and a son, and a
 * card with the wrong games on it is found a year later).
 */
import type { PlayerId } from "@sward/core";
import { byCodeUnits, byNumber } from "@sward/core";
import type { Person } from "../entry/people.ts";

export type Named = Pick<Person, "player" | "name" | "short">;

export type NameMatch =
  | { readonly type: "known"; readonly player: PlayerId }
  /** Two people are called so. */
  | { readonly type: "several"; readonly offers: readonly PlayerId[] }
  /** Nobody is called so; `offers` are those it may be a slip for, nearest first, perhaps nobody. */
  | { readonly type: "unknown"; readonly offers: readonly PlayerId[] };

export interface NameBook {
  /** Whether somebody is called so; nothing is searched for a text that nobody has. */
  has(text: string): boolean;
  find(text: string): NameMatch;
  /** How often the whole club was gone through for a spelling: once for each that nobody has. */
  readonly searches: () => number;
}

const MOST_OFFERS = 5;

/** One spelling, whatever its capitals, accents, signs and spaces: "O’Hara-Lund,  José" is "ohara lund jose". */
export function nameKey(text: string): string {
  const parts = partsOf(text);
  return parts.length > 0 ? parts.join(" ") : text.trim().toLowerCase();
}

export function createNameBook(people: readonly Named[]): NameBook {
  const byKey = new Map<string, Set<PlayerId>>();
  for (const { player, name, short } of people) {
    for (const key of new Set([nameKey(name), nameKey(short)])) {
      const held = byKey.get(key);
      if (held === undefined) byKey.set(key, new Set([player]));
      else held.add(player);
    }
  }
  const known = new Map<string, NameMatch>();
  let searches = 0;

  const exactly = (text: string): ReadonlySet<PlayerId> | undefined =>
    byKey.get(nameKey(text)) ?? byKey.get(turned(text)) ?? coded(text);

  function match(text: string): NameMatch {
    const exact = exactly(text);
    if (exact !== undefined) return named([...exact]);
    searches += 1;
    return { type: "unknown", offers: near(nameKey(text), people) };
  }

  /** "Ada W. (k3f9)": a name two people have, with the beginning of the id it is known by. */
  function coded(text: string): ReadonlySet<PlayerId> | undefined {
    const found = /^(.*\S)\s*\(([A-Za-z0-9_-]{4,22})\)$/.exec(text.trim());
    if (found === null) return undefined;
    const [, name = "", code = ""] = found;
    const ids = [...(byKey.get(nameKey(name)) ?? [])].filter((player) => player.startsWith(code));
    return ids.length === 0 ? undefined : new Set(ids);
  }

  return {
    searches: () => searches,
    has: (text) => exactly(text) !== undefined,
    find(text) {
      const held = known.get(text);
      if (held !== undefined) return held;
      const found = match(text);
      known.set(text, found);
      return found;
    },
  };
}

/** A cell as the people in it: "Ada Wren (7) & Bo Linnet" is two, the first with a handicap. */
export function peopleInCell(text: string, isKnown: (text: string) => boolean): readonly NamedInCell[] {
  if (text.trim() === "") return [];
  if (isKnown(text)) return [{ text: text.trim(), off: "" }];
  const both = text.split(/\s*[&+/;]\s*|\s+and\s+/i).filter((part) => part.trim() !== "");
  const parts = both.length === 2 ? both : [text];
  return parts.map((part) => {
    const found = /^(.*\S)\s*\(\s*([-−–]?\d{1,2})\s*\)$/.exec(part.trim());
    return found === null ? { text: part.trim(), off: "" } : { text: found[1] ?? "", off: found[2] ?? "" };
  });
}

export interface NamedInCell {
  readonly text: string;
  /** A handicap in brackets behind the name, empty when there is none. */
  readonly off: string;
}

const named = (players: readonly PlayerId[]): NameMatch => {
  const [player] = players;
  return players.length === 1 && player !== undefined
    ? { type: "known", player }
    : { type: "several", offers: [...players].sort(byCodeUnits) };
};

/** "Wren, Ada" as "ada wren"; nothing a name could be when there is no comma. */
function turned(text: string): string {
  const [last, first, ...more] = text.split(",");
  return first === undefined || more.length > 0 ? "\n" : nameKey(`${first} ${last}`);
}

function near(key: string, people: readonly Named[]): readonly PlayerId[] {
  const offers: { readonly player: PlayerId; readonly far: number }[] = [];
  for (const { player, name, short } of people) {
    const far = Math.min(distance(key, nameKey(name)), distance(key, nameKey(short)));
    if (far < FAR) offers.push({ player, far });
  }
  return offers
    .sort((a, b) => byNumber(a.far, b.far) || byCodeUnits(a.player, b.player))
    .slice(0, MOST_OFFERS)
    .map(({ player }) => player);
}

const FAR = 9;

/** How far one spelling is from a name: slips in letters, else 3 for initials or one part of it, FAR for nothing in common. */
function distance(key: string, name: string): number {
  const slips = letterSlips(key, name, key.length >= 8 ? 2 : 1);
  if (slips < FAR) return slips;
  const [written, parts] = [key.split(" "), name.split(" ")];
  const begins = (word: string, part: string): boolean => part.startsWith(word) || (word.length > 2 && word === part);
  const used = new Set<number>();
  const fits = written.every((word) => {
    const at = parts.findIndex((part, place) => !used.has(place) && begins(word, part));
    used.add(at);
    return at !== -1;
  });
  return fits && key.length > 2 ? 3 : FAR;
}

/** Letters put in, left out, changed or swapped, as far as `most`; FAR beyond. Optimal string alignment. */
function letterSlips(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return FAR;
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, at) => at);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min((row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1, (row[j - 1] ?? 0) + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        least = Math.min(least, (before[j - 2] ?? 0) + 1);
      next.push(least);
    }
    if (Math.min(...next) > most) return FAR;
    before = row;
    row = next;
  }
  const slips = row[b.length] ?? FAR;
  return slips <= most ? slips : FAR;
}

function partsOf(text: string): readonly string[] {
  const letters = text
    .normalize("NFD")
    .replace(/\p{M}|['’]/gu, "")
    .toLowerCase();
  return letters.split(/[^\p{L}\p{N}]+/u).filter((part) => part !== "");
}
