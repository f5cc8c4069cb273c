/**
 * Envelopes: what travels and what a relay stores. A block of one or more texts under AES-256-GCM with the epoch's key.
 *
 *     envelope = 1 byte format (1) ‖ 4 bytes epoch, big-endian ‖ 12 bytes nonce ‖ ciphertext ‖ 16 bytes tag
 *     plain    = the texts in UTF-8, one after another, each ended by a line feed (a compact JWS has none)
 *     associated data = "sward envelope 1 " ‖ book id ‖ " " ‖ epoch
 *
 * The nonce is random: 2^32 envelopes of one epoch keep the chance of a repeat below 2^-32 (NIST SP 800-38D, 8.3), and no club
 * comes near. Rejected: one envelope per entry always (an import would be many times slower to open) and a counter as nonce (two
 * devices share the key).
 */
import type { BookId } from "@sward/core";
import type { EpochKeys } from "../keys/book-keys.ts";

export const ENVELOPE_FORMAT = 1;
const EPOCH_AT = 1;
const NONCE_AT = 5;
const NONCE_BYTES = 12;
const TEXT_AT = NONCE_AT + NONCE_BYTES;
const TAG_BYTES = 16;

export type OpenFault =
  | { readonly type: "not-an-envelope" }
  | { readonly type: "unknown-epoch"; readonly epoch: number }
  | { readonly type: "sealed-otherwise" };

const encoder = new TextEncoder();
const decoder = new TextDecoder();

/** Of the book and epoch that were asked for last: ten thousand envelopes of one are opened one after another. */
let said = { book: "", epoch: -1, bytes: new Uint8Array() };

function associated(book: BookId, epoch: number): Uint8Array<ArrayBuffer> {
  if (said.book !== book || said.epoch !== epoch)
    said = { book, epoch, bytes: encoder.encode(`sward envelope 1 ${book} ${epoch}`) };
  return said.bytes;
}

export async function seal(
  book: BookId,
  keys: Pick<EpochKeys, "epoch" | "seal">,
  texts: readonly string[],
  randomBytes: (count: number) => Uint8Array,
): Promise<Uint8Array> {
  const nonce = randomBytes(NONCE_BYTES).slice();
  const plain = encoder.encode(texts.map((text) => `${text}\n`).join(""));
  const algorithm = { name: "AES-GCM", iv: nonce, additionalData: associated(book, keys.epoch) };
  const sealed = new Uint8Array(await crypto.subtle.encrypt(algorithm, keys.seal, plain));
  const envelope = new Uint8Array(TEXT_AT + sealed.length);
  envelope[0] = ENVELOPE_FORMAT;
  new DataView(envelope.buffer).setUint32(EPOCH_AT, keys.epoch);
  envelope.set(nonce, NONCE_AT);
  envelope.set(sealed, TEXT_AT);
  return envelope;
}

/** The epoch an envelope says it is sealed for; its first bytes, which the screen has seen to. */
export const epochOf = (envelope: Uint8Array): number =>
  new DataView(envelope.buffer, envelope.byteOffset).getUint32(EPOCH_AT);

type KeysOf = (epoch: number) => Pick<EpochKeys, "seal" | "alsoOpens"> | undefined;

/** The texts of an envelope, or why it cannot be opened. Never throws. */
export async function openEnvelope(
  book: BookId,
  keysOf: KeysOf,
  envelope: Uint8Array,
): Promise<readonly string[] | OpenFault> {
  const plain = await openPlain(book, keysOf, envelope);
  return "type" in plain ? plain : textsOf(plain);
}

/** The texts in what an envelope holds. */
export const textsOf = (plain: Uint8Array): readonly string[] => decoder.decode(plain).split("\n").slice(0, -1);

/** What an envelope holds, or why it cannot be opened. Never throws. */
export async function openPlain(
  book: BookId,
  keysOf: KeysOf,
  envelope: Uint8Array,
): Promise<Uint8Array<ArrayBuffer> | OpenFault> {
  if (envelope.length < TEXT_AT + TAG_BYTES || envelope[0] !== ENVELOPE_FORMAT) return { type: "not-an-envelope" };
  const epoch = epochOf(envelope);
  const keys = keysOf(epoch);
  if (keys === undefined) return { type: "unknown-epoch", epoch };
  const iv = envelope.slice(NONCE_AT, TEXT_AT);
  const algorithm = { name: "AES-GCM", iv, additionalData: associated(book, epoch) };
  for (const key of [keys.seal, ...(keys.alsoOpens ?? [])]) {
    try {
      return new Uint8Array(await crypto.subtle.decrypt(algorithm, key, envelope.slice(TEXT_AT)));
    } catch {
      // Another epoch of this number, or not for us.
    }
  }
  return { type: "sealed-otherwise" };
}

/** Texts of one envelope together: half of what a relay takes, so that none is refused for its length. */
const BLOCK_LENGTH = 128 * 1024;

/** Cuts a long list into what goes into one envelope each: at most so many, and not too long together. */
export function blocksOf<T>(items: readonly T[], lengthOf: (item: T) => number, most: number): T[][] {
  const blocks: T[][] = [];
  let block: T[] = [];
  let length = 0;
  for (const item of items) {
    const own = lengthOf(item);
    if (block.length > 0 && (block.length >= most || length + own > BLOCK_LENGTH)) {
      blocks.push(block);
      block = [];
      length = 0;
    }
    block.push(item);
    length += own;
  }
  if (block.length > 0) blocks.push(block);
  return blocks;
}
