/**
 * Counting entries sorted by what they are about, with their corrections applied when read. This is the fold's memory between
 * one entry and the next: `note` tells what an entry may have changed, so that only those cards and matches are made again.
 *
 * A ruling is found by the report it accepts, and only one that accepts none by the match it names: a match's identity follows the
 * links of its players, a report's id never changes.
 *
 * Which reports tell a match its keeper knows (`book-matches.ts`); accounts of it are made here when it is settled. Rejected: keeping
 * them, which is a second set of facts for each report that nobody reads until another comes.
 *
 * SPEC: MA, PE.
 */

import type { Standing } from "../authority/authority.ts";
import type { Corrections } from "../authority/corrections.ts";
import { createCorrections, mayCorrect, replacedBy } from "../authority/corrections.ts";
import type { BookId, EntryId, EventId, KeyId, MatchKey, PlayerId } from "../ids.ts";
import type { EntryOf, KnownEntry } from "../ledger/entry.ts";
import type { Kind } from "../ledger/kinds.ts";
import { currentKey } from "../matches/identity.ts";
import { factsOf, keyOfReport, moreOf } from "../matches/kept-report.ts";
import type { Account, Ruling } from "../matches/reconcile.ts";
import { byCodeUnits } from "../order.ts";
import type { Links } from "../people/links.ts";
import { settleLinks } from "../people/links.ts";
import type { MatchFacts } from "../state.ts";
import { GAME } from "./counted.ts";

/** What may have changed. `people`, `rules` and `policy` reach everything and are rare. */
export interface Dirty {
  readonly matches: Set<MatchKey>;
  readonly players: Set<PlayerId>;
  readonly events: Set<EventId>;
  rules: boolean;
  people: boolean;
  links: boolean;
  policy: boolean;
  /** Records of players who came from other clubs. */
  records: boolean;
}

export const nothingDirty = (): Dirty => ({
  matches: new Set(),
  players: new Set(),
  events: new Set(),
  rules: false,
  people: false,
  links: false,
  policy: false,
  records: false,
});

type Reported = EntryOf<"match-reported">;

export class Books {
  readonly corrections: Corrections;
  readonly #standings: () => ReadonlyMap<KeyId, Standing>;
  readonly #book: BookId;
  readonly #find: (id: EntryId) => KnownEntry | undefined;
  /** All but reports. */
  readonly #byKind = new Map<Kind, KnownEntry[]>();
  readonly #rulingsFor = new Map<EntryId, EntryOf<"ruling-made">[]>();
  readonly #voidings = new Map<MatchKey, EntryOf<"ruling-made">[]>();
  readonly #setsOf = new Map<PlayerId, EntryOf<"handicap-set">[]>();
  readonly #signedOf = new Map<PlayerId, EntryOf<"card-signed">[]>();
  #links: Links = settleLinks([]);

  /** @param find a counting entry by its id, also one that is about to be noted */
  constructor(
    book: BookId,
    standings: () => ReadonlyMap<KeyId, Standing>,
    find: (id: EntryId) => KnownEntry | undefined,
  ) {
    this.#book = book;
    this.#standings = standings;
    this.#find = find;
    this.corrections = createCorrections(find, (by, target) => {
      // Whether a carried correction may be made was decided in its own book.
      if (by.book !== book || target.book !== book) return by.book === target.book;
      const all = standings();
      return mayCorrect(all.get(by.author), all.get(target.author), by.author === target.author);
    });
  }

  get links(): Links {
    return this.#links;
  }

  /** Takes one counting entry in. With no `dirty`, everything is about to be read again. */
  note(entry: KnownEntry, dirty: Dirty | null): void {
    if (entry.kind !== GAME) append(this.#byKind, entry.kind, entry);
    else if (dirty === null && moreOf(entry).replaces === undefined) return;
    if (entry.kind === "ruling-made") this.#fileRuling(entry);
    if (entry.kind === "handicap-set") append(this.#setsOf, entry.body.player, entry);
    if (entry.kind === "card-signed") append(this.#signedOf, entry.body.player, entry);
    const target = entry.kind === "match-reported" ? moreOf(entry).replaces : replacedBy(entry);
    const touched = this.corrections.add(entry, target);
    if (dirty !== null) for (const id of touched) this.#spoil(id, dirty);
  }

  /** Standing entries of a kind, in order of id. */
  standing<K extends Exclude<Kind, typeof GAME>>(kind: K): EntryOf<K>[] {
    const all = this.#byKind.get(kind) ?? [];
    return all.filter(({ id }) => this.corrections.stands(id)).sort(byId) as EntryOf<K>[];
  }

  /** Settles links anew; match identities and players follow. */
  relink(): void {
    this.#links = settleLinks(this.standing("player-linked").map(({ body }) => body));
    const voidings = [...this.#voidings.values()].flat();
    this.#voidings.clear();
    for (const ruling of voidings) this.#fileRuling(ruling);
  }

  entry(id: EntryId): KnownEntry | undefined {
    return this.#find(id);
  }

  factsOf(entry: Reported): MatchFacts {
    return factsOf(entry, this.#links.resolve);
  }

  /** The match that a report tells. */
  keyOf(entry: Reported): MatchKey {
    return keyOfReport(entry, this.#links.resolve);
  }

  /** @param reports of one match */
  accountsOf(reports: readonly Reported[]): Account[] {
    const accounts: Account[] = [];
    for (const entry of reports) {
      if (this.corrections.refused(entry.id)) continue;
      const { book: origin, author } = entry;
      const party = (origin === this.#book ? this.#standings().get(author)?.club : null) ?? author;
      accounts.push({ entry, origin, party, facts: this.factsOf(entry), stands: this.corrections.stands(entry.id) });
    }
    return accounts;
  }

  /** Most books have none. */
  get hasRulings(): boolean {
    return this.#rulingsFor.size + this.#voidings.size > 0;
  }

  rulingsOn(key: MatchKey, reports: readonly Reported[]): Ruling[] {
    if (!this.hasRulings) return [];
    const rulings = [...(this.#voidings.get(key) ?? [])];
    for (const { id } of reports) rulings.push(...(this.#rulingsFor.get(id) ?? []));
    return rulings.filter(({ id }) => this.corrections.stands(id)).map((entry) => ({ entry, origin: entry.book }));
  }

  setsOf(player: PlayerId): EntryOf<"handicap-set">[] {
    return this.#ofPerson(this.#setsOf, player);
  }

  signedOf(player: PlayerId): EntryOf<"card-signed">[] {
    return this.#ofPerson(this.#signedOf, player);
  }

  #ofPerson<E extends KnownEntry>(map: ReadonlyMap<PlayerId, readonly E[]>, player: PlayerId): E[] {
    const ids = [player, ...this.#links.othersOf(player)];
    return ids.flatMap((id) => map.get(id) ?? []).filter(({ id }) => this.corrections.stands(id));
  }

  #fileRuling(ruling: EntryOf<"ruling-made">): void {
    const { match, accepts } = ruling.body;
    if (accepts !== null) append(this.#rulingsFor, accepts, ruling);
    else append(this.#voidings, currentKey(match as MatchKey, this.#links.resolve), ruling);
  }

  #spoil(id: EntryId, dirty: Dirty): void {
    const entry = this.entry(id);
    if (entry === undefined) return;
    switch (entry.kind) {
      case "match-reported": {
        dirty.matches.add(this.keyOf(entry));
        return;
      }
      case "ruling-made": {
        const { match, accepts } = entry.body;
        const accepted = accepts === null ? undefined : this.entry(accepts);
        if (accepts === null) dirty.matches.add(currentKey(match as MatchKey, this.#links.resolve));
        else if (accepted?.kind === "match-reported") dirty.matches.add(this.keyOf(accepted));
        return;
      }
      case "handicap-set":
      case "card-signed":
        dirty.players.add(this.#links.resolve(entry.body.player));
        return;
      case "event-opened":
        dirty.events.add(entry.body.event);
        return;
      case "rules-adopted":
        dirty.rules = true;
        return;
      case "policy-set":
        dirty.policy = true;
        return;
      case "player-linked":
        dirty.links = true;
        return;
      case "record-part":
      case "record-taken":
        dirty.records = true;
        return;
      case "player-joined":
      case "player-left":
        dirty.people = true;
        dirty.players.add(this.#links.resolve(entry.body.player));
        return;
      default:
        // Fixtures and statements are read as they stand; the rest says who may write, which is judged before.
        return;
    }
  }
}

function append<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [value]);
  else list.push(value);
}

const byId = (a: KnownEntry, b: KnownEntry): number => byCodeUnits(a.id, b.id);
