/**
 * The vault is the record: a device's own durable store of the entries it has checked. The Yjs document is only how they travel,
 * and can be thrown away and filled again from here. An entry is in the vault before the screen says "saved" and before it is
 * pushed.
 *
 * What is kept comes back as the signed text (`vault-record.ts` says in which form), whether this version understood it, and where its envelope lies in the ledger document, so
 * that on the next start only envelopes not seen before are opened and only entries not in the document are pushed. Records
 * are appended and, when they have become many, rewritten as a few large ones: ten thousand small IndexedDB records take over
 * a second to read.
 *
 * Rejected: keeping the document as the record (one bad update, or a store the browser closed, and entries are gone).
 */
import type { EntryId, PublicKey, Steps } from "@sward/core";
import { atOnce } from "@sward/core";
import { KeptEntry } from "./kept-entry.ts";

/** The place of an envelope in the ledger: Yjs client id and clock in the document of a volume (`closing.ts`), 0 where none is named. */
export interface Place {
  readonly client: number;
  readonly clock: number;
  readonly volume?: number;
}

/** A volume of the ledger in which nothing more is to be written, since it goes on in the next. */
export interface ClosedVolume {
  readonly volume: number;
  /** The season, a calendar year, in which the next volume began. */
  readonly next: number;
  /** Where one of the envelopes lies that say so. */
  readonly place: Place;
  /** All of our own chain was here when it was found to be closed, or the ledger has been read to its end since. */
  readonly whole: boolean;
  /** Stores of relays that were seen to have all of it, the last ones met. */
  readonly stores: readonly string[];
}

/** An entry whose signature was checked on this device. */
export interface HeldEntry {
  readonly id: EntryId;
  readonly jws: string;
  readonly understood: boolean;
  /** Null until its envelope is in the document. */
  readonly place: Place | null;
}

/** Came in an envelope of ours, but the key that would check it is not known yet. */
export interface UncheckedEntry {
  readonly jws: string;
  readonly place: Place;
}

/** One durable write: everything in it or nothing. */
export interface VaultRecord {
  readonly entries: readonly HeldEntry[];
  readonly unchecked?: readonly UncheckedEntry[];
  /** Entries held already whose place became known. */
  readonly placed?: readonly { readonly id: EntryId; readonly place: Place }[];
  /** All envelopes of the document that are sealed for an epoch whose key is not here yet; where given, in place of those before. */
  readonly sealed?: readonly Place[];
  /** All volumes that are known to be closed, the first one first; where given, in place of those before. */
  readonly closed?: readonly ClosedVolume[];
  /**
   * The record has begun to be read, and not all of what the relay has: entries of this device's own may lie there, and it must not go on
   * with its chain. Where given, in place of what was said before; false where nothing was, as in a vault older than this word.
   */
  readonly unread?: boolean;
  readonly lodging?: Lodging;
}

/** The room whose documents every `place` is of, and the secrets this device was given since it got its pass. */
export interface Lodging {
  readonly room: PublicKey;
  readonly epochs: readonly { readonly epoch: number; readonly secret: string }[];
}

/** What this device last knew of the roster: by subject, its envelope. */
export type RosterCopy = ReadonlyMap<string, Uint8Array>;

export interface Vault {
  /** Every record, oldest first. */
  load(): Promise<readonly VaultRecord[]>;
  /** Resolves when the record is on the disk; rejects when it may not be, and then the vault must be opened anew. */
  append(record: VaultRecord): Promise<void>;
  /** Puts fewer, larger records in place of all there are, at once or not at all. */
  replace(records: readonly VaultRecord[]): Promise<void>;
  loadRoster(): Promise<RosterCopy>;
  /**
   * Keeps these values, and keeps those of the subjects in `gone` no longer: at once or not at all, durable when it resolves. Of what
   * is gone no byte stays in the store's files, as far as the platform lets us see to it.
   */
  saveRoster(changes: RosterCopy, gone?: readonly string[]): Promise<void>;
  close(): Promise<void>;
}

/** Entries in one record after a rewrite: some 100 kB, which a browser hands over in a few milliseconds. */
const ENTRIES_PER_RECORD = 500;

/** Small records that are too few to be worth it, whatever the book. */
const FEW_RECORDS = 200;

/**
 * Whether opening should write the contents anew: when what was appended since has become as many records as half of those that a
 * rewrite makes. So a book of a million is not written again for every two hundred games, nor a large one at every start.
 */
export const isScattered = (records: number, entries: number): boolean =>
  records > FEW_RECORDS + (1.5 * entries) / ENTRIES_PER_RECORD;

export interface VaultContents {
  readonly entries: Map<EntryId, KeptEntry>;
  readonly unchecked: readonly UncheckedEntry[];
  readonly sealed: readonly Place[];
  readonly closed: readonly ClosedVolume[];
  readonly unread: boolean;
  /** Null: the room of the first epoch, and nothing but the pass. */
  readonly lodging: Lodging | null;
}

/** @param records oldest first */
export const readRecords = (records: readonly VaultRecord[]): VaultContents => atOnce(readingRecords(records));

export function* readingRecords(records: readonly VaultRecord[]): Steps<VaultContents> {
  const entries = new Map<EntryId, KeptEntry>();
  const unchecked = new Map<string, UncheckedEntry>();
  let sealed: readonly Place[] = [];
  let closed: readonly ClosedVolume[] = [];
  let unread = false;
  let lodging: Lodging | null = null;
  for (const record of records) {
    yield;
    for (const entry of record.entries) {
      entries.set(entry.id, KeptEntry.ofText(entry));
      if (unchecked.size > 0) unchecked.delete(entry.jws);
    }
    for (const entry of record.unchecked ?? []) unchecked.set(entry.jws, entry);
    for (const { id, place } of record.placed ?? []) {
      const held = entries.get(id);
      if (held !== undefined) entries.set(id, held.at(place));
    }
    sealed = record.sealed ?? sealed;
    closed = record.closed ?? closed;
    unread = record.unread ?? unread;
    lodging = record.lodging ?? lodging;
  }
  return { entries, unchecked: [...unchecked.values()], sealed, closed, unread, lodging };
}

/** The same contents in few large records. */
export function rewritten({ entries, unchecked, sealed, closed, unread, lodging }: VaultContents): VaultRecord[] {
  const all = [...entries.values()];
  const records: VaultRecord[] = [];
  for (let from = 0; from < all.length; from += ENTRIES_PER_RECORD) {
    records.push({ entries: all.slice(from, from + ENTRIES_PER_RECORD) });
  }
  if (unchecked.length + sealed.length + closed.length > 0) records.push({ entries: [], unchecked, sealed, closed });
  if (unread) records.push({ entries: [], unread });
  if (lodging !== null) records.push({ entries: [], lodging });
  return records;
}
