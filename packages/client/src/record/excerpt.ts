/**
 * The part of a book that is one player's record: all that moves the player's card or says whether it counts, and as little as can
 * be of anybody else. The card folded from it is the card in the book, byte for byte.
 *
 * It begins with who may write and which rules are in force, and with what names the player, under any linked id. Then, until
 * nothing more is found: what corrects, takes back or rules on what is there, and what that corrects; other reports of the same slot;
 * events and fixtures; links of everybody in those matches, since a match is known by its players; both sides of a signer's fork.
 *
 * An entry that waits for an earlier one is left out: without its chain nobody could tell that it waits. Rejected: leaving out
 * whatever does not count (a report refused today may be the one that a ruling accepts tomorrow, and the player has a right to see it).
 *
 * SPEC: RE.
 */
import type { BookState, EntryId, EventId, FixtureId, KeyId, Kind, PlayerId } from "@sward/core";
import type { HeldText, Item } from "./subject.ts";
import { correctedBy, eventIn, fixtureIn, itemOf, playersIn, slotIn, textNames } from "./subject.ts";

/** In every record: who may write, and the rules. */
const always: ReadonlySet<string> = new Set<Kind>([
  "book-opened",
  "club-admitted",
  "device-admitted",
  "device-barred",
  "rules-adopted",
  "policy-set",
]);

/** The person that an id belongs to, or null when the book knows nobody of that id. */
export function personOf({ players }: BookState, id: PlayerId): PlayerId | null {
  if (players.has(id)) return id;
  for (const { player, alsoKnownAs } of players.values()) if (alsoKnownAs.includes(id)) return player;
  return null;
}

/** What an excerpt may be taken from. */
export const withoutWaiting = (held: readonly HeldText[], { uncounted }: BookState): readonly HeldText[] =>
  held.filter(({ entry }) => uncounted.get(entry.id) !== "waiting-for-earlier");

/**
 * @param held what `withoutWaiting` left
 * @param person as `personOf` gives it
 */
export function excerptOf(held: readonly HeldText[], state: BookState, person: PlayerId): HeldText[] {
  const known = new Set([person, ...(state.players.get(person)?.alsoKnownAs ?? [])]);
  const items = held.map(itemOf);
  const forks = forkedItems(items);
  const chosen = new Set(items.filter((item) => isWanted(item, known)));
  for (;;) {
    const threads = threadsOf(chosen);
    const before = chosen.size;
    for (const item of items) if (!chosen.has(item) && hangsTogether(item, threads)) chosen.add(item);
    for (const item of forks) if (threads.authors.has(item.entry.author)) chosen.add(item);
    if (chosen.size === before) return [...chosen];
  }
}

function isWanted({ entry, jws, says }: Item, known: ReadonlySet<PlayerId>): boolean {
  if (always.has(entry.kind)) return true;
  return says === null ? textNames(jws, known) : playersIn(says).some((player) => known.has(player));
}

/** What the chosen entries lead on to. */
interface Threads {
  readonly authors: Set<KeyId>;
  readonly ids: Set<EntryId>;
  readonly corrected: Set<EntryId>;
  readonly slots: Set<string>;
  readonly events: Set<EventId>;
  readonly fixtures: Set<FixtureId>;
  readonly players: Set<PlayerId>;
}

function threadsOf(chosen: Iterable<Item>): Threads {
  const threads: Threads = {
    authors: new Set(),
    ids: new Set(),
    corrected: new Set(),
    slots: new Set(),
    events: new Set(),
    fixtures: new Set(),
    players: new Set(),
  };
  for (const { entry, ids, says } of chosen) {
    threads.authors.add(entry.author);
    for (const id of ids) threads.ids.add(id);
    if (says === null) continue;
    note(threads.corrected, correctedBy(says));
    // A record from the club before lies in parts.
    if (says.kind === "record-taken") for (const part of says.body.parts) threads.corrected.add(part);
    if (says.kind === "match-reported") {
      note(threads.slots, slotIn(says));
      note(threads.events, eventIn(says));
      note(threads.fixtures, fixtureIn(says));
    }
    if (says.kind === "match-reported" || says.kind === "player-linked") {
      for (const player of playersIn(says)) threads.players.add(player);
    }
  }
  return threads;
}

function hangsTogether({ ids, says }: Item, threads: Threads): boolean {
  if (ids.some((id) => threads.corrected.has(id))) return true;
  if (says === null) return false;
  const corrected = correctedBy(says);
  if (corrected !== null && threads.ids.has(corrected)) return true;
  switch (says.kind) {
    case "match-reported":
    case "ruling-made":
      return threads.slots.has(slotIn(says) ?? "");
    case "event-opened":
      return threads.events.has(says.body.event);
    case "fixture-set":
      return threads.fixtures.has(says.body.fixture);
    case "player-linked":
      return playersIn(says).some((player) => threads.players.has(player));
    default:
      return false;
  }
}

/** Of each author who forked, the entries of the first place that has two. */
function forkedItems(items: readonly Item[]): Item[] {
  const byAuthor = new Map<KeyId, Map<number, Item[]>>();
  for (const item of items) {
    const places = byAuthor.get(item.entry.author) ?? new Map<number, Item[]>();
    byAuthor.set(item.entry.author, places.set(item.entry.seq, [...(places.get(item.entry.seq) ?? []), item]));
  }
  return [...byAuthor.values()].flatMap((places) => {
    const forked = [...places].filter(([, there]) => there.length > 1).map(([seq]) => seq);
    return forked.length === 0 ? [] : (places.get(Math.min(...forked)) ?? []);
  });
}

function note<T>(set: Set<T>, value: T | null): void {
  if (value !== null) set.add(value);
}
