/**
 * All that one player's card is folded from, gathered so that another club's book can go on from it; and how a card goes across from
 * the record of an old club to this book's own. Before the cut-over the record says what was played, set and in force; from that day on
 * this book does. What this book has of days before is on the card where the record does not have it: a result that came late.
 *
 * SPEC: MV.
 */
import type { EntryId, EventId, MatchKey, PlayerId } from "../ids.ts";
import type { EntryOf } from "../ledger/entry.ts";
import type { Day } from "../ledger/kinds.ts";
import type { BookState, Match } from "../state.ts";
import type { Admission } from "./admission.ts";
import type { Adoptions } from "./adoption.ts";
import { rulesOn } from "./adoption.ts";
import type { Books } from "./books.ts";
import type { FoldInput, PlayedMatch } from "./card-input.ts";

/** All that one player's card is folded from. */
export interface Career {
  /** The ids that are the player in `matches`. */
  readonly ids: ReadonlySet<PlayerId>;
  readonly matches: readonly PlayedMatch[];
  /** Identities of all the player's matches, those that do not count too. */
  readonly keys: readonly MatchKey[];
  readonly sets: readonly EntryOf<"handicap-set">[];
  readonly signed: readonly EntryOf<"card-signed">[];
  readonly adoptions: Adoptions | null;
  readonly events: FoldInput["events"];
  /** Whether an entry is in the record, as one of the book's own or carried. */
  readonly holds: (id: EntryId) => boolean;
}

/** A record in use, cut at its day. */
export interface Past extends Omit<Career, "keys"> {
  readonly cutover: Day;
  /** As this book's links have them. */
  readonly keys: ReadonlySet<MatchKey>;
}

/** The old book, read. */
export interface OldBook {
  state(): BookState;
  career(player: PlayerId): Career;
}

/** A match of this book that the record has already: what the record says of it holds. */
export const isInPast = (past: Past | undefined, match: Match, date: Day): boolean =>
  past !== undefined &&
  date < past.cutover &&
  (past.keys.has(match.key) || match.reports.every(({ entry }) => past.holds(entry)));

/** The rules of each day: the old club's before the cut-over, this book's from it on. */
function adoptionsAcross(past: Past, own: Adoptions | null): Adoptions | null {
  if (past.adoptions === null || own === null) return own ?? past.adoptions;
  const [first, ...rest] = past.adoptions;
  const { cutover } = past;
  return [
    first,
    ...rest.filter(({ from }) => from < cutover),
    { from: cutover, rules: rulesOn(own, cutover) },
    ...own.filter(({ from }) => from > cutover),
  ];
}

/** An event of the old book has the days it had there. */
const eventsAcross = (past: Past, own: FoldInput["events"]): FoldInput["events"] => ({
  get: (event: EventId) => past.events.get(event) ?? own.get(event),
});

/** What the fold of a player's card reads besides its matches. */
export function inputAcross(
  player: PlayerId,
  past: Past | undefined,
  books: Books,
  adoptions: Adoptions | null,
  events: FoldInput["events"],
) {
  const [sets, signed] = [books.setsOf(player), books.signedOf(player)];
  if (past === undefined) return { adoptions, events, sets, signed };
  return {
    adoptions: adoptionsAcross(past, adoptions),
    events: eventsAcross(past, events),
    sets: [...past.sets, ...sets.filter(({ body }) => body.from >= past.cutover)],
    signed: [...past.signed, ...signed],
    also: past.ids,
  };
}

interface CareerSources {
  readonly books: Books;
  readonly admission: Admission;
  readonly matches: ReadonlyMap<MatchKey, Match>;
  readonly past: Past | undefined;
  readonly adoptions: Adoptions | null;
  readonly events: FoldInput["events"];
  /** The matches on the player's card, in its order. */
  readonly onCard: readonly PlayedMatch[];
}

/** @param player as the book's links have him */
export function gatherCareer(player: PlayerId, from: CareerSources): Career {
  const { books, admission, matches, past, onCard } = from;
  const { also = [], ...input } = inputAcross(player, past, books, from.adoptions, from.events);
  const own = [...matches.values()].filter(({ reports }) =>
    reports.some(({ facts }) => facts.sides.flat().some((seat) => seat.player === player)),
  );
  const held = new Set(admission.entries.keys());
  for (const { id } of admission.counting()) held.add(id);
  return {
    ...input,
    ids: new Set([player, ...also]),
    matches: onCard,
    keys: [...own.map(({ key }) => key), ...(past?.keys ?? [])],
    holds: (entry) => held.has(entry) || past?.holds(entry) === true,
  };
}
