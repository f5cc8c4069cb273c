/**
 * The state as screens read it, put together from what the ledger keeps. What is cheap to keep is kept; what is read seldom
 * (fixtures, questions, why an entry does not count) is worked out when first asked for, once per state.
 *
 * SPEC: RP.
 */
import type { BookId, EntryId, EventId, FixtureId, KeyId, MatchKey, PlayerId } from "../ids.ts";
import { canonicalText } from "../ledger/canonical.ts";
import { byAuthorLastFirst } from "../ledger/chain.ts";
import type { Occasion } from "../ledger/kinds.ts";
import { differences } from "../matches/identity.ts";
import type { BookState, Card, Device, Fixture, Match, Player, StatedHandicap } from "../state.ts";
import type { Admission } from "./admission.ts";
import type { Adopted } from "./adoption.ts";
import type { Books } from "./books.ts";
import type { Rivalry } from "./questions.ts";
import { findQuestions } from "./questions.ts";

export interface ViewSources {
  readonly book: BookId;
  readonly admission: Admission;
  readonly books: Books;
  readonly players: ReadonlyMap<PlayerId, Player>;
  readonly events: BookState["events"];
  readonly adopted: Adopted;
  readonly unconfirmed: BookState["unconfirmed"];
  readonly matches: ReadonlyMap<MatchKey, Match>;
  /** Those of `matches` that wait for somebody. */
  readonly open: ReadonlyMap<MatchKey, Match>;
  readonly cards: ReadonlyMap<PlayerId, Card>;
  readonly taken: BookState["records"];
}

export function viewState(from: ViewSources): BookState {
  const { book, admission, books, matches, cards, players } = from;
  const { as, opening, clubs } = admission.authority();
  const fixtures = once(() => viewFixtures(books, matches));
  const stated = once(() => viewStated(from));
  const refusals = once(() => [...books.corrections.refusals(), ...admission.refusals()]);
  const uncounted = once(() => {
    const reasons = admission.uncounted();
    for (const id of refusals()) reasons.set(id, "may-not-correct");
    return reasons;
  });
  const devices = once(() => viewDevices(admission, refusals()));
  const questions = once(() => {
    const all = [...from.open.values()];
    return findQuestions({
      book,
      cards,
      players: as === "club" ? players : new Map(),
      devices: devices(),
      held: all.filter(({ status }) => status === "held"),
      oneSided: all.filter(isOneSided),
      rivalries: viewRivalries(books),
      unknownRules: from.adopted.unknown,
    });
  });
  return {
    book,
    as,
    name: opening?.body.name ?? "",
    entries: admission.entries.size,
    unconfirmed: from.unconfirmed,
    rules: from.adopted.named,
    clubs,
    players,
    events: from.events,
    cards,
    matches,
    records: from.taken,
    get devices() {
      return devices();
    },
    get fixtures() {
      return fixtures();
    },
    get stated() {
      return stated();
    },
    get questions() {
      return questions();
    },
    get uncounted() {
      return uncounted();
    },
  };
}

const isOneSided = ({ slot, status }: Match): boolean =>
  status === "waiting" || (status === "one-report" && slot !== null);

export const waitsForSomebody = (match: Match): boolean => match.status === "held" || isOneSided(match);

/** A member of two clubs has one home, and one card there. */
export const isAtHome = ({ home }: Player, book: BookId): boolean => home?.book === book;

/**
 * Everyone the book speaks of as joined; one who joined as a member and left is "left", and keeps the card.
 * @param pasts those whose record from another club was taken in: this book is their home now
 */
export function settlePlayers(
  books: Books,
  book: BookId,
  pasts: ReadonlyMap<PlayerId, unknown>,
): ReadonlyMap<PlayerId, Player> {
  const { resolve, othersOf } = books.links;
  const players = new Map<PlayerId, Player>();
  for (const { body } of books.standing("player-joined")) {
    const player = resolve(body.player);
    const held = players.get(player);
    if (held?.standing === "member") continue;
    const home = body.home ?? (body.standing === "member" ? { book } : null);
    // A person known under several ids has the home that any of them names.
    const kept = body.standing === "visitor" && home === null ? (held?.home ?? null) : home;
    players.set(player, { player, standing: body.standing, home: kept, alsoKnownAs: othersOf(player) });
  }
  for (const { body } of books.standing("player-left")) {
    const player = resolve(body.player);
    const held = players.get(player);
    if (held?.standing === "member") players.set(player, { ...held, standing: "left" });
  }
  for (const player of pasts.keys()) {
    const held = players.get(player);
    if (held !== undefined) players.set(player, { ...held, home: { book } });
  }
  return players;
}

export function settleEvents(books: Books): BookState["events"] {
  const events = new Map<EventId, { title: string; occasion: Occasion; from: string; to: string }>();
  for (const { body } of books.standing("event-opened")) {
    const { event, title, occasion, from, to } = body;
    if (!events.has(event)) events.set(event, { title, occasion, from, to });
  }
  return events;
}

function viewDevices(admission: Admission, refusals: readonly EntryId[]): ReadonlyMap<KeyId, Device> {
  const refused = new Map<KeyId, number>();
  for (const id of refusals) {
    const author = admission.entries.get(id)?.author;
    if (author !== undefined) refused.set(author, (refused.get(author) ?? 0) + 1);
  }
  const devices = new Map<KeyId, Device>();
  for (const { key, office, club, admittedBy, cut } of admission.authority().standings.values()) {
    devices.set(key, {
      device: key,
      role: office === "club" ? "root" : office,
      club,
      admittedBy,
      counted: admission.countedBy(key) - (refused.get(key) ?? 0),
      barred: cut !== Infinity,
      forkedAt: admission.chains.get(key)?.forkedAt ?? null,
    });
  }
  return devices;
}

function viewFixtures(books: Books, matches: ReadonlyMap<MatchKey, Match>): ReadonlyMap<FixtureId, Fixture> {
  const fixtures = new Map<FixtureId, Fixture>();
  for (const { body } of books.standing("fixture-set")) {
    if (fixtures.has(body.fixture)) continue;
    const keys = body.slots.map((_, place) => `slot:${body.fixture}:${place + 1}` as MatchKey);
    fixtures.set(body.fixture, {
      fixture: body.fixture,
      date: body.date,
      home: body.home,
      away: body.away,
      slots: body.slots,
      matches: keys.map((key) => (matches.has(key) ? key : null)),
    });
  }
  return fixtures;
}

/**
 * Of several statements the one for the latest day holds; for one day, an author's last, and among authors the lowest key's. For a
 * player whose home is a club of the league no other club speaks: a club's book has the id of its root key.
 */
function viewStated({ admission, books, players }: ViewSources): ReadonlyMap<PlayerId, StatedHandicap> {
  const { standings, clubs } = admission.authority();
  const stated = new Map<PlayerId, StatedHandicap>();
  for (const { id, author, body } of books.standing("handicap-stated").sort(byAuthorLastFirst)) {
    const player = books.links.resolve(body.player);
    const club = standings.get(author)?.club ?? null;
    const home = players.get(player)?.home?.book as string | undefined;
    if (club !== null && home !== undefined && club !== home && clubs.has(home as KeyId)) continue;
    const held = stated.get(player);
    if (held !== undefined && held.on >= body.on) continue;
    stated.set(player, { ...body, entry: id, player, by: author, club });
  }
  return stated;
}

function viewRivalries(books: Books): Rivalry[] {
  const rivalries: Rivalry[] = [];
  for (const { of, words } of books.corrections.rivalries()) {
    const [counts, ...rest] = words;
    if (counts === undefined) continue;
    const others = rest.filter((other) => differ(books, counts, other));
    if (others.length > 0) rivalries.push({ of, counts, others });
  }
  return rivalries;
}

/** Two corrections that say the same need no decision. */
function differ(books: Books, one: EntryId, other: EntryId): boolean {
  const [a, b] = [books.entry(one), books.entry(other)];
  if (a?.kind === "match-reported" && b?.kind === "match-reported") {
    return differences(books.factsOf(a), books.factsOf(b)).length > 0;
  }
  const { replaces: _a, ...mine } = (a?.body ?? {}) as { replaces?: string };
  const { replaces: _b, ...theirs } = (b?.body ?? {}) as { replaces?: string };
  return canonicalText(mine) !== canonicalText(theirs);
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}
