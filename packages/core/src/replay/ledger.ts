/**
 * The core of a book: entries in, state out. Any order, any duplication and any partition of the same entries give the same
 * state; adding one entry gives what reading them all from nothing gives. Both are laws and each has a property test.
 *
 *     arrivals -> admission (who counts) -> books (by subject, corrected) -> matches (reconciled) -> cards (folded) -> questions
 *
 * Only what an entry touches is made again: its match, and the cards of that match's members from the line it touches on
 * (running-card.ts), so that saving a game costs the same in a book of ten years as in a new one.
 *
 * SPEC: RP.
 */
import type { BookId, EntryId, KeyId, MatchKey, PlayerId } from "../ids.ts";
import type { Completeness } from "../ledger/chain.ts";
import { byAuthorLastFirst, entryAt } from "../ledger/chain.ts";
import { digestOf } from "../ledger/encoding.ts";
import type { Entry } from "../ledger/entry.ts";
import { byCodeUnits } from "../order.ts";
import { findRuleSet } from "../rules/catalogue.ts";
import type { RuleSet } from "../rules/rule-set.ts";
import type { BookState, Match } from "../state.ts";
import { createAdmission } from "./admission.ts";
import { settleAdoptions } from "./adoption.ts";
import { BookCards } from "./book-cards.ts";
import { BookMatches } from "./book-matches.ts";
import type { Dirty } from "./books.ts";
import { Books, nothingDirty } from "./books.ts";
import type { PlayedMatch } from "./card-input.ts";
import type { Career, OldBook } from "./career.ts";
import { gatherCareer, isInPast } from "./career.ts";
import type { CountedEntries } from "./counted.ts";
import { GAME } from "./counted.ts";
import type { Arrival } from "./held.ts";
import type { SettledRecords } from "./records.ts";
import { settleRecords } from "./records.ts";
import type { KnownSignatures } from "./signatures.ts";
import type { Steps } from "./steps.ts";
import { atOnce } from "./steps.ts";
import type { Cost, Touched } from "./touched.ts";
import { nothingDone } from "./touched.ts";
import { settleEvents, settlePlayers, viewState } from "./view.ts";

export interface LedgerDeps {
  readonly findRules: (id: string) => RuleSet | undefined;
  /** `excerpt` for one player's record, whose chains have gaps; `whole` unless said. */
  readonly chains?: Completeness;
}

export interface Ledger {
  readonly book: BookId;
  /** Takes entries in any order; those already held are passed over. Signatures must have been checked. */
  add(arrivals: readonly Arrival[]): Touched;
  /**
   * The same in steps; nothing else may be asked of the ledger between the first and the last.
   * @param known what a ledger of these entries and no others said it knew: only for the first to be added
   */
  adding(arrivals: readonly Arrival[], known?: KnownSignatures): Steps<Touched>;
  /** As `add`, but cards are made later: by `making`, or when somebody asks for the state. For thousands that come in portions. */
  gather(arrivals: readonly Arrival[]): Touched;
  /** Makes what cards were left by `gather`; in between anything may be asked, and entries gathered. Gives what work it was. */
  making(): Steps<Readonly<Cost>>;
  /** The same object until the next entry arrives; its maps are the ledger's own. */
  state(): BookState;
  has(id: EntryId): boolean;
  entry(id: EntryId): Entry | undefined;
  /** An entry in the form in which it would be held, for who writes it down before it is added. */
  small(entry: Entry): Entry;
  /** Every entry that counts, carried ones opened. */
  counted(): CountedEntries;
  /** How the signatures of all cards were found to stand, for `adding` at another start. */
  known(): KnownSignatures;
  /** Place and predecessor for the author's next entry. */
  next(author: KeyId): { readonly seq: number; readonly prev: EntryId | null };
  /** What the card of a player, under any of his ids, is folded from. */
  career(player: PlayerId): Career;
  /** SHA-256 of the sorted entry ids: equal digests, equal entries. */
  digest(): string;
}

export function createLedger(book: BookId, deps: LedgerDeps = { findRules: findRuleSet }): Ledger {
  const admission = createAdmission(book, deps.chains);
  const standings = () => admission.authority().standings;
  let books = new Books(book, standings, admission.find);
  const matching = new BookMatches();
  const matches = matching.all;
  const oldBooks = new Map<string, OldBook>();
  let records: SettledRecords = { pasts: new Map(), taken: new Map() };
  let players = settlePlayers(books, book, records.pasts);
  let events = settleEvents(books);
  let adopted = settleAdoptions([], deps.findRules);
  let unconfirmed: BookState["unconfirmed"] = "counts";
  let state: BookState | null = null;
  const cards = new BookCards(() => ({
    book,
    books,
    players,
    events,
    pasts: records.pasts,
    adoptions: adopted.adoptions,
  }));

  function* adding(arrivals: readonly Arrival[], known?: KnownSignatures): Steps<Touched> {
    const touched = yield* gathering(arrivals);
    return { ...touched, cost: yield* cards.making(known) };
  }

  function* gathering(arrivals: readonly Arrival[]): Steps<Touched> {
    cards.finish();
    const before = admission.entries.size;
    const { all, fresh } = yield* admission.taking(arrivals);
    if (admission.entries.size === before) return { matches: new Set(), players: new Set(), cost: nothingDone() };
    const dirty = nothingDirty();
    if (all) books = new Books(book, standings, admission.find);
    let noted = 0;
    for (const entry of all ? admission.counting() : fresh) {
      if (!all && entry.kind === GAME) matching.file(books.keyOf(entry), entry);
      books.note(entry, all ? null : dirty);
      if (noted++ % ENTRIES_A_STEP === 0) yield;
    }
    state = null;
    return all ? yield* remakeAll() : yield* remake(dirty);
  }

  function* remakeAll(): Steps<Touched> {
    const touched = { matches: new Set(matches.keys()), players: new Set(cards.all.keys()), cost: nothingDone() };
    matching.clear();
    cards.clear();
    yield;
    books.relink();
    yield;
    yield* readSettings();
    yield* matching.readAll(admission.counting(), { book, books, unconfirmed });
    let put = 0;
    for (const match of matches.values()) {
      for (const player of playersIn(match)) if (isOnCard(match, player)) cards.running(player).put(match);
      if (put++ % ENTRIES_A_STEP === 0) yield;
    }
    for (const [player, past] of records.pasts) for (const match of past.matches) cards.running(player).put(match);
    for (const key of matches.keys()) {
      touched.matches.add(key);
      if (touched.matches.size % KEYS_A_STEP === 0) yield;
    }
    for (const player of players.keys()) {
      cards.owe(player);
      touched.players.add(player);
    }
    return touched;
  }

  function* remake(dirty: Dirty): Steps<Touched> {
    if (dirty.links || dirty.rules || dirty.policy || dirty.records) return yield* remakeAll();
    if (dirty.people) players = settlePlayers(books, book, records.pasts);
    if (dirty.events.size > 0) {
      events = settleEvents(books);
      for (const match of matches.values()) {
        if (match.event !== null && dirty.events.has(match.event))
          for (const player of playersIn(match)) {
            cards.begun(player)?.forget();
            dirty.players.add(player);
          }
      }
    }
    for (const key of dirty.matches) remakeMatch(key, dirty.players);
    for (const player of dirty.players) cards.owe(player);
    return { matches: dirty.matches, players: dirty.players, cost: nothingDone() };
  }

  function* readSettings(): Steps<void> {
    records = settleRecords(books, admission.carriers, openOld);
    yield;
    players = settlePlayers(books, book, records.pasts);
    events = settleEvents(books);
    yield;
    adopted = settleAdoptions(books.standing("rules-adopted"), deps.findRules);
    unconfirmed = books.standing("policy-set").sort(byAuthorLastFirst)[0]?.body.unconfirmed ?? "counts";
  }

  function remakeMatch(key: MatchKey, touched: Set<PlayerId>): void {
    const before = matches.get(key);
    const match = matching.settle(key, { book, books, unconfirmed });
    for (const player of before === undefined ? [] : playersIn(before)) {
      if (before !== undefined && isOnCard(before, player)) cards.begun(player)?.drop(before);
      touched.add(player);
    }
    for (const player of match === null ? [] : playersIn(match)) {
      if (match !== null && isOnCard(match, player)) cards.running(player).put(match);
      touched.add(player);
    }
  }

  const isOnCard = (match: Match, player: PlayerId): match is Match & PlayedMatch =>
    match.facts !== null && (records.pasts.size === 0 || !isInPast(records.pasts.get(player), match, match.facts.date));

  /** The same entries are the same book, read once. */
  function openOld(of: BookId, arrivals: readonly Arrival[]): OldBook {
    const ids = arrivals.map(({ entry }) => entry.id).sort(byCodeUnits);
    const name = `${of} ${digestOf(ids.join("\n"))}`;
    const held = oldBooks.get(name);
    if (held !== undefined) return held;
    const old = createLedger(of, { ...deps, chains: "excerpt" });
    old.add(arrivals);
    oldBooks.set(name, old);
    return old;
  }

  const careerOf = (player: PlayerId): Career =>
    gatherCareer(books.links.resolve(player), {
      books,
      admission,
      matches,
      past: records.pasts.get(books.links.resolve(player)),
      adoptions: adopted.adoptions,
      events,
      onCard: cards.begun(books.links.resolve(player))?.matches ?? [],
    });

  return {
    book,
    add: (arrivals) => atOnce(adding(arrivals)),
    adding,
    gather: (arrivals) => atOnce(gathering(arrivals)),
    making: () => cards.making(),
    state() {
      cards.makeAll();
      const { taken } = records;
      state ??= viewState({
        book,
        admission,
        books,
        players,
        events,
        adopted,
        unconfirmed,
        matches,
        open: matching.open,
        cards: cards.all,
        taken,
      });
      return state;
    },
    has: (id) => admission.entries.has(id),
    entry: (id) => admission.entries.get(id),
    small: admission.small,
    counted: () => admission.counted(),
    known: () => cards.known(),
    next(author) {
      const chain = admission.chains.get(author);
      if (chain === undefined) return { seq: 0, prev: null };
      // After the last one held, gap or not: to fill a gap would be a fork when the missing entry comes.
      return { seq: chain.top + 1, prev: entryAt(chain, chain.top)?.id ?? null };
    },
    career: careerOf,
    digest: () => digestOf([...admission.entries.keys()].sort(byCodeUnits).join("\n")),
  };
}

/** Entries or matches read between two steps: a few milliseconds on the slowest phone. */
const ENTRIES_A_STEP = 16;
const KEYS_A_STEP = 1_024;

/** Each once: a link may say that somebody played against himself. */
function playersIn({ facts }: Match): readonly PlayerId[] {
  const players: PlayerId[] = [];
  for (const side of facts?.sides ?? [])
    for (const { player } of side) if (!players.includes(player)) players.push(player);
  return players;
}
