/**
 * What a device holds of a book: entries whose signature it has checked, those whose key has not come yet, and where each lies in
 * the ledger document. All of it goes through `keep`, which is on the disk before it is in memory; so nobody can be shown an entry
 * that a crash would take away.
 */
import type { Entry, EntryId } from "@sward/core";
import { inSteps, neverBreathe } from "./breathing.ts";
import { KeptEntry } from "./kept-entry.ts";
import type { ClosedVolume, Place, UncheckedEntry, Vault, VaultRecord } from "./vault.ts";
import { isScattered, readingRecords, rewritten } from "./vault.ts";

/** Something is wrong with this device's own storage. */
export interface StorageTrouble {
  readonly during: "append" | "arrive" | "roster";
  readonly cause: string;
}

export interface Holdings {
  readonly entries: ReadonlyMap<EntryId, KeptEntry>;
  /** Entries that are not in the document yet. */
  readonly unplaced: ReadonlySet<EntryId>;
  /** Entries that came or were put elsewhere since this was last asked; null when they are too many to be named. For one who asks. */
  moved(): readonly EntryId[] | null;
  /** Entries after the first so many, in the order in which they came; at once, where these were there when it was opened. */
  since(many: number): readonly KeptEntry[];
  /** Entries that lie under this Yjs client id. */
  under(client: number): EntryId[];
  unchecked(): readonly UncheckedEntry[];
  /** Where envelopes lie that no key here opens yet. */
  sealed(): readonly Place[];
  /** Volumes of the ledger that are closed. */
  closed(): readonly ClosedVolume[];
  /** Entries of this device's own may still lie at the relay. */
  unread(): boolean;
  /**
   * Holds all of a record once it is durable; false, and nothing changed, when the vault would not take it. `unchecked`, `sealed`,
   * `closed` and `unread`, where given, take the place of what there was.
   */
  keep(record: VaultRecord, during: StorageTrouble["during"]): Promise<boolean>;
  /** Where an entry lies now. Not durable: it shows again when the document is next read. */
  put(id: EntryId, place: Place): void;
  /** Whatever the ledger has by now is held as the ledger's own object. */
  share(find: (id: EntryId) => Entry | undefined): void;
  trouble(): StorageTrouble | null;
  inTrouble(trouble: StorageTrouble): void;
}

/** Entries of a vault that was read, before others may have their turn. */
const LOOKED_AT_ONCE = 1_024;

/** A first join: who asks looks at all of them. */
const MOST_MOVED = 1_000;

/** @param loading what was asked of the vault before */
export async function openHoldings(
  vault: Vault,
  changed: () => void,
  breathe = neverBreathe,
  loading = vault.load(),
): Promise<Holdings> {
  const records = await loading;
  const contents = await inSteps(readingRecords(records), breathe);
  const entries = contents.entries;
  let { unchecked, sealed, closed, unread } = contents;
  const unplaced = new Set<EntryId>();
  /** Not shared with the ledger yet. What a vault gives as an entry is the object that the ledger takes. */
  let fresh: KeptEntry[] = [];
  let looked = 0;
  for (const entry of entries.values()) {
    if (!entry.isPlaced) unplaced.add(entry.id);
    if (entry.entry === null) fresh.push(entry);
    looked += 1;
    const breath = looked % LOOKED_AT_ONCE === 0 ? breathe() : null;
    if (breath !== null) await breath;
  }
  const opened = entries.size;
  /** Those that came after. */
  const later: EntryId[] = [];
  let moved: EntryId[] | null = [];
  let trouble: StorageTrouble | null = null;
  if (isScattered(records.length, entries.size)) await vault.replace(rewritten(contents));

  function move(id: EntryId): void {
    if (moved !== null && moved.push(id) > MOST_MOVED) moved = null;
  }

  function put(id: EntryId, place: Place): void {
    move(id);
    const entry = entries.get(id)?.at(place);
    if (entry !== undefined) {
      entries.set(id, entry);
      if (entry.entry === null) fresh.push(entry);
    }
    unplaced.delete(id);
  }

  function inTrouble(what: StorageTrouble): void {
    trouble = what;
    changed();
  }

  return {
    entries,
    unplaced,
    moved() {
      const since = moved;
      moved = [];
      return since;
    },
    since: (many) =>
      many < opened
        ? [...entries.values()].slice(many)
        : later.slice(many - opened).map((id) => entries.get(id) as KeptEntry),
    under: (client) => [...entries.values()].flatMap((one) => (one.isPlaced && one.client === client ? [one.id] : [])),
    unchecked: () => unchecked,
    sealed: () => sealed,
    closed: () => closed,
    unread: () => unread,
    async keep(record, during) {
      const { unchecked: waiting, placed = [] } = record;
      const news = record.entries.map(KeptEntry.ofText);
      const isNews = record.sealed !== undefined && record.sealed.length + sealed.length > 0;
      const isOther = record.closed !== undefined || (record.unread ?? unread) !== unread;
      if (isNews || isOther || news.length + (waiting?.length ?? 0) + placed.length > 0) {
        try {
          await vault.append({ ...record, entries: news });
        } catch (cause) {
          inTrouble({ during, cause: String(cause) });
          return false;
        }
        trouble = null;
      }
      for (const entry of news) {
        // The same entry may come twice at once, from the document and from elsewhere.
        if (entries.get(entry.id)?.isPlaced) continue;
        if (!entries.has(entry.id)) later.push(entry.id);
        entries.set(entry.id, entry);
        move(entry.id);
        fresh.push(entry);
        if (!entry.isPlaced) unplaced.add(entry.id);
        else unplaced.delete(entry.id);
      }
      for (const { id, place } of placed) put(id, place);
      if (waiting !== undefined) unchecked = waiting;
      sealed = record.sealed ?? sealed;
      closed = record.closed ?? closed;
      unread = record.unread ?? unread;
      return true;
    },
    put,
    share(find) {
      for (const entry of fresh) entry.share(find(entry.id));
      fresh = [];
    },
    trouble: () => trouble,
    inTrouble,
  };
}
