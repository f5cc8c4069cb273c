/**
 * Base64url without padding (RFC 4648, section 5) and UTF-8 (RFC 3629), both strict: bytes have one spelling, and what is another one
 * is not read. Most of what a record holds is ASCII and goes from the segment to its text with no more than a table between.
 *
 * Rejected: `@scure/base`, which is as strict, takes four times as long where the platform has no decoder of its own, and has to
 * be fetched before a page can be seen; and the platform's decoders, which core may not name.
 */

const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/** By character code the six bits it stands for; 64 where none. */
const bitsOf = new Uint8Array(128).fill(64);
for (let bits = 0; bits < 64; bits += 1) bitsOf[ALPHABET.charCodeAt(bits)] = bits;

/** Bytes of one piece of a text; a multiple of three, and no more than a call takes arguments. */
const PIECE = 6_144;

/** A text is made at once: of one that grows by a character an engine keeps every stage. */
export function base64urlOf(bytes: Uint8Array): string {
  const pieces: string[] = [];
  for (let from = 0; from < bytes.length; from += PIECE) pieces.push(pieceOf(bytes.subarray(from, from + PIECE)));
  return pieces.join("");
}

function pieceOf(bytes: Uint8Array): string {
  const codes: number[] = [];
  for (let at = 0; at < bytes.length; at += 3) {
    const bits = ((bytes[at] ?? 0) << 16) | ((bytes[at + 1] ?? 0) << 8) | (bytes[at + 2] ?? 0);
    codes.push(codeOf(bits >> 18), codeOf(bits >> 12), codeOf(bits >> 6), codeOf(bits));
  }
  // As many as the bytes fill, in whole or in part.
  codes.length = Math.ceil((bytes.length * 4) / 3);
  return String.fromCharCode(...codes);
}

const codeOf = (bits: number): number => ALPHABET.charCodeAt(bits & 63);

/** Decoded into; written over by the next. Longer segments have one of their own. */
const usual = new Uint8Array(2_048);

/** The UTF-8 text of a segment; null when it is not strictly base64url of strict UTF-8. A byte order mark is part of the text. */
export function textOfSegment(segment: string): string | null {
  const length = segment.length;
  const over = length % 4;
  const bytes = length > usual.length ? new Uint8Array(length) : usual;
  let to = 0;
  // Bits that must not be there: 64 of a character that stands for nothing, and idle ones, which would be a second spelling.
  let wrong = over === 1 ? 1 : 0;
  let high = 0;
  for (let at = 0; at < length; at += 4) {
    const one = sixAt(segment, at);
    const two = sixAt(segment, at + 1);
    const three = at + 2 < length ? sixAt(segment, at + 2) : 0;
    const four = at + 3 < length ? sixAt(segment, at + 3) : 0;
    const bits = (one << 18) | (two << 12) | (three << 6) | four;
    wrong |= (one | two | three | four) & 64;
    high |= bits & 0x80_80_80;
    bytes[to] = bits >> 16;
    bytes[to + 1] = bits >> 8;
    bytes[to + 2] = bits;
    to += 3;
  }
  if (over > 0) {
    to -= 4 - over;
    wrong |= over === 2 ? (bytes[to] ?? 0) | (bytes[to + 1] ?? 0) : (bytes[to] ?? 0);
  }
  if (wrong !== 0) return null;
  return high === 0 ? asciiText(bytes, to) : utf8Text(bytes.subarray(0, to));
}

/** Six bits, or 64. */
const sixAt = (segment: string, at: number): number => bitsOf[segment.charCodeAt(at)] ?? 64;

/** As many as a call takes as arguments on every machine. */
const AT_ONCE = 4_096;

function asciiText(bytes: Uint8Array, length: number): string {
  let text = "";
  for (let from = 0; from < length; from += AT_ONCE) {
    // Spread over the arguments they would go through an iterator: five times as long.
    text += Reflect.apply(String.fromCharCode, null, bytes.subarray(from, Math.min(length, from + AT_ONCE)));
  }
  return text;
}

/** ECMAScript's own strict UTF-8: it throws for what is too long, halves of pairs and whatever else is none. */
function utf8Text(bytes: Uint8Array): string | null {
  try {
    return decodeURIComponent(Array.from(bytes, (byte) => `%${byte.toString(16).padStart(2, "0")}`).join(""));
  } catch {
    return null;
  }
}
