/**
 * Reading and writing the few primitives that Yjs updates and y-protocols frames are made of: unsigned integers in groups of
 * seven bits, low group first, and byte strings with their length before them. Written here because core may not name a Yjs
 * library, and because the general reader allocates what a hostile length field asks for. This one allocates nothing, reads
 * inside the bytes only, and takes no second spelling of a number (a redundant zero group): what is accepted has one form.
 *
 * A cursor that met something unreadable stays at `failed` and every later read fails too, so a caller may check once.
 */

/** `at` is the next byte to be read. */
export interface Cursor {
  readonly bytes: Uint8Array;
  at: number;
  failed: boolean;
}

export const cursorOn = (bytes: Uint8Array): Cursor => ({ bytes, at: 0, failed: false });

/** The next byte, or 0 on a failed cursor. */
export function readByte(cursor: Cursor): number {
  const byte = cursor.bytes[cursor.at];
  if (byte === undefined || cursor.failed) {
    cursor.failed = true;
    return 0;
  }
  cursor.at += 1;
  return byte;
}

/** An unsigned integer up to 2^53 - 1, or 0 on a failed cursor. */
export function readUint(cursor: Cursor): number {
  let value = 0;
  let weight = 1;
  for (;;) {
    const byte = readByte(cursor);
    value += (byte & 0x7f) * weight;
    if (value > Number.MAX_SAFE_INTEGER || (byte === 0 && weight > 1)) cursor.failed = true;
    if (cursor.failed) return 0;
    if (byte < 0x80) return value;
    weight *= 128;
  }
}

/** Steps over `length` bytes. */
export function skipBytes(cursor: Cursor, length: number): void {
  if (cursor.failed || length > cursor.bytes.length - cursor.at) cursor.failed = true;
  else cursor.at += length;
}

/** A view, not a copy, of a byte string with its length before it. */
export function readBytes(cursor: Cursor): Uint8Array {
  const length = readUint(cursor);
  const start = cursor.at;
  skipBytes(cursor, length);
  return cursor.failed ? new Uint8Array(0) : cursor.bytes.subarray(start, cursor.at);
}

/** A string of ASCII, the only text this protocol has; null if it is longer than `limit` or has any other character. */
export function readAscii(cursor: Cursor, limit: number): string | null {
  const bytes = readBytes(cursor);
  if (cursor.failed || bytes.length > limit || bytes.some((byte) => byte > 0x7e || byte < 0x20)) return null;
  return String.fromCharCode(...bytes);
}

/** Appends an unsigned integer, least group first. */
export function pushUint(to: number[], value: number): void {
  let rest = value;
  while (rest > 0x7f) {
    to.push((rest % 128) + 0x80);
    rest = Math.floor(rest / 128);
  }
  to.push(rest);
}

export const uintBytes = (values: readonly number[]): Uint8Array => {
  const to: number[] = [];
  for (const value of values) pushUint(to, value);
  return Uint8Array.from(to);
};

/** ASCII text as bytes; anything else is a defect of ours. */
export const asciiBytes = (text: string): Uint8Array => Uint8Array.from(text, (character) => character.charCodeAt(0));

export function joinBytes(parts: readonly Uint8Array[]): Uint8Array {
  let length = 0;
  for (const part of parts) length += part.length;
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
