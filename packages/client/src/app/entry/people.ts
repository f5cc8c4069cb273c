/**
 * Who can be chosen in a match, and who is meant by a few letters. The club's own people come first, then those its leagues know:
 * choosing one of these makes the same person a visitor here, under the same id, so that nobody is in the record twice. Rejected:
 * matching anywhere inside a name ("an" finds half a club; people type how a name begins, or the initials on the noticeboard).
 */
import type { BookState, Player, PlayerId } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import { rosterRecordOf } from "../names.ts";
import type { ReadableBook, ReadableDesk } from "./reading.ts";

export interface Person {
  readonly player: PlayerId;
  readonly name: string;
  readonly short: string;
  /** `league`: known to a league only. `new`: typed in just now. Both join as visitors when the match is saved. */
  readonly standing: Player["standing"] | "league" | "new";
  readonly home: Player["home"];
  /** Name of the home club; null for the club's own members and where nobody knows. */
  readonly club: string | null;
}

/** A visitor typed in just now, who joins together with the match. */
export interface NewVisitor {
  readonly player: PlayerId;
  readonly name: string;
  /** Empty where nobody knows. */
  readonly club: string;
}

/** Everyone who can be chosen, in the order they are offered. Those without a name in any roster are left out. */
export function knownPeople({ club, leagues }: ReadableDesk, fresh: readonly NewVisitor[] = []): readonly Person[] {
  const people = new Map<PlayerId, Person>();
  for (const { player, standing, home } of club.state().players.values()) {
    const record = rosterRecordOf({ club, leagues }, player);
    if (record === undefined) continue;
    const { name, short } = record;
    const away = standing === "visitor" ? clubName(home, leagues) : null;
    people.set(player, { player, name, short, standing, home, club: away });
  }
  const known = alsoKnown(club.state());
  for (const league of leagues) {
    for (const { player, home } of league.state().players.values()) {
      if (people.has(player) || known.has(player)) continue;
      const record = rosterRecordOf({ club: league, leagues: [] }, player);
      if (record === undefined) continue;
      const { name, short } = record;
      people.set(player, { player, name, short, standing: "league", home, club: clubName(home, leagues) });
    }
  }
  for (const { player, name, club: home } of fresh) {
    if (people.has(player)) continue;
    const away = home === "" ? null : home;
    const short = shortened(name);
    people.set(player, {
      player,
      name,
      short,
      standing: "new",
      home: away === null ? null : { club: away },
      club: away,
    });
  }
  return inOrderOfOffer([...people.values()]);
}

/** Those a few typed letters can mean, best first: every word must begin a part of the name or of the short name. */
export function findPeople(
  people: readonly Person[],
  typed: string,
  taken: ReadonlySet<PlayerId>,
  most: number,
): readonly Person[] {
  const free = people.filter(({ player }) => !taken.has(player));
  const found = inOrderOfOffer(createPeopleFinder(free)(typed));
  const [asked, others] = [[] as Person[], [] as Person[]];
  for (const person of found) (isShort(person, typed) ? asked : others).push(person);
  return [...asked, ...others].slice(0, most);
}

/** The same of one list that is asked with each letter, in the list's own order: names are taken apart once. */
export function createPeopleFinder<T extends Pick<Person, "name" | "short">>(
  people: readonly T[],
): (typed: string) => readonly T[] {
  const parted = people.map((person) => {
    const short = partsOf(person.short);
    return { person, parts: [...partsOf(person.name), ...short], short: short.join(" ") };
  });
  return (typed) => {
    const words = partsOf(typed);
    const whole = words.join(" ");
    const isMeant = ({ parts, short }: (typeof parted)[number]): boolean =>
      words.every((word) => parts.some((part) => part.startsWith(word))) || (whole !== "" && short === whole);
    return parted.filter(isMeant).map(({ person }) => person);
  };
}

/** The one person whose whole name or short name was typed; undefined when none is, or several are. */
export function exactPerson(people: readonly Person[], typed: string): Person | undefined {
  const text = partsOf(typed).join(" ");
  if (text === "") return undefined;
  const found = people.filter(({ name, short }) => [name, short].some((one) => partsOf(one).join(" ") === text));
  return found.length === 1 ? found[0] : undefined;
}

/** "Vera Lisle" as "Vera L": how a name typed in here is shortened until somebody writes another. */
export function shortened(name: string): string {
  const [first = "", ...others] = name.trim().split(/\s+/);
  const last = others.at(-1);
  return (last === undefined ? first : `${first} ${[...last][0]}`).slice(0, LONGEST_SHORT);
}

/** As long as a roster's short name may be. */
const LONGEST_SHORT = 40;

/** The home club in words. A club is named in a league by the key id that also names its book. */
export function clubName(home: Player["home"], leagues: readonly Pick<ReadableBook, "state">[]): string | null {
  if (home?.club !== undefined) return home.club;
  if (home?.book === undefined) return null;
  for (const league of leagues) {
    for (const { club, name } of league.state().clubs.values()) if ((club as string) === home.book) return name;
  }
  return null;
}

const alsoKnown = (state: BookState): ReadonlySet<PlayerId> =>
  new Set([...state.players.values()].flatMap(({ alsoKnownAs }) => alsoKnownAs));

const isShort = ({ short }: Person, typed: string): boolean => {
  const text = partsOf(typed).join(" ");
  return text !== "" && partsOf(short).join(" ") === text;
};

/** Names are the same with each change of the record, and taking one apart is slow: what was taken apart is remembered. */
const parted = new Map<string, readonly string[]>();
const MOST_PARTED = 20_000;

function partsOf(text: string): readonly string[] {
  const known = parted.get(text) ?? takenApart(text);
  if (parted.size >= MOST_PARTED) parted.clear();
  parted.set(text, known);
  return known;
}

/** Lower case without accents, cut where letters end: "O'Hara-Lund" is ohara and lund. */
function takenApart(text: string): readonly string[] {
  const plain = text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().replace(/['’]/g, "");
  return plain.split(/[^\p{L}\p{N}]+/u).filter((part) => part !== "");
}

const rank = { member: 0, new: 1, visitor: 1, league: 2, left: 3 } as const;

/** What a name is sorted by is worked out once for each, and not for each two that are compared. */
function inOrderOfOffer(people: readonly Person[]): Person[] {
  const keyed = people.map((person) => ({ person, key: partsOf(person.name).join(" ") }));
  keyed.sort(
    (a, b) =>
      rank[a.person.standing] - rank[b.person.standing] ||
      byCodeUnits(a.key, b.key) ||
      byCodeUnits(a.person.player, b.person.player),
  );
  return keyed.map(({ person }) => person);
}
