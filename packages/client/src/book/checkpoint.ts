/**
 * What a start would work out again of the very entries that the last one had: how each signature on a card stands, for which all lines
 * that were ever signed would be hashed. It says of which entries it is, and is of use where the vault begins with these; what came since
 * is added as it came. Derived, disposable, and never told anybody else: without it everything is worked out.
 *
 * Rejected: the cards themselves (to read ten years of rows takes as long as to fold them) and one for each card (which entries bear on a
 * card is known when it has been made).
 */
import type { EntryId, KnownSignature, KnownSignatures } from "@sward/core";
import type { Breathe } from "./breathing.ts";
import { neverBreathe } from "./breathing.ts";

export interface Checkpoint {
  /** The first so many of the vault. */
  readonly entries: number;
  /** Of their ids. */
  readonly digest: Uint8Array;
  readonly signatures: readonly (readonly [EntryId, KnownSignature])[];
}

/** Of so many entries an id each is hashed at once: a piece of text that a page has in hand without feeling it. */
const AT_ONCE = 4_096;

/** So many entries may come before another one is made: the few cards that they touch are soon worked out. */
const MANY = 32;

/** What is known of the first `count` of these, where they are the same; null else. */
export async function knownOf(
  kept: Checkpoint | null,
  ids: Iterable<EntryId>,
  breathe = neverBreathe,
): Promise<KnownSignatures | null> {
  if (kept === null) return null;
  const digest = await digestOfFirst(kept.entries, ids, breathe);
  return digest?.every((byte, n) => byte === kept.digest[n]) ? new Map(kept.signatures) : null;
}

/** @param before how many entries the one that is kept is of; none, 0 */
export async function checkpointOf(
  held: ReadonlyMap<EntryId, unknown>,
  before: number,
  known: () => KnownSignatures,
  breathe = neverBreathe,
): Promise<Checkpoint | null> {
  const entries = held.size;
  if (entries < before + MANY) return null;
  const signatures = [...known()];
  const digest = signatures.length === 0 ? null : await digestOfFirst(entries, held.keys(), breathe);
  return digest === null ? null : { entries, digest, signatures };
}

/** SHA-256 over the ids, piece by piece, each with what came before; null where there are not so many. */
async function digestOfFirst(count: number, ids: Iterable<EntryId>, breathe: Breathe): Promise<Uint8Array | null> {
  const encoder = new TextEncoder();
  let [digest, piece, seen] = [new Uint8Array(), "", 0];
  for (const id of ids) {
    if (seen === count) break;
    seen += 1;
    piece += id;
    if (seen % AT_ONCE !== 0 && seen !== count) continue;
    const text = encoder.encode(piece);
    const input = new Uint8Array(digest.length + text.length);
    input.set(digest);
    input.set(text, digest.length);
    digest = new Uint8Array(await crypto.subtle.digest("SHA-256", input));
    piece = "";
    const breath = breathe();
    if (breath !== null) await breath;
  }
  return seen === count ? digest : null;
}
