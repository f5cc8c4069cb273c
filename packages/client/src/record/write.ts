/**
 * Writes a record file: the whole book, or one player's part of it, in an order that reads well (how the book was opened, who was
 * admitted and barred, the rules, then each author's entries in the order written), with a manifest in front that the device signs.
 * The same entries give the same lines, whoever holds them.
 *
 * What could not be checked by a reader is not written: an entry whose signer's key no other line states. It cannot count, since an
 * admission states the key.
 *
 * SPEC: RE.
 */
import type { BookId, BookState, KeyId, Kind, PlayerId, Result } from "@sward/core";
import { byCodeUnits, byNumber, decodeEntry, digestOf, fail, keyIdOf, ok } from "@sward/core";
import { base64url } from "jose";
import { keysIn } from "../book/stated.ts";
import type { Signer } from "../keys/signer.ts";
import { excerptOf, personOf, withoutWaiting } from "./excerpt.ts";
import type { ExportFault } from "./faults.ts";
import type { Manifest } from "./manifest.ts";
import { signManifest } from "./manifest.ts";
import type { HeldText } from "./subject.ts";

/** What a record is written from; an open book is one. */
export interface RecordSource {
  readonly id: BookId;
  state(): BookState;
  /** Signed texts of the entries held. */
  entries(): Iterable<{ readonly jws: string }>;
}

export interface RecordWish {
  /** Null: the whole book. */
  readonly player: PlayerId | null;
  /** RFC 3339 UTC to the second. */
  readonly at: string;
}

export interface WrittenRecord {
  readonly manifest: Manifest;
  /** The manifest and the entries, one compact JWS each. */
  readonly lines: readonly string[];
  /** The file. */
  readonly text: string;
  /** Of a whole book: entries held that nobody could check. */
  readonly leftOut: number;
}

export async function writeRecordFile(
  source: RecordSource,
  signer: Signer,
  { player, at }: RecordWish,
): Promise<Result<WrittenRecord, ExportFault>> {
  const state = source.state();
  if (state.as === null) return fail({ type: "export-no-opening", book: source.id });
  const person = player === null ? null : personOf(state, player);
  if (player !== null && person === null) return fail({ type: "export-unknown-player", player });

  const held = heldTexts(source);
  const wanted = person === null ? checkableOf(held) : playersPart(held, state, person, signer.id);
  if (!keysStated(wanted).has(signer.id)) return fail({ type: "export-device-unknown", device: signer.id });

  const entries = [...wanted].sort(byReading(source.id));
  const digest = digestOf(
    entries
      .map(({ entry }) => entry.id)
      .sort(byCodeUnits)
      .join("\n"),
  );
  const manifest: Manifest = { v: 1, book: source.id, player: person, entries: entries.length, digest, at };
  const lines = [await signManifest(signer, manifest), ...entries.map(({ jws }) => jws)];
  const text = lines.map((jws) => `${JSON.stringify(jws)}\n`).join("");
  return ok({ manifest, lines, text, leftOut: person === null ? held.length - wanted.length : 0 });
}

function playersPart(held: readonly HeldText[], state: BookState, person: PlayerId, exporter: KeyId) {
  const whole = checkableOf(withoutWaiting(held, state));
  return withKeys(excerptOf(whole, state, person), whole, exporter);
}

function heldTexts(source: RecordSource): HeldText[] {
  const held: HeldText[] = [];
  // Read with every check, and not as a vault is read again at each start: the file goes to people who trust nobody here.
  for (const { jws } of source.entries()) {
    const entry = decodeEntry(jws);
    if (entry.ok && entry.value.book === source.id) held.push({ entry: entry.value, jws: withOneSignature(jws) });
  }
  return held;
}

/** The same signature in its one encoding: a JOSE library may have taken one with idle bits set. */
function withOneSignature(jws: string): string {
  const dot = jws.lastIndexOf(".") + 1;
  return jws.slice(0, dot) + base64url.encode(base64url.decode(jws.slice(dot)));
}

const keysStated = (held: readonly HeldText[]): Set<KeyId> =>
  new Set(held.flatMap(({ entry }) => (entry.understood ? keysIn(entry).map(keyIdOf) : [])));

/** Without the entries whose signer's key none of the others states, and those known through them alone. */
function checkableOf(held: readonly HeldText[]): readonly HeldText[] {
  const keys = keysStated(held);
  const checkable = held.filter(({ entry }) => keys.has(entry.author));
  return checkable.length === held.length ? held : checkableOf(checkable);
}

/** With an entry for each signer, and for the device that signs the record, that states the key. */
function withKeys(excerpt: readonly HeldText[], all: readonly HeldText[], exporter: KeyId): readonly HeldText[] {
  const stated = keysStated(excerpt);
  const signers = new Set([exporter, ...excerpt.map(({ entry }) => entry.author)]);
  const missing = [...signers].filter((key) => !stated.has(key));
  const inOrder = [...all].sort((a, b) => byCodeUnits(a.entry.id, b.entry.id));
  const more = missing.flatMap((key) => inOrder.find((one) => keysStated([one]).has(key)) ?? []);
  return more.length === 0 ? excerpt : withKeys([...new Set([...excerpt, ...more])], all, exporter);
}

const ranks: Partial<Readonly<Record<string, number>>> = {
  "club-admitted": 1,
  "device-admitted": 1,
  "device-barred": 1,
  "rules-adopted": 2,
  "policy-set": 2,
} satisfies Partial<Record<Kind, number>>;

function rankOf({ entry }: HeldText, book: BookId): number {
  const isOpening = entry.kind === "book-opened" && entry.seq === 0 && entry.author === (book as string);
  return isOpening ? 0 : (ranks[entry.kind] ?? 3);
}

const byReading =
  (book: BookId) =>
  (a: HeldText, b: HeldText): number =>
    byNumber(rankOf(a, book), rankOf(b, book)) ||
    byCodeUnits(a.entry.author, b.entry.author) ||
    byNumber(a.entry.seq, b.entry.seq) ||
    byCodeUnits(a.entry.id, b.entry.id);
