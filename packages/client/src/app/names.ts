/**
 * Names beside the record, which has none. A person is looked up in the club's roster first, then in the leagues'; under every id
 * that is linked to the one asked for. Pure: the desk is handed in, so a test can hand in its own.
 */
import type { BookState, KeyId, PlayerId } from "@sward/core";
import type { RosterRecord, RosterSubject } from "../book/roster.ts";
import { words } from "./words.ts";

/** What is needed of a book to find a name. */
export interface NamedBook {
  state(): Pick<BookState, "players">;
  readonly roster: {
    get(about: RosterSubject): RosterRecord | undefined;
    /** Set where the name was erased for good. */
    erased?(about: RosterSubject): unknown;
  };
}

export interface NamedDesk {
  readonly club: NamedBook;
  readonly leagues: readonly NamedBook[];
}

export function rosterRecordOf(desk: NamedDesk, player: PlayerId): RosterRecord | undefined {
  const books = [desk.club, ...desk.leagues];
  const ids = [player, ...linkedTo(books, player)];
  // What the club has erased is not shown from a league's roster, where it may not have been erased yet.
  if (isErasedIn([desk.club], ids)) return undefined;
  for (const id of ids) {
    for (const { roster } of books) {
      const record = roster.get(id);
      if (record !== undefined) return record;
    }
  }
  return undefined;
}

const isErasedIn = (books: readonly NamedBook[], ids: readonly PlayerId[]): boolean =>
  books.some(({ roster }) => ids.some((id) => roster.erased?.(id) !== undefined));

export const nameIn = (desk: NamedDesk, player: PlayerId): string =>
  rosterRecordOf(desk, player)?.name ?? withoutName(desk, player);

export const shortNameIn = (desk: NamedDesk, player: PlayerId): string =>
  rosterRecordOf(desk, player)?.short ?? withoutName(desk, player);

function withoutName(desk: NamedDesk, player: PlayerId): string {
  const books = [desk.club, ...desk.leagues];
  const erased = isErasedIn(books, [player, ...linkedTo(books, player)]);
  return erased ? words.nameErased : words.nameUnknown(player.slice(0, 4));
}

/** Every id of a person in these books, the one asked for first. */
export const idsOf = (desk: NamedDesk, player: PlayerId): readonly PlayerId[] => [
  ...new Set([player, ...linkedTo([desk.club, ...desk.leagues], player)]),
];

function linkedTo(books: readonly NamedBook[], player: PlayerId): PlayerId[] {
  return books.flatMap((book) => {
    const { players } = book.state();
    const own = players.get(player)?.alsoKnownAs;
    if (own !== undefined) return [...own];
    const known = formerOf(players).get(player);
    return known === undefined ? [] : [known.player, ...known.alsoKnownAs];
  });
}

type Players = BookState["players"];
type Known = Players extends ReadonlyMap<PlayerId, infer P> ? P : never;

const formerIds = new WeakMap<Players, Map<PlayerId, Known>>();

/** Who was linked from an id: gathered once for a book's players, as a list of thousands asks it for each of them. */
function formerOf(players: Players): Map<PlayerId, Known> {
  const held = formerIds.get(players);
  if (held !== undefined) return held;
  const former = new Map<PlayerId, Known>();
  for (const known of players.values()) for (const id of known.alsoKnownAs) if (!former.has(id)) former.set(id, known);
  formerIds.set(players, former);
  return former;
}

/** Who a device is, such as "Ada Wren (pavilion tablet)"; words for one the roster does not name. */
export function deviceIn(desk: NamedDesk, device: KeyId): string {
  for (const { roster } of [desk.club, ...desk.leagues]) {
    const record = roster.get(device);
    if (record !== undefined) return record.device === undefined ? record.name : `${record.name} (${record.device})`;
  }
  return words.deviceUnknown(device.slice(0, 4));
}
