/**
 * People who were written down with different home clubs, by two who did not know of each other, or under two ids that were linked
 * since. The record has to take one of them (PE3), and which is no reason to keep quiet about the other: it is shown, and settled by
 * taking back what was wrong. A club's name and the book that is that club's are one home. Pure.
 */
import type { BookState, EntryId, KeyId, Player, PlayerId } from "@sward/core";
import { byCodeUnits, readStanding } from "@sward/core";
import { clubName } from "../entry/people.ts";
import { isSameClub } from "./suggestions.ts";
import type { VisitedDesk } from "./visited-desk.ts";
import { knownAs } from "./visited-desk.ts";

export interface StatedHome {
  readonly entry: EntryId;
  /** The id it was said of. */
  readonly player: PlayerId;
  readonly home: NonNullable<Player["home"]>;
  /** In words; null for a book nobody here can name. */
  readonly club: string | null;
  readonly by: KeyId;
  readonly at: string;
}

export interface TwoHomes {
  readonly player: PlayerId;
  /** Those that go together, the home that counts for now first. */
  readonly homes: readonly (readonly StatedHome[])[];
}

export function twoHomesIn({ club, leagues }: VisitedDesk): readonly TwoHomes[] {
  const state = club.state();
  const joins = readStanding({ state, counted: club.counted() }, ["player-joined"])("player-joined");
  const byPerson = new Map<PlayerId, StatedHome[]>();
  for (const { id, author, at, body } of joins) {
    const person = knownAs(state, body.player);
    const home: Player["home"] = body.home ?? null;
    // Somebody from elsewhere who became a member has moved.
    if (person === null || home === null || state.players.get(person)?.standing !== "visitor") continue;
    const named = home.book === club.id ? state.name : clubName(home, leagues);
    const said: StatedHome = { entry: id, player: body.player, home, club: named, by: author, at };
    byPerson.set(person, [...(byPerson.get(person) ?? []), said]);
  }
  return [...byPerson]
    .flatMap(([player, said]): TwoHomes[] => {
      const homes = grouped(said).sort((a, b) => countsFirst(state, player, a, b));
      return homes.length < 2 ? [] : [{ player, homes }];
    })
    .sort((a, b) => byCodeUnits(a.player, b.player));
}

function grouped(said: readonly StatedHome[]): StatedHome[][] {
  const groups: StatedHome[][] = [];
  for (const one of said) {
    const group = groups.find(([first]) => first !== undefined && isOneHome(first, one));
    if (group === undefined) groups.push([one]);
    else group.push(one);
  }
  return groups;
}

function isOneHome(a: StatedHome, b: StatedHome): boolean {
  if (a.home.book !== undefined && b.home.book !== undefined) return a.home.book === b.home.book;
  return a.club !== null && b.club !== null && isSameClub(a.club, b.club);
}

function countsFirst(state: BookState, player: PlayerId, a: readonly StatedHome[], b: readonly StatedHome[]): number {
  const counts = state.players.get(player)?.home;
  const isIt = (group: readonly StatedHome[]): boolean =>
    group.some(({ home }) => home.book === counts?.book && home.club === counts?.club);
  return Number(isIt(b)) - Number(isIt(a)) || byCodeUnits(a[0]?.entry ?? "", b[0]?.entry ?? "");
}
