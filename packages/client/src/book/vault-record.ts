/**
 * A vault's record as one text, which a store reads in one go: JSON in which the payloads of entries lie as they are, not as base64 of
 * their text, so that reading a record back is one call of the platform's parser and gives the entries themselves. Half the time
 * to start a book of 10,000 went into taking each text apart; and a browser copies one string many times faster than a
 * thousand small objects.
 *
 *     { v: 2, authors: [kid, …], entries: [[id, author, payload, signature, client, clock, volume], …], placed: …, … }
 *
 * A text that would not come back to the byte (one that is not understood, or damaged) stays whole. Of an entry that was read (a
 * `KeptEntry`) the text is made anew whenever it is wanted, so its payload is written as it is: to take each text of an arrival apart
 * and make it again was a third of what a page did in a first join. Records as they were first written, with all their texts, are
 * still read.
 */
import type { EntryId, KeyId, KnownEntry, Payload, Steps } from "@sward/core";
import { atOnce, createSharing, keepReport } from "@sward/core";
import { base64url } from "jose";
import { KeptEntry, payloadOf, SIGNATURE_LENGTH } from "./kept-entry.ts";
import type { HeldEntry, Place, VaultRecord } from "./vault.ts";

/** Id, place in `authors`, payload, signature, and where the envelope lies: client and clock, or null twice; the volume, where not 0. */
type Row = readonly [HeldEntry["id"], number, Payload, string, number | null, number | null, ...volume: number[]];

interface Written extends Omit<VaultRecord, "entries"> {
  readonly v: 2;
  readonly authors: readonly KeyId[];
  readonly entries: readonly (Row | HeldEntry)[];
}

export function encodeRecord({ entries, ...rest }: VaultRecord): string {
  const authors: KeyId[] = [];
  const written: Written = { v: 2, authors, entries: entries.map((one) => rowOf(one, authors) ?? one), ...rest };
  return JSON.stringify(written);
}

/**
 * So many are made of what a parser gave before others may have their turn. The first of all, with code that has not run before, take a
 * phone a millisecond each.
 */
const ENTRIES_A_STEP = 8;

/**
 * Reads records one after another, each in steps. Reports come in the form in which the ledger holds them, so that what a parser makes
 * of a text is rubbish a moment later and not carried along until the whole vault is read.
 *
 * @returns reads the text of a record, or one in the first form
 */
export function createRecordReader(): (stored: string | VaultRecord) => Steps<VaultRecord> {
  const sharing = createSharing();
  /** Of each author, the last entry read: mostly the one that the next names. */
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
    const { v: _v, authors, entries, ...rest } = record;
    const kept: KeptEntry[] = [];
    const sheet = entries.map((one) => ("jws" in one ? "" : one[3])).join("");
    let at = 0;
    for (const one of entries) {
      if ("jws" in one) kept.push(KeptEntry.ofText(one));
      else {
        kept.push(keptOf(one, authors, sheet, at));
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

/** Null where the text would not come back as it is. */
function rowOf(held: HeldEntry, authors: KeyId[]): Row | null {
  if (!held.understood) return null;
  if (held instanceof KeptEntry && held.entry !== null) {
    const { entry, signature, place } = held;
    return [held.id, placeIn(authors, entry.author), payloadOf(entry), signature, ...whereOf(place)];
  }
  const { id, jws, place } = held;
  try {
    const [header = "", payload = "", signature = ""] = jws.split(".");
    const said = JSON.parse(decoder.decode(base64url.decode(payload))) as Payload;
    const { kid } = JSON.parse(decoder.decode(base64url.decode(header))) as { kid: KeyId };
    const row: Row = [id, placeIn(authors, kid), said, signature, ...whereOf(place)];
    return KeptEntry.ofEntry(entryOf(row, authors), signature, null).jws === jws ? row : null;
  } catch {
    return null;
  }
}

function whereOf(place: Place | null): readonly [number | null, number | null, ...volume: number[]] {
  const { client = null, clock = null, volume = 0 } = place ?? {};
  return [client, clock, ...(volume === 0 ? [] : [volume])];
}

const decoder = new TextDecoder();

function placeIn(authors: KeyId[], author: KeyId): number {
  const place = authors.indexOf(author);
  return place === -1 ? authors.push(author) - 1 : place;
}
