/**
 * From the text of a record file to its manifest and entries: form only, no signature. A line is one JSON string, a compact JWS, and
 * nothing else, so that any language reads a file with its JSON parser and any JOSE library. There is one way to write each line and
 * what is written otherwise is refused: then no character of a file can change without somebody noticing.
 *
 * Lines of entries may stand in any order, as a book's entries may come in any order. Rejected: one JSON document (a file cut short
 * would be none at all, and could not say what is missing).
 *
 * SPEC: RE.
 */
import type { BookId, Entry, EntryFault, EntryId, KeyId, Result } from "@sward/core";
import { decodeEntry, fail, MAX_ENTRY_LENGTH, ok } from "@sward/core";
import * as z from "zod/mini";
import type { RecordFault } from "./faults.ts";
import type { Manifest } from "./manifest.ts";
import { readManifest } from "./manifest.ts";

export interface RecordLine {
  readonly line: number;
  readonly jws: string;
  readonly entry: Entry;
}

export interface RecordLines {
  readonly manifest: Manifest;
  readonly signer: KeyId;
  /** The manifest as signed. */
  readonly jws: string;
  readonly entries: readonly RecordLine[];
  /** Something stands behind the last line feed: a line that breaks off, or one too many. */
  readonly unended: boolean;
}

/** Three segments, the last an Ed25519 signature. */
const compactJws = /^[A-Za-z0-9_-]+\.[A-Za-z0-9_-]+\.[A-Za-z0-9_-]{86}$/;

/** Four bits of the last character of 64 bytes in base64url say nothing, and are nought. */
const lastOfSignature = /[AQgw]$/;

/** Never throws, whatever the text. The fault is the first, by line. */
export function readLines(text: string): Result<RecordLines, RecordFault> {
  const rows = text.split("\n");
  const unended = rows.pop() !== "";
  const [first, ...rest] = rows;
  if (first === undefined) return fail({ type: unended ? "record-manifest-missing" : "record-empty", line: 1 });
  const jws = readLine(first, 1);
  if (!jws.ok) return jws;
  const head = readManifest(jws.value);
  if (!head.ok) return head;
  const { manifest, signer } = head.value;

  const entries = readEntries(rest, 2, manifest.book);
  return entries.ok ? ok({ manifest, signer, jws: jws.value, entries: entries.value, unended }) : entries;
}

/** @param first the number of the first line @param of their book; that of the first entry where null */
export function readEntries(
  rows: readonly string[],
  first: number,
  of: BookId | null,
): Result<readonly RecordLine[], RecordFault> {
  const entries: RecordLine[] = [];
  const lineOf = new Map<EntryId, number>();
  let wanted = of;
  for (const [place, row] of rows.entries()) {
    const line = place + first;
    const read = readLine(row, line);
    if (!read.ok) return read;
    const entry = decodeEntry(read.value);
    if (!entry.ok) return fail(entryFault(entry.fault, line));
    const { id, book } = entry.value;
    wanted ??= book;
    if (book !== wanted) return fail({ type: "record-other-book", line, book, of: wanted });
    const before = lineOf.get(id);
    if (before !== undefined) return fail({ type: "record-twice", line, first: before });
    lineOf.set(id, line);
    entries.push({ line, jws: read.value, entry: entry.value });
  }
  return ok(entries);
}

function readLine(row: string, line: number): Result<string, RecordFault> {
  if (row === "") return fail({ type: "record-blank-line", line });
  // Quotation marks and an escape or two: what is longer need not be looked at.
  if (row.length > MAX_ENTRY_LENGTH + 16) return fail({ type: "record-too-long", line, length: row.length });
  const text = z.string().safeParse(parseJson(row));
  if (!text.success) return fail({ type: "record-not-json", line });
  if (!compactJws.test(text.data)) return fail({ type: "record-not-jws", line });
  const isOnlyWay = JSON.stringify(text.data) === row && lastOfSignature.test(text.data);
  return isOnlyWay ? ok(text.data) : fail({ type: "record-not-canonical", line });
}

function parseJson(row: string): unknown {
  try {
    return JSON.parse(row);
  } catch {
    return undefined;
  }
}

function entryFault(fault: EntryFault, line: number): RecordFault {
  switch (fault.type) {
    case "too-long":
      return { type: "record-too-long", line, length: fault.length };
    case "not-compact-jws":
      return { type: "record-not-jws", line };
    case "bad-header":
      return { type: "record-not-entry", line, path: "header" };
    case "bad-payload":
      return { type: "record-not-entry", line, path: fault.path };
    case "not-canonical":
      return { type: "record-not-canonical", line };
  }
}
