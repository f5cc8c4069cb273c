/**
 * Base 45 (RFC 9285, https://www.rfc-editor.org/rfc/rfc9285): two bytes as three characters of a QR code's alphanumeric set, which
 * takes a fifth less room there than base64 as bytes does. Own code, since no library that is here has it.
 */
const LETTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

export function encodeBase45(bytes: Uint8Array): string {
  let text = "";
  for (let at = 0; at < bytes.length; at += 2) {
    const pair = at + 1 < bytes.length;
    let value = pair ? (bytes[at] ?? 0) * 256 + (bytes[at + 1] ?? 0) : (bytes[at] ?? 0);
    for (let left = pair ? 3 : 2; left > 0; left--) {
      text += LETTERS[value % 45];
      value = Math.floor(value / 45);
    }
  }
  return text;
}

/** Null when the text is not base 45 of any bytes. */
export function decodeBase45(text: string): Uint8Array | null {
  if (text.length % 3 === 1) return null;
  const bytes: number[] = [];
  for (let at = 0; at < text.length; at += 3) {
    const digits = [...text.slice(at, at + 3)].map((letter) => LETTERS.indexOf(letter));
    const value = digits.reduceRight((sum, digit) => sum * 45 + digit, 0);
    if (digits.includes(-1) || value > (digits.length === 3 ? 0xffff : 0xff)) return null;
    if (digits.length === 3) bytes.push(value >> 8);
    bytes.push(value & 0xff);
  }
  return Uint8Array.from(bytes);
}
