/**
 * A vault's record as one text, which a store reads in one go: JSON in which the payloads of entries lie as they are, not as base64 of
 * their text, so that reading a record back is one call of the platform's parser and gives the entries themselves. Half the time
 * to start a book of 10,000 went into taking each text apart; and a browser copies one string many times faster than a
 * thousand small objects.
 *
 *     { v: 2, authors: [kid, …], entries: [[id, author, payload, signature, client, clock, volume], …], placed: …, … }
 *     { v: 3, authors: [kid, …], entries: [[id, author, …], 412, [id, author, …], 88], reports: { … }, placed: …, … }
 *
 * Of a record of many entries the reports lie in columns (`report-columns.ts`), and the list of entries says how many of them come next.
 *
 * A text that would not come back to the byte (one that is not understood, or damaged) stays whole. Of an entry that was read (a
 * `KeptEntry`) the text is made anew whenever it is wanted, so its payload is written from the entry: to take each text of an arrival
 * apart and make it again was a third of what a page did in a first join. Records as they were first written, with all their texts, are
 * still read.
 */
import type { EntryId, KeyId, KnownEntry, Payload, Steps } from "@sward/core";
import { atOnce, createSharing, keepReport } from "@sward/core";
import { base64url } from "jose";
import { KeptEntry, payloadOf, SIGNATURE_LENGTH } from "./kept-entry.ts";
import type { ReadEntry, ReportColumns } from "./report-columns.ts";
import { createColumnWriter, readColumns } from "./report-columns.ts";
import type { HeldEntry, Place, VaultRecord } from "./vault.ts";

/** Id, place in `authors`, payload, signature, and where the envelope lies: client and clock, or null twice; the volume, where not 0. */
type Row = readonly [HeldEntry["id"], number, Payload, string, number | null, number | null, ...volume: number[]];

/** A number: so many reports come next. */
type Item = Row | HeldEntry | number;

interface Written extends Omit<VaultRecord, "entries"> {
  readonly v: 2 | 3;
  readonly authors: readonly KeyId[];
  readonly entries: readonly Item[];
  readonly reports?: ReportColumns;
}

/** Of fewer entries tables are larger than what they save, and who saves a match would wait for them. */
const FEW_ENTRIES = 16;

export function encodeRecord({ entries, ...rest }: VaultRecord): string {
  const authors: KeyId[] = [];
  const items: Item[] = [];
  const writer = entries.length < FEW_ENTRIES ? null : createColumnWriter();
  for (const one of entries) {
    const read = readOf(one);
    if (read === null) items.push(one);
    else if (writer?.take(read) === true) {
      const run = items.at(-1);
      if (typeof run === "number") items[items.length - 1] = run + 1;
      else items.push(1);
    } else items.push(rowOf(read, authors));
  }
  const reports = writer?.columns() ?? null;
  const written: Written =
    reports === null ? { v: 2, authors, entries: items, ...rest } : { v: 3, authors, entries: items, reports, ...rest };
  return JSON.stringify(written);
}

/**
 * So many are made of what a parser gave before others may have their turn. The first of all, with code that has not run before, take a
 * phone a millisecond each.
 */
const ENTRIES_A_STEP = 8;
/** The same of those that lie in columns. */
const REPORTS_A_STEP = 32;

/**
 * Reads records one after another, each in steps. Reports come in the form in which the ledger holds them, so that what a parser makes
 * of a text is rubbish a moment later and not carried along until the whole vault is read.
 *
 * @returns reads the text of a record, or one in the first form
 */
export function createRecordReader(): (stored: string | VaultRecord) => Steps<VaultRecord> {
  const sharing = createSharing();
  /** Of each author, the last entry read in a row: mostly the one that the next names. */
  const last = new Map<KeyId, EntryId>();

  /** @param sheet signatures of the record, one after another, of which this entry's begins at `at` */
  function keptOf(row: Row, authors: readonly KeyId[], sheet: string, at: number): KeptEntry {
    const entry = entryOf(row, authors);
    const before = last.get(entry.author);
    last.set(entry.author, entry.id);
    const small =
      entry.kind === "match-reported" ? keepReport(entry, before === entry.prev ? before : entry.prev, sharing) : entry;
    const [place, isUsual] = [placeOf(row), row[3].length === SIGNATURE_LENGTH];
    return isUsual ? KeptEntry.ofEntry(small, sheet, place, at) : KeptEntry.ofEntry(small, row[3], place);
  }

  return function* (stored) {
    const record = (typeof stored === "string" ? JSON.parse(stored) : stored) as Written | VaultRecord;
    yield;
    if (!("v" in record)) return { ...record, entries: record.entries.map(KeptEntry.ofText) };
    const { v, authors, entries, reports, ...rest } = record;
    if (v !== 2 && v !== 3) throw new RangeError(`a record of the form ${v}, which this version does not know`);
    const kept: KeptEntry[] = [];
    const sheet = entries.map((one) => (isRow(one) ? one[3] : "")).join("");
    const columns = reports === undefined ? null : readColumns(reports, sharing);
    const counted = entries.reduce<number>((sum, one) => (typeof one === "number" ? sum + one : sum), 0);
    if (counted !== (columns?.count ?? 0)) throw new RangeError("a record does not have the reports that it counts");
    let at = 0;
    for (const one of entries) {
      if (typeof one === "number") {
        for (let left = one; left > 0 && columns !== null; left -= 1) {
          kept.push(columns.next());
          if (kept.length % REPORTS_A_STEP === 0) yield;
        }
      } else if (!isRow(one)) kept.push(KeptEntry.ofText(one));
      else {
        const entry = keptOf(one, authors, sheet, at);
        kept.push(entry);
        columns?.passed(authors[one[1]] as KeyId, entry.id);
        at += one[3].length;
      }
      if (kept.length % ENTRIES_A_STEP === 0) yield;
    }
    return { ...rest, entries: kept };
  };
}

export const decodeRecord = (stored: string | VaultRecord): VaultRecord => atOnce(createRecordReader()(stored));

function entryOf([id, by, payload]: Row, authors: readonly KeyId[]): KnownEntry {
  const { book, seq, prev, at, kind, body } = payload;
  return { id, author: authors[by], book, seq, prev, at, understood: true, kind, body } as unknown as KnownEntry;
}

function placeOf([, , , , client, clock, volume = 0]: Row): Place | null {
  if (client === null || clock === null) return null;
  return volume === 0 ? { client, clock } : { client, clock, volume };
}

const isRow = (item: Item): item is Row => Array.isArray(item);

/** Null where the text would not come back as it is. */
function readOf(held: HeldEntry): ReadEntry | null {
  if (!held.understood) return null;
  if (held instanceof KeptEntry && held.entry !== null) {
    const { entry, signature, place } = held;
    return { entry, signature, place };
  }
  const { id, jws, place } = held;
  try {
    const [header = "", payload = "", signature = ""] = jws.split(".");
    const said = JSON.parse(decoder.decode(base64url.decode(payload))) as Payload;
    const { kid } = JSON.parse(decoder.decode(base64url.decode(header))) as { kid: KeyId };
    const entry = entryOf([id, 0, said, signature, null, null], [kid]);
    return KeptEntry.ofEntry(entry, signature, null).jws === jws ? { entry, signature, place } : null;
  } catch {
    return null;
  }
}

const rowOf = ({ entry, signature, place }: ReadEntry, authors: KeyId[]): Row => [
  entry.id,
  placeIn(authors, entry.author),
  payloadOf(entry),
  signature,
  ...whereOf(place),
];

function whereOf(place: Place | null): readonly [number | null, number | null, ...volume: number[]] {
  const { client = null, clock = null, volume = 0 } = place ?? {};
  return [client, clock, ...(volume === 0 ? [] : [volume])];
}

const decoder = new TextDecoder();

function placeIn(authors: KeyId[], author: KeyId): number {
  const place = authors.indexOf(author);
  return place === -1 ? authors.push(author) - 1 : place;
}
