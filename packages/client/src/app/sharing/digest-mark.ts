/**
 * A book's digest short enough to read out across a lawn: two devices whose marks are the same hold the same entries. Forty bits in
 * the letters of Crockford's base 32 (https://www.crockford.com/base32.html), which has no I, L, O and U to mistake for 1, 0 and V;
 * enough against chance, and not meant against anybody who wants to deceive. Rejected: the digest itself (43 letters, upper and lower
 * case, that nobody compares to the end).
 */
const LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const BASE64URL = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
const BITS = 40;

/** @param digest base64url of at least 5 bytes. @returns such as "7KQ4-M2XN" */
export function digestMark(digest: string): string {
  let bits = "";
  for (const letter of digest) {
    bits += BASE64URL.indexOf(letter).toString(2).padStart(6, "0");
    if (bits.length >= BITS) break;
  }
  let mark = "";
  for (let from = 0; from < BITS; from += 5) {
    if (from === BITS / 2) mark += "-";
    mark += LETTERS[Number.parseInt(bits.slice(from, from + 5), 2)] ?? "";
  }
  return mark;
}
