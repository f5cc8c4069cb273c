/**
 * From entries as they arrive to entries that count. Each new one is judged against standings that are settled already, which
 * is all a saved match needs; an entry that changes who may write (an admission, a bar) or that breaks a chain makes everything
 * be judged anew. Both ways give the same answer for the same set of entries, and a test holds them to it.
 *
 * Carried entries come out as what they carry. An inner entry counts while any counting, unwithdrawn copy of it does, once. One of
 * this very book, which its author's chain does not let count, is adopted that way by whoever may correct that author.
 *
 * That an entry counts is not written down: it does when its chain is sound up to it and it was not passed over, which few are.
 *
 * SPEC: AU, LE.
 */
import type { Authority } from "../authority/authority.ts";
import { decidesAuthority, isOfficer, judgeEntry, settleAuthority } from "../authority/authority.ts";
import { mayCorrect } from "../authority/corrections.ts";
import type { BookId, EntryId, KeyId } from "../ids.ts";
import type { Chain, Completeness } from "../ledger/chain.ts";
import { createChain, extendChain, soundAt } from "../ledger/chain.ts";
import { keyIdOf } from "../ledger/encoding.ts";
import type { Entry, EntryOf, KnownEntry } from "../ledger/entry.ts";
import type { Kind } from "../ledger/kinds.ts";
import { canBe } from "../matches/kept-report.ts";
import type { Uncounted } from "../state.ts";
import type { CountedEntries } from "./counted.ts";
import { countedEntries, GAME } from "./counted.ts";
import type { Arrival, Held } from "./held.ts";
import { createHeld } from "./held.ts";
import type { Steps } from "./steps.ts";
import { atOnce } from "./steps.ts";

/** A few milliseconds on the slowest phone. */
const ENTRIES_A_STEP = 16;

const decisions: ReadonlySet<string> = new Set<Kind>(["ruling-made", "entry-withdrawn"]);

/** Kinds that keep their meaning in another book. */
const carriable: ReadonlySet<string> = new Set<Kind>([
  "match-reported",
  "event-opened",
  "ruling-made",
  "entry-withdrawn",
]);

/** `all` when everything must be read again from `counted`, else only `fresh` is new. */
export interface Admitted {
  readonly all: boolean;
  readonly fresh: readonly KnownEntry[];
}

export interface Admission {
  /** Takes new arrivals in. */
  take(arrivals: readonly Arrival[]): Admitted;
  /** The same in steps; nothing else may be asked before the last one. */
  taking(arrivals: readonly Arrival[]): Steps<Admitted>;
  /** Every counting entry, carried ones opened. */
  counted(): CountedEntries;
  /** The same without the book, which each of them says itself. */
  counting(): Iterable<KnownEntry>;
  /** One of them. */
  find(id: EntryId): KnownEntry | undefined;
  readonly authority: () => Authority;
  readonly chains: ReadonlyMap<KeyId, Chain>;
  /** Every entry that arrived, whether it counts or not. */
  readonly entries: Held["entries"];
  readonly carriers: Held["carriers"];
  readonly small: Held["small"];
  /** How many entries of the author's chain count, refused corrections among them. */
  countedBy(author: KeyId): number;
  /** Why the entries that do not count do not; refused corrections are not among them. */
  uncounted(): Map<EntryId, Uncounted>;
  /** Withdrawals of carried copies that their authors may not make. Of other corrections `books` knows. */
  refusals(): EntryId[];
}

function holdsAll({ body }: EntryOf<"record-part">, parts: readonly (Arrival | null)[]): boolean {
  const keys = new Set(body.keys.map(keyIdOf));
  const isGood = (part: Arrival | null) => part?.entry.book === body.from && keys.has(part.entry.author);
  return parts.length === body.entries.length && parts.every(isGood);
}

export function createAdmission(book: BookId, kept: Completeness = "whole"): Admission {
  const held = createHeld();
  const { entries, carriers } = held;
  const chains = new Map<KeyId, Chain>();
  let authority = settleAuthority(book, chains);
  /** Sound entries of chains that do not count. */
  let passedOver = new Set<EntryId>();
  /** Carried entries that count, but for those that do so by themselves. */
  let adopted = new Map<EntryId, KnownEntry>();
  const countedBy = new Map<KeyId, number>();
  /** Counting withdrawals by what they take back. */
  let withdrawals = new Map<EntryId, KnownEntry[]>();
  /** Entries that count by themselves and are no games. */
  let beside: KnownEntry[] = [];

  function* taking(incoming: readonly Arrival[]): Steps<Admitted> {
    let all = false;
    const grown = new Map<Chain, number>();
    for (const arrival of incoming) {
      const { id, author } = arrival.entry;
      if (entries.has(id)) continue;
      if (entries.size % ENTRIES_A_STEP === 0) yield;
      const entry = held.keep(arrival);
      if (entry.book !== book) continue;
      const chain = chains.get(author) ?? createChain(author, kept);
      if (chain.top === -1) chains.set(author, chain);
      if (!grown.has(chain)) grown.set(chain, chain.sound.length);
      if (!extendChain(chain, entry)) all = true;
    }
    const fresh: KnownEntry[] = [];
    const copies: Entry[] = [];
    for (const [chain, from] of grown) {
      for (let place = from; place < chain.sound.length && !all; place++) {
        const entry = chain.sound[place];
        if (entry === undefined) break;
        if (place % ENTRIES_A_STEP === 0) yield;
        all = changesOthers(entry);
        if (all) break;
        if (entry.kind === "entry-carried") copies.push(entry);
        else count(entry, fresh);
      }
    }
    if (all) yield* recount();
    else for (const copy of copies) count(copy, fresh);
    return { all, fresh: all ? [] : fresh };
  }

  function* recount(): Steps<void> {
    yield;
    authority = settleAuthority(book, chains);
    yield;
    passedOver = new Set();
    adopted = new Map();
    countedBy.clear();
    withdrawals = new Map();
    beside = [];
    const copies: Entry[] = [];
    for (const chain of chains.values()) {
      for (const entry of chain.sound) {
        if (entry.kind === "entry-carried") copies.push(entry);
        else count(entry, null);
        if (entry.seq % ENTRIES_A_STEP === 0) yield;
      }
    }
    for (const [at, copy] of copies.entries()) {
      count(copy, null);
      if (at % ENTRIES_A_STEP === 0) yield;
    }
  }

  function* counting(): Generator<KnownEntry> {
    for (const { sound } of chains.values()) for (const entry of sound) if (isCounting(entry)) yield entry;
    yield* adopted.values();
  }

  function* besideGames(): Generator<KnownEntry> {
    yield* beside;
    yield* adopted.values();
  }

  function find(id: EntryId): KnownEntry | undefined {
    const entry = entries.get(id);
    if (entry === undefined) return adopted.get(id);
    const chain = chains.get(entry.author);
    const isSound = chain !== undefined && soundAt(chain, entry.seq) === entry;
    return isSound && isCounting(entry) ? entry : adopted.get(id);
  }

  /** Whether a sound entry counts by itself: a copy does in the shape of what it carries. */
  const isCounting = (entry: Entry): entry is KnownEntry =>
    entry.understood && entry.kind !== "entry-carried" && !(passedOver.size > 0 && passedOver.has(entry.id));

  function changesOthers(entry: Entry): boolean {
    const standing = authority.standings.get(entry.author);
    // Somebody not admitted changes nobody; only the root can change that before the book is opened.
    if (standing === undefined) return authority.as === null && entry.author === (book as string);
    // The entry a bar named, or another in its place: only now is it known how far the chain counts.
    if (entry.seq + 1 === standing.cut) return true;
    if (!entry.understood || entry.seq >= standing.cut) return false;
    // A carried copy that is withdrawn takes its inner entry out of everything that was built on it.
    return (
      decidesAuthority.has(entry.kind) || (entry.kind === "entry-withdrawn" && copyOf(entry.body.withdraws) !== null)
    );
  }

  function copyOf(id: EntryId): EntryOf<"entry-carried"> | null {
    const copy = entries.get(id);
    return copy?.understood === true && copy.kind === "entry-carried" ? copy : null;
  }

  /** @param fresh where those go that are new, if somebody asks */
  function count(entry: Entry, fresh: KnownEntry[] | null): void {
    if (reasonAgainst(entry) !== null) {
      passedOver.add(entry.id);
      return;
    }
    countedBy.set(entry.author, (countedBy.get(entry.author) ?? 0) + 1);
    const known = entry as KnownEntry;
    if (known.kind === "entry-carried") {
      const inner = opened(known);
      if (inner === null || find(inner.id) !== undefined) return;
      adopted.set(inner.id, inner);
      fresh?.push(inner);
      return;
    }
    // It may have been carried here before its chain let it count.
    if (adopted.size === 0 || !adopted.delete(known.id)) fresh?.push(known);
    if (known.kind !== GAME) beside.push(known);
    if (known.kind !== "entry-withdrawn") return;
    const { withdraws } = known.body;
    withdrawals.set(withdraws, [...(withdrawals.get(withdraws) ?? []), known]);
  }

  function opened(copy: EntryOf<"entry-carried">): KnownEntry | null {
    const inner = carriers.get(copy.id)?.carried;
    return inner?.understood === true && !isTakenBack(copy) ? inner : null;
  }

  const isTakenBack = (copy: KnownEntry): boolean =>
    (withdrawals.get(copy.id) ?? []).some((by) => mayTakeBack(by, copy));

  const mayTakeBack = (by: KnownEntry, of: KnownEntry): boolean =>
    mayCorrect(authority.standings.get(by.author), authority.standings.get(of.author), by.author === of.author);

  function reasonAgainst(entry: Entry): Uncounted | null {
    if (!entry.understood) return "not-understood";
    const verdict = judgeEntry(entry, authority);
    if (verdict !== "yes") return verdict;
    if (entry.kind === "match-reported" && !canBe(entry)) return "cannot-be";
    if (entry.kind === "entry-carried") return reasonAgainstCopy(entry);
    if (entry.kind === "record-part" || entry.kind === "record-taken") return reasonAgainstRecord(entry);
    return null;
  }

  function reasonAgainstRecord(entry: EntryOf<"record-part"> | EntryOf<"record-taken">): Uncounted | null {
    const { parts = [], vouched = false } = carriers.get(entry.id) ?? {};
    const isFaithful = entry.body.from !== book && (entry.kind === "record-taken" ? vouched : holdsAll(entry, parts));
    return isFaithful ? null : "carried-copy-invalid";
  }

  function reasonAgainstCopy({ id, author, body }: EntryOf<"entry-carried">): Uncounted | null {
    const inner = carriers.get(id)?.carried;
    const isFaithful =
      inner?.understood === true &&
      inner.book === body.from &&
      inner.author === keyIdOf(body.key) &&
      carriable.has(inner.kind) &&
      (inner.kind !== "match-reported" || canBe(inner));
    if (!isFaithful) return "carried-copy-invalid";
    const { standings } = authority;
    if (inner.book !== book) {
      if (authority.as === "league") return "not-this-kind-of-book";
      // What decides over others' reports is vouched for by an officer: nobody here can see whether it was allowed over there.
      const office = standings.get(author)?.office;
      return decisions.has(inner.kind) && (office === undefined || !isOfficer(office)) ? "role-may-not" : null;
    }
    return mayCorrect(standings.get(author), standings.get(inner.author), false) ? null : "role-may-not";
  }

  function uncounted(): Map<EntryId, Uncounted> {
    const reasons = new Map<EntryId, Uncounted>();
    for (const entry of entries.values()) {
      const chain = chains.get(entry.author);
      if (entry.book !== book || chain === undefined) reasons.set(entry.id, "wrong-book");
      else if (soundAt(chain, entry.seq)?.id !== entry.id) {
        const forked = chain.forkedAt !== null && entry.seq >= chain.forkedAt;
        reasons.set(entry.id, forked ? "forked" : "waiting-for-earlier");
      } else {
        const reason = reasonAgainst(entry);
        if (reason !== null) reasons.set(entry.id, reason);
      }
    }
    return reasons;
  }

  function refusals(): EntryId[] {
    const refused = [...withdrawals].flatMap(([id, all]) => {
      const copy = copyOf(id);
      return copy === null ? [] : all.filter((by) => !mayTakeBack(by, copy));
    });
    return refused.map(({ id }) => id);
  }

  return {
    take: (incoming) => atOnce(taking(incoming)),
    taking,
    counted: () => countedEntries(counting, besideGames),
    counting,
    find,
    authority: () => authority,
    chains,
    entries,
    carriers,
    small: held.small,
    countedBy: (author) => countedBy.get(author) ?? 0,
    uncounted,
    refusals,
  };
}
