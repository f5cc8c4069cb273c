/**
 * A record file checked with nothing but the file: its form, every signature, who may sign, whether all of it is there; and then the
 * cards it comes to. No key, no device and no network is needed, only the book's id, which a club can print on its notice board.
 *
 *     lines -> manifest signed -> all there -> every entry signed -> the very entries -> the root's opening -> ledger -> report
 *
 * One player's record has gaps in its authors' chains, and is read as an excerpt: that nothing which belongs in it was left out is
 * what the manifest's signer vouches for.
 *
 * SPEC: RE.
 */
import type {
  Arrival,
  BookId,
  BookState,
  Card,
  EntryId,
  KeyId,
  PlayerId,
  Result,
  RuleSet,
  Uncounted,
} from "@sward/core";
import { byCodeUnits, createLedger, fail, findRuleSet, ok } from "@sward/core";
import { keysIn, openCarried } from "../book/stated.ts";
import type { Verifier } from "../keys/verifier.ts";
import { createVerifier } from "../keys/verifier.ts";
import type { RecordFault } from "./faults.ts";
import type { RecordLine, RecordLines } from "./lines.ts";
import { readLines } from "./lines.ts";
import type { SignerReport } from "./signers.ts";
import { signersOf } from "./signers.ts";

export interface RecordReport {
  readonly book: BookId;
  readonly name: string;
  readonly as: "club" | "league";
  /** Whose record; null for the whole book. */
  readonly player: PlayerId | null;
  readonly entries: number;
  readonly digest: EntryId;
  readonly at: string;
  /** Who vouches that the record is complete. `admitted` false: nobody whose word counts in this book. */
  readonly exporter: { readonly key: KeyId; readonly role: SignerReport["role"]; readonly admitted: boolean };
  readonly signers: readonly SignerReport[];
  /** Devices barred, whether or not they signed anything here. */
  readonly barred: readonly KeyId[];
  /** How many entries do not count, by reason. */
  readonly uncounted: readonly { readonly reason: Uncounted; readonly entries: number }[];
  /** The player's card, or every card of the book, by player id. */
  readonly cards: readonly Card[];
}

export interface VerifiedRecord {
  readonly report: RecordReport;
  readonly state: BookState;
  /** The signed entries, as in the file. */
  readonly texts: readonly string[];
  /** The first line, as signed. */
  readonly manifest: string;
}

/** Signatures checked side by side. */
const SLICE = 64;

export async function verifyRecordFile(
  text: string,
  findRules: (id: string) => RuleSet | undefined = findRuleSet,
): Promise<Result<VerifiedRecord, RecordFault>> {
  const read = readLines(text);
  if (!read.ok) return read;
  const record = read.value;
  const verifier = createVerifier();
  for (const { entry } of record.entries) if (entry.understood) for (const key of keysIn(entry)) verifier.learn(key);

  const fault =
    (await manifestFault(record, verifier)) ??
    lengthFault(record) ??
    (verifier.knows(record.signer) ? null : unknownKey(1, record.signer)) ??
    (await signatureFault(record.entries, verifier));
  if (fault !== null) return fail(fault);

  const { manifest, entries } = record;
  const chains = manifest.player === null ? "whole" : "excerpt";
  const ledger = createLedger(manifest.book, { findRules, chains });
  const arrivals: Arrival[] = [];
  for (const { entry } of entries) arrivals.push(await openCarried(entry, verifier));
  ledger.add(arrivals);
  if (ledger.digest() !== manifest.digest) return fail({ type: "record-digest", line: 1 });
  const state = ledger.state();
  if (state.as === null) return fail({ type: "record-no-opening", line: 1, book: manifest.book });
  return ok({
    report: reportOf(record, state, state.as),
    state,
    texts: entries.map(({ jws }) => jws),
    manifest: record.jws,
  });
}

/** Only when the key is known: that it is not is less than that half the file is missing. */
async function manifestFault({ jws, signer }: RecordLines, verifier: Verifier): Promise<RecordFault | null> {
  if (!verifier.knows(signer) || (await verifier.verify(jws, signer))) return null;
  return { type: "record-manifest-forged", line: 1 };
}

function lengthFault({ manifest, entries, unended }: RecordLines): RecordFault | null {
  const expected = manifest.entries;
  const found = entries.length;
  const last = found + 1;
  if (found < expected) return { type: "record-truncated", line: last, expected, found, missing: expected - found };
  if (found > expected) return { type: "record-too-many", line: expected + 2, expected, found };
  return unended ? { type: "record-unended", line: last + 1 } : null;
}

const unknownKey = (line: number, key: KeyId): RecordFault => ({ type: "record-key-unknown", line, key });

export async function signatureFault(entries: readonly RecordLine[], verifier: Verifier): Promise<RecordFault | null> {
  const check = async ({ line, jws, entry }: RecordLine): Promise<RecordFault | null> => {
    if (!verifier.knows(entry.author)) return unknownKey(line, entry.author);
    return (await verifier.verify(jws, entry.author))
      ? null
      : { type: "record-forged", line, key: entry.author, kind: entry.kind };
  };
  for (let at = 0; at < entries.length; at += SLICE) {
    const faults = await Promise.all(entries.slice(at, at + SLICE).map(check));
    const first = faults.find((fault) => fault !== null);
    if (first !== undefined) return first;
  }
  return null;
}

function reportOf({ manifest, signer, entries }: RecordLines, state: BookState, as: "club" | "league"): RecordReport {
  const { book, player, digest, at } = manifest;
  const role = state.devices.get(signer)?.role ?? null;
  return {
    book,
    name: state.name,
    as,
    player,
    entries: entries.length,
    digest,
    at,
    exporter: { key: signer, role, admitted: role !== null },
    signers: signersOf(entries, state, signer),
    barred: [...state.devices.values()].flatMap(({ device, barred }) => (barred ? [device] : [])).sort(byCodeUnits),
    uncounted: countReasons(state),
    cards: cardsOf(state, player),
  };
}

function countReasons({ uncounted }: BookState): RecordReport["uncounted"] {
  const counts = new Map<Uncounted, number>();
  for (const reason of uncounted.values()) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return [...counts].map(([reason, entries]) => ({ reason, entries })).sort((a, b) => byCodeUnits(a.reason, b.reason));
}

/** An excerpt says nothing whole about anybody but its player. */
function cardsOf({ cards, players }: BookState, player: PlayerId | null): Card[] {
  const sorted = [...cards.values()].sort((a, b) => byCodeUnits(a.player, b.player));
  if (player === null) return sorted;
  return sorted.filter((card) => card.player === player || players.get(card.player)?.alsoKnownAs.includes(player));
}
