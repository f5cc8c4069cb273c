/**
 * A file's bytes as text. Spreadsheets write UTF-8, UTF-16 with a mark ("Unicode text") or, on Windows, its own western code page, and
 * the file does not say which. What is no valid UTF-8 is read as windows-1252, which never fails; the screen shows the names, so a
 * wrong guess is seen. A workbook is refused by its first bytes: its text would be noise.
 */
import type { Result } from "@sward/core";
import { fail, ok } from "@sward/core";

export type DecodingFault =
  | { readonly type: "file-too-big"; readonly bytes: number; readonly most: number }
  /** A spreadsheet's own format, which is a packed folder. */
  | { readonly type: "file-is-workbook" }
  | { readonly type: "file-not-text" };

export const MOST_BYTES = 32_000_000;

export function decodeFile(bytes: Uint8Array): Result<string, DecodingFault> {
  if (bytes.length > MOST_BYTES) return fail({ type: "file-too-big", bytes: bytes.length, most: MOST_BYTES });
  const starts = (...first: number[]): boolean => first.every((byte, at) => bytes[at] === byte);
  if (starts(0x50, 0x4b, 0x03, 0x04) || starts(0xd0, 0xcf, 0x11, 0xe0)) return fail({ type: "file-is-workbook" });
  if (starts(0xff, 0xfe)) return ok(new TextDecoder("utf-16le").decode(bytes));
  if (starts(0xfe, 0xff)) return ok(new TextDecoder("utf-16be").decode(bytes));
  if (bytes.includes(0)) return fail({ type: "file-not-text" });
  try {
    return ok(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch {
    return ok(new TextDecoder("windows-1252").decode(bytes));
  }
}
