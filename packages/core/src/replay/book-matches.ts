/**
 * The matches of a book, each with the reports that tell it. Nearly every match is told by one report that nobody has corrected, taken
 * back or ruled on: it is made from that report as it is met, and kept as it is; its report is found through it. Only where there is
 * more to know, or nothing to show, are reports listed by their match.
 *
 *     key -> match told by one report -> that report          most
 *     key -> reports                                          told by several, held, withdrawn, ruled on, waiting
 *
 * Rejected: a second map with the reports of every match (as large as the first, and looked into as often, for what the match knows),
 * and grouping all reports before any match is made (each is then read twice, the second time from all over the memory).
 *
 * SPEC: MA, RP.
 */
import type { BookId, MatchKey } from "../ids.ts";
import type { EntryOf, KnownEntry } from "../ledger/entry.ts";
import { loneMatch, loneReport, reconcile } from "../matches/reconcile.ts";
import type { BookState, Match } from "../state.ts";
import type { Books } from "./books.ts";
import { GAME } from "./counted.ts";
import type { Steps } from "./steps.ts";
import { waitsForSomebody } from "./view.ts";

type Reported = EntryOf<"match-reported">;

/** What a match depends on besides its reports. */
export interface MatchSources {
  readonly book: BookId;
  readonly books: Books;
  readonly unconfirmed: BookState["unconfirmed"];
}

export class BookMatches {
  readonly all = new Map<MatchKey, Match>();
  /** Those that wait for somebody, kept apart so that asking does not mean looking through all. */
  readonly open = new Map<MatchKey, Match>();
  /** Of each match that is not told by one report alone. */
  readonly #reports = new Map<MatchKey, Reported[]>();

  clear(): void {
    this.all.clear();
    this.open.clear();
    this.#reports.clear();
  }

  /** A further report, before its match is settled. */
  file(key: MatchKey, entry: Reported): void {
    const reports = this.#reports.get(key);
    if (reports !== undefined) {
      reports.push(entry);
      return;
    }
    const lone = loneReport(this.all.get(key));
    this.#reports.set(key, lone === null ? [entry] : [lone, entry]);
  }

  /** Makes a match anew from its reports. Null: none of them is to be shown. */
  settle(key: MatchKey, { book, books, unconfirmed }: MatchSources): Match | null {
    const reports = this.#reports.get(key) ?? this.#loneAt(key);
    const match = reconcile(key, books.accountsOf(reports), books.rulingsOn(key, reports), book, unconfirmed);
    if (reports.length === 1 && loneReport(match) !== null) this.#reports.delete(key);
    else if (reports.length > 0) this.#reports.set(key, reports);
    this.#put(key, match);
    return match;
  }

  /** All matches from nothing. @param entries that count, those that are no reports passed over */
  *readAll(entries: Iterable<KnownEntry>, sources: MatchSources): Steps<void> {
    const { books, unconfirmed } = sources;
    const unsettled = new Set<MatchKey>();
    const everyOneCounts = unconfirmed === "counts" && !books.hasRulings;
    let read = 0;
    for (const entry of entries) {
      if (entry.kind !== GAME) continue;
      const key = books.keyOf(entry);
      if (everyOneCounts && !this.all.has(key) && !unsettled.has(key) && books.corrections.isAlone(entry.id)) {
        this.#put(key, loneMatch(key, entry, books.factsOf(entry)));
      } else {
        this.file(key, entry);
        unsettled.add(key);
      }
      if (read++ % REPORTS_A_STEP === 0) yield;
    }
    let settled = 0;
    for (const key of unsettled) {
      this.settle(key, sources);
      if (settled++ % REPORTS_A_STEP === 0) yield;
    }
  }

  #loneAt(key: MatchKey): Reported[] {
    const lone = loneReport(this.all.get(key));
    return lone === null ? [] : [lone];
  }

  #put(key: MatchKey, match: Match | null): void {
    if (match === null) this.all.delete(key);
    else this.all.set(key, match);
    if (match !== null && waitsForSomebody(match)) this.open.set(key, match);
    else if (this.open.size > 0) this.open.delete(key);
  }
}

/** A few milliseconds on the slowest phone. */
const REPORTS_A_STEP = 16;
