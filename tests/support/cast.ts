/**
 * A cast of characters for tests of core: clubs and leagues with their devices, writing real entries in real chains. Only the
 * signatures are invented, since core does not check them; keys are digests of names, so every id is the same in every run.
 *
 *     const { north } = clubs("north");
 *     const ada = north.member("ada", 7, { index: 1390 });
 *     north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
 *     north.card(ada).handicap;
 */
import type {
  Arrival,
  Bodies,
  BookId,
  BookState,
  Card,
  Day,
  Entry,
  EntryId,
  EventId,
  FixtureId,
  Game,
  KeyId,
  Kind,
  Ledger,
  LedgerDeps,
  Lineup,
  MatchReported,
  Payload,
  PlayerId,
  PublicKey,
  Role,
} from "@sward/core";
import { cardToSign, createLedger, decodeEntry, digestOf, keyIdOf, matchKey, signingInput } from "@sward/core";

/** Sixteen bytes of a digest, as ids made outside core are. */
const shortId = (what: string, name: string): string => `${digestOf(`${what} ${name}`).slice(0, 21)}A`;

export const player = (name: string): PlayerId => shortId("player", name) as PlayerId;
export const event = (name: string): EventId => shortId("event", name) as EventId;
export const fixture = (name: string): FixtureId => shortId("fixture", name) as FixtureId;

/** A signature of the right length over nothing. */
const FAKE_SIGNATURE = `${digestOf("signature")}${digestOf("signature")}`.slice(0, 86);

export interface Key {
  readonly name: string;
  readonly publicKey: PublicKey;
  readonly id: KeyId;
}

export function keyOf(name: string): Key {
  const publicKey = digestOf(`key ${name}`) as string as PublicKey;
  return { name, publicKey, id: keyIdOf(publicKey) };
}

/** An entry as it was written, with its text. */
export interface Written extends Arrival {
  readonly id: EntryId;
  readonly jws: string;
  readonly key: PublicKey;
}

/** Writes a payload of any shape and reads it back. */
export function write(key: Key, payload: Payload): Written {
  const jws = `${signingInput(key.id, payload)}.${FAKE_SIGNATURE}`;
  const decoded = decodeEntry(jws);
  if (!decoded.ok) throw new Error(`the cast wrote an entry that cannot be read: ${JSON.stringify(decoded.fault)}`);
  return { id: decoded.value.id, entry: decoded.value, jws, key: key.publicKey };
}

/** Sides are "ada 7" or "ada 7 + cat 4", scores "7-4 5-7", `t`, `a` or `w` after a score: on time, abandoned, walkover. */
export function played(
  date: Day,
  one: string,
  two: string,
  scores: string,
  more: Partial<MatchReported> = {},
): MatchReported {
  return {
    date,
    occasion: "club-competition",
    n: 1,
    play: "handicap",
    format: 13,
    sides: [sideOf(one), sideOf(two)],
    games: scores.split(" ").map(gameOf),
    ...more,
  };
}

function sideOf(text: string): Lineup[] {
  return text.split(" + ").map((who) => {
    const [name = "", off] = who.split(" ");
    return { player: player(name), off: Number(off) };
  });
}

const endings = { t: "time", a: "abandoned", w: "walkover" } as const;

function gameOf(text: string): Game {
  const [, a, b, ended] = /^(\d+)-(\d+)([taw]?)$/.exec(text) ?? [];
  const score: [number, number] = [Number(a), Number(b)];
  return ended ? { score, ended: endings[ended as keyof typeof endings] } : { score };
}

/** The identity of a match when nobody in it is linked. */
export const keyOfMatch = (match: MatchReported) => matchKey(match, (id) => id);

/** One device writing in one book. */
export class Pen {
  readonly book: Book;
  readonly key: Key;
  #next: { readonly seq: number; readonly prev: EntryId | null } = { seq: 0, prev: null };

  constructor(book: Book, key: Key) {
    this.book = book;
    this.key = key;
  }

  get id(): KeyId {
    return this.key.id;
  }

  /** The same key at the same place of its chain: a restored backup. What both write from here on is a fork. */
  twin(): Pen {
    const twin = new Pen(this.book, this.key);
    twin.#next = this.#next;
    return twin;
  }

  writes<K extends Kind>(kind: K, body: Bodies[K], carried?: Entry | null): Written {
    return this.writesRaw({ kind, body }, carried);
  }

  /** Any kind, any body, any version; `seq` and `prev` may be given to break the chain. */
  writesRaw(payload: Pick<Payload, "kind" | "body"> & Partial<Payload>, carried?: Entry | null): Written {
    const at = `2026-05-01T10:${String(this.#next.seq % 60).padStart(2, "0")}:00Z`;
    const bare = write(this.key, { v: 1, book: this.book.id, ...this.#next, at, ...payload });
    const written = carried === undefined ? bare : { ...bare, carried };
    this.#next = { seq: written.entry.seq + 1, prev: written.id };
    this.book.written.push(written);
    return written;
  }

  admits(name: string, role: Role): Pen {
    const key = keyOf(name);
    this.writes("device-admitted", { device: key.publicKey, role });
    return new Pen(this.book, key);
  }

  /** `last` null: nothing of the device counts. */
  bars(pen: Pen, last: Written | null): Written {
    const head = last === null ? null : { seq: last.entry.seq, id: last.id };
    return this.writes("device-barred", { device: pen.id, last: head });
  }

  adopts(rules: string, from: Day = "2016-01-01"): Written {
    return this.writes("rules-adopted", { rules, from });
  }

  joins(name: string, standing: "member" | "visitor" = "member", home?: { book: BookId } | { club: string }): Written {
    return this.writes("player-joined", { player: player(name), standing, ...(home === undefined ? {} : { home }) });
  }

  links(name: string, to: string): Written {
    return this.writes("player-linked", { player: player(name), to: player(to) });
  }

  opens(name: string, from: Day, to: Day, more: Partial<Bodies["event-opened"]> = {}): Written {
    return this.writes("event-opened", {
      event: event(name),
      title: name,
      occasion: "club-competition",
      from,
      to,
      ...more,
    });
  }

  reports(match: MatchReported, replaces?: Written): Written {
    return this.writes("match-reported", replaces === undefined ? match : { ...match, replaces: replaces.id });
  }

  sets(name: string, handicap: number, from: Day, more: Partial<Bodies["handicap-set"]> = {}): Written {
    return this.writes("handicap-set", {
      player: player(name),
      handicap,
      from,
      basis: "discretionary",
      reason: "watched in play",
      ...more,
    });
  }

  withdraws(written: Written): Written {
    return this.writes("entry-withdrawn", { withdraws: written.id, reason: "a slip" });
  }

  rules(match: string, accepts: Written | null): Written {
    return this.writes("ruling-made", { match, accepts: accepts?.id ?? null, reason: "settled by the committee" });
  }

  /** Signs the card as the whole book has it now. */
  signs(name: string, upto: Day, more: Partial<Bodies["card-signed"]> = {}): Written {
    const said = cardToSign(this.book.card(player(name)), upto);
    if (said === null) throw new Error(`${name} has no line to sign by ${upto}`);
    return this.writes("card-signed", { player: player(name), ...said, ...more });
  }

  /** Carries an entry of another book, or adopts one of this. */
  carries(what: Written, more: { readonly key?: PublicKey; readonly from?: BookId; readonly verified?: boolean } = {}) {
    const { key = what.key, from = what.entry.book, verified = true } = more;
    return this.writes("entry-carried", { from, key, entry: what.jws }, verified ? what.entry : null);
  }
}

export class Book {
  readonly name: string;
  readonly id: BookId;
  readonly written: Written[] = [];
  readonly root: Pen;
  readonly #deps: LedgerDeps | undefined;

  constructor(name: string, as: "club" | "league", deps?: LedgerDeps) {
    const root = keyOf(`root of ${name}`);
    this.name = name;
    this.#deps = deps;
    this.id = root.id as string as BookId;
    this.root = new Pen(this, root);
    this.root.writes("book-opened", { root: root.publicKey, as, name });
  }

  /** Everything written so far, read from nothing. */
  ledger(arrivals: readonly Arrival[] = this.written): Ledger {
    const ledger = this.empty();
    ledger.add(arrivals);
    return ledger;
  }

  empty(): Ledger {
    return this.#deps === undefined ? createLedger(this.id) : createLedger(this.id, this.#deps);
  }

  state(): BookState {
    return this.ledger().state();
  }

  card(id: PlayerId): Card {
    const card = this.state().cards.get(id);
    if (card === undefined) throw new Error("there is no such card");
    return card;
  }
}

export class Club extends Book {
  readonly handicapper: Pen;
  readonly recorder: Pen;
  readonly reader: Pen;

  constructor(name: string, rules = "england-2016", deps?: LedgerDeps) {
    super(name, "club", deps);
    this.handicapper = this.root.admits(`handicapper of ${name}`, "handicapper");
    this.recorder = this.handicapper.admits(`recorder of ${name}`, "recorder");
    this.reader = this.handicapper.admits(`reader of ${name}`, "reader");
    this.root.adopts(rules);
  }

  /** A member with a first handicap, from before any game of a test unless said. */
  member(name: string, handicap: number, more: { readonly index?: number; readonly from?: Day } = {}): PlayerId {
    const { index, from = "2026-01-01" } = more;
    this.handicapper.joins(name);
    const given = index === undefined ? {} : { index };
    this.handicapper.sets(name, handicap, from, { basis: "initial", reason: "first handicap", ...given });
    return player(name);
  }
}

/** One club each, England's rules since 2016, with a handicapper, a recorder and a reader. */
export function clubs<N extends string>(...names: readonly N[]): Readonly<Record<N, Club>> {
  return Object.fromEntries(names.map((name) => [name, new Club(name)])) as Record<N, Club>;
}

/** A league of clubs: its root has admitted each club's root, which has admitted a captain's device. */
export function league<N extends string>(
  name: string,
  members: Readonly<Record<N, Club>>,
): { readonly league: Book; readonly captains: Readonly<Record<N, Pen>>; readonly roots: Readonly<Record<N, Pen>> } {
  const book = new Book(name, "league");
  const roots: Partial<Record<N, Pen>> = {};
  const captains: Partial<Record<N, Pen>> = {};
  for (const club of Object.keys(members) as N[]) {
    const root = new Pen(book, members[club].root.key);
    book.root.writes("club-admitted", { club: root.key.publicKey, name: club });
    roots[club] = root;
    captains[club] = root.admits(`captain of ${club}`, "handicapper");
  }
  return { league: book, captains: captains as Record<N, Pen>, roots: roots as Record<N, Pen> };
}
