/**
 * One match from its reports. Those that agree count once, however many there are; those that disagree are held, side by side,
 * and move no index until one is replaced or withdrawn or the match is ruled on. One report alone counts, or waits, as the book
 * decides. Nothing is discarded: a held or overruled report stays in the record.
 *
 * An event and a starting time are not facts that reports must agree on: one person may leave them out. The lowest given wins,
 * by value, so that it does not depend on order. Of several rulings one author's last holds, and among authors the lowest key's.
 * Rejected: the latest report wins (the slower club would always be right).
 *
 * SPEC: MA.
 */
import type { BookId, EntryId, EventId, MatchKey, PlayerId } from "../ids.ts";
import { byAuthorLastFirst } from "../ledger/chain.ts";
import { dayDigits } from "../ledger/day-digits.ts";
import type { EntryOf } from "../ledger/entry.ts";
import type { Lineup } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import type { FactName, Match, MatchFacts, MatchStatus, Report } from "../state.ts";
import { differences } from "./identity.ts";
import { moreOf } from "./kept-report.ts";
import type { SingleGame } from "./single-game.ts";
import { gameDigits, saysMore } from "./single-game.ts";

/** A report that counts, with who answers for it. */
export interface Account {
  readonly entry: EntryOf<"match-reported">;
  readonly origin: BookId;
  /** Whose word it is: the club in a league book, else the device. Two words make a match confirmed. */
  readonly party: string;
  readonly facts: MatchFacts;
  /** Corrected or withdrawn accounts take no part, but a ruling may still name one. */
  readonly stands: boolean;
}

export interface Ruling {
  readonly entry: EntryOf<"ruling-made">;
  readonly origin: BookId;
}

export function reconcile(
  key: MatchKey,
  accounts: readonly Account[],
  rulings: readonly Ruling[],
  book: BookId,
  unconfirmed: "counts" | "waits",
): Match | null {
  const [only] = accounts;
  if (only?.stands && accounts.length === 1 && rulings.length === 0 && unconfirmed === "counts") {
    return loneMatch(key, only.entry, only.facts);
  }
  const standing = accounts.filter(({ stands }) => stands).sort(byEntry);
  const ruling = rulings.filter((one) => binds(one, accounts, book)).sort(byRuling)[0]?.entry;
  const ruled = ruling === undefined ? undefined : accounts.find(({ entry }) => entry.id === ruling.body.accepts);
  const shown = standing.length > 0 ? standing : ruled === undefined ? [] : [ruled];
  const [first] = shown;
  if (first === undefined) return null;

  const differs = new Set<FactName>();
  for (const { facts } of shown.slice(1)) for (const fact of differences(first.facts, facts)) differs.add(fact);
  const another = shown.some(({ party }) => party !== first.party);
  const status = statusOf(ruling, differs.size > 0, another, unconfirmed);
  const counts = status === "confirmed" || status === "one-report" ? first : status === "ruled" ? ruled : undefined;
  const told = ruled === undefined ? shown : [ruled];
  const body = (counts ?? first).entry.body;
  return {
    key,
    status,
    facts: counts?.facts ?? null,
    event: lowest(told.map(({ entry }) => entry.body.event)) as EventId | null,
    slot: body.slot ?? null,
    n: body.n,
    start: lowest(told.map(({ entry }) => entry.body.start)),
    reports: shown.map(toReport),
    differs: [...differs].sort(byCodeUnits),
    ruling: ruling?.id ?? null,
  };
}

/** What one report tells where every report counts: it stands, and nobody has ruled on its match. */
export const loneMatch = (key: MatchKey, entry: Account["entry"], facts: MatchFacts): Match =>
  new LoneMatch(key, entry, facts);

/** The report of such a match; null of any other. */
export const loneReport = (match: Match | null | undefined): Account["entry"] | null =>
  match instanceof LoneMatch ? match.report : null;

/** A match that one report tells, as most are: what it would say more is the report's, and is read there when somebody asks. */
class LoneMatch implements Match, SingleGame {
  readonly key: MatchKey;
  readonly facts: MatchFacts;
  readonly first: PlayerId;
  readonly day: number;
  readonly game: number;
  readonly #entry: Account["entry"];

  constructor(key: MatchKey, entry: Account["entry"], facts: MatchFacts) {
    const { event, start } = moreOf(entry);
    this.key = key;
    this.facts = facts;
    this.first = (facts.sides[0][0] as Lineup).player;
    this.day = dayDigits(facts.date);
    this.game = gameDigits(facts, (event ?? start) !== undefined);
    this.#entry = entry;
  }

  get event(): EventId | null {
    return (saysMore(this.game) && moreOf(this.#entry).event) || null;
  }

  get start(): string | null {
    return (saysMore(this.game) && moreOf(this.#entry).start) || null;
  }

  get report(): Account["entry"] {
    return this.#entry;
  }

  get status(): MatchStatus {
    return "one-report";
  }

  get slot(): Match["slot"] {
    return moreOf(this.#entry).slot ?? null;
  }

  get n(): number {
    return this.#entry.body.n;
  }

  get reports(): readonly Report[] {
    return [toReport({ entry: this.#entry, origin: this.#entry.book, facts: this.facts })];
  }

  get differs(): readonly FactName[] {
    return [];
  }

  get ruling(): EntryId | null {
    return null;
  }

  toJSON(): Match {
    const { key, status, facts, event, slot, n, start, reports, differs, ruling } = this;
    return { key, status, facts, event, slot, n, start, reports, differs, ruling };
  }
}

function statusOf(
  ruling: EntryOf<"ruling-made"> | undefined,
  differ: boolean,
  anotherParty: boolean,
  unconfirmed: "counts" | "waits",
): MatchStatus {
  if (ruling !== undefined) return ruling.body.accepts === null ? "void" : "ruled";
  if (differ) return "held";
  if (anotherParty) return "confirmed";
  return unconfirmed === "counts" ? "one-report" : "waiting";
}

/**
 * A ruling binds where the reports were made: one of this book not when any of them was carried here, for a club cannot rule alone
 * on a match of its league.
 */
function binds({ entry, origin }: Ruling, accounts: readonly Account[], book: BookId): boolean {
  if (origin === book && accounts.some((account) => account.origin !== book)) return false;
  const { accepts } = entry.body;
  return accounts.some((account) => account.origin === origin && (accepts === null || accepts === account.entry.id));
}

const toReport = ({ entry, origin, facts }: Pick<Account, "entry" | "origin" | "facts">): Report => ({
  entry: entry.id,
  by: entry.author,
  origin,
  at: entry.at,
  facts,
});

const byEntry = (a: Account, b: Account): number => byCodeUnits(a.entry.id, b.entry.id);

const byRuling = (a: Ruling, b: Ruling): number => byAuthorLastFirst(a.entry, b.entry);

const lowest = (values: readonly (string | undefined)[]): string | null =>
  values.filter((value) => value !== undefined).sort(byCodeUnits)[0] ?? null;
