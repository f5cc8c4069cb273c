/**
 * Counting entries sorted by what they are about, with their corrections applied when read. This is the fold's memory between
 * one entry and the next: `note` tells what an entry may have changed, so that only those cards and matches are made again.
 *
 * A ruling is found by the report it accepts, and only one that accepts none by the match it names: a match's identity follows the
 * links of its players, a report's id never changes.
 *
 * SPEC: MA, PE.
 */

import type { Standing } from "../authority/authority.ts";
import type { Corrections } from "../authority/corrections.ts";
import { createCorrections, mayCorrect } from "../authority/corrections.ts";
import type { BookId, EntryId, EventId, KeyId, MatchKey, PlayerId } from "../ids.ts";
import type { EntryOf, KnownEntry } from "../ledger/entry.ts";
import type { Kind } from "../ledger/kinds.ts";
import { currentKey, matchFacts, matchKey } from "../matches/identity.ts";
import type { Account, Ruling } from "../matches/reconcile.ts";
import { byCodeUnits } from "../order.ts";
import type { Links } from "../people/links.ts";
import { settleLinks } from "../people/links.ts";
import type { MatchFacts } from "../state.ts";
import type { Counted } from "./admission.ts";

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

interface Filed {
  readonly account: Omit<Account, "stands">;
  readonly key: MatchKey;
}

export class Books {
  readonly corrections: Corrections;
  readonly #standings: () => ReadonlyMap<KeyId, Standing>;
  readonly #book: BookId;
  readonly #byId = new Map<EntryId, Counted>();
  readonly #byKind = new Map<Kind, Map<EntryId, KnownEntry>>();
  readonly #filed = new Map<EntryId, Filed>();
  readonly #byMatch = new Map<MatchKey, Filed[]>();
  readonly #rulingsFor = new Map<EntryId, EntryOf<"ruling-made">[]>();
  readonly #voidings = new Map<MatchKey, EntryOf<"ruling-made">[]>();
  readonly #setsOf = new Map<PlayerId, EntryOf<"handicap-set">[]>();
  readonly #signedOf = new Map<PlayerId, EntryOf<"card-signed">[]>();
  #links: Links = settleLinks([]);

  constructor(book: BookId, standings: () => ReadonlyMap<KeyId, Standing>) {
    this.#book = book;
    this.#standings = standings;
    this.corrections = createCorrections((by, target) => {
      const [from, to] = [this.#byId.get(by.id)?.origin, this.#byId.get(target.id)?.origin];
      // Whether a carried correction may be made was decided in its own book.
      if (from !== book || to !== book) return from === to;
      const all = standings();
      return mayCorrect(all.get(by.author), all.get(target.author), by.author === target.author);
    });
  }

  get links(): Links {
    return this.#links;
  }

  /** Takes one counting entry in. With no `dirty`, everything is about to be read again and `relink` will file the matches. */
  note(counted: Counted, dirty: Dirty | null): void {
    const { entry, origin } = counted;
    this.#byId.set(entry.id, counted);
    const ofKind = this.#byKind.get(entry.kind) ?? new Map<EntryId, KnownEntry>();
    ofKind.set(entry.id, entry);
    this.#byKind.set(entry.kind, ofKind);
    if (entry.kind === "match-reported" && dirty !== null) this.#file(entry, origin);
    if (entry.kind === "ruling-made") this.#fileRuling(entry);
    if (entry.kind === "handicap-set") append(this.#setsOf, entry.body.player, entry);
    if (entry.kind === "card-signed") append(this.#signedOf, entry.body.player, entry);
    const touched = this.corrections.add(entry);
    if (dirty !== null) for (const id of touched) this.#spoil(id, dirty);
  }

  /** Standing entries of a kind, in order of id. */
  standing<K extends Kind>(kind: K): EntryOf<K>[] {
    const all = [...(this.#byKind.get(kind)?.values() ?? [])] as EntryOf<K>[];
    return all.filter(({ id }) => this.corrections.stands(id)).sort(byId);
  }

  /** Settles links anew; match identities and players follow. */
  relink(): void {
    this.#links = settleLinks(this.standing("player-linked").map(({ body }) => body));
    this.#byMatch.clear();
    for (const { id } of this.#byKind.get("match-reported")?.values() ?? []) {
      const { entry, origin } = this.#byId.get(id) as Counted & { entry: EntryOf<"match-reported"> };
      this.#file(entry, origin);
    }
    const voidings = [...this.#voidings.values()].flat();
    this.#voidings.clear();
    for (const ruling of voidings) this.#fileRuling(ruling);
  }

  matchKeys(): Iterable<MatchKey> {
    return this.#byMatch.keys();
  }

  keyOf(id: EntryId): MatchKey | undefined {
    return this.#filed.get(id)?.key;
  }

  entry(id: EntryId): KnownEntry | undefined {
    return this.#byId.get(id)?.entry;
  }

  factsOf(id: EntryId): MatchFacts | undefined {
    return this.#filed.get(id)?.account.facts;
  }

  accountsOf(key: MatchKey): Account[] {
    const accounts: Account[] = [];
    for (const { account } of this.#byMatch.get(key) ?? []) {
      const { id } = account.entry;
      if (!this.corrections.refused(id)) accounts.push({ ...account, stands: this.corrections.stands(id) });
    }
    return accounts;
  }

  rulingsOn(key: MatchKey): Ruling[] {
    // Most books have none, and are asked this for each match.
    if (this.#rulingsFor.size + this.#voidings.size === 0) return [];
    const rulings = [...(this.#voidings.get(key) ?? [])];
    for (const { account } of this.#byMatch.get(key) ?? []) {
      rulings.push(...(this.#rulingsFor.get(account.entry.id) ?? []));
    }
    return rulings
      .filter(({ id }) => this.corrections.stands(id))
      .map((entry) => ({ entry, origin: this.#byId.get(entry.id)?.origin ?? this.#book }));
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

  #file(entry: EntryOf<"match-reported">, origin: BookId): void {
    const key = matchKey(entry.body, this.#links.resolve);
    const facts = matchFacts(entry.body, this.#links.resolve);
    const party = (origin === this.#book ? this.#standings().get(entry.author)?.club : null) ?? entry.author;
    const filed: Filed = { account: { entry, origin, party, facts }, key };
    this.#filed.set(entry.id, filed);
    append(this.#byMatch, key, filed);
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
        const key = this.keyOf(id);
        if (key !== undefined) dirty.matches.add(key);
        return;
      }
      case "ruling-made": {
        const { match, accepts } = entry.body;
        const key = accepts === null ? currentKey(match as MatchKey, this.#links.resolve) : this.keyOf(accepts);
        if (key !== undefined) dirty.matches.add(key);
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
