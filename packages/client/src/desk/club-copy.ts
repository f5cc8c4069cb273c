/**
 * A copy of a club's record in a file, for the day on which every handicapper's device and the relay are gone: what any member's device
 * holds, the signed entries and the roster still sealed. Whoever finds the file reads no name in it; the club's words open it.
 *
 *     {"v": 1, "sward": "club copy", "book": id, "entries": [compact JWS…], "names": [[subject, base64url of the sealed value]…]}
 *
 * The record file (`record/`) is taken as well: it has the entries and no names. Rejected: that file with the names added (it is handed
 * to other clubs, and to anybody who checks a card) and the whole sealed with the words (no device has them).
 *
 * The file edge: zod reads it.
 */
import type { Result } from "@sward/core";
import { BookId, fail, ok } from "@sward/core";
import { base64url } from "jose";
import * as z from "zod/mini";
import type { Book } from "../book/book.ts";
import { readLines } from "../record/lines.ts";
import type { CarriedRecord } from "./settle.ts";

export type CopyFault =
  /** Neither a club's copy nor a record file, or not all of one. */
  | { readonly type: "not-a-copy" }
  /** Made by a later version of the app. */
  | { readonly type: "copy-newer" };

export interface ClubCopy extends CarriedRecord {
  readonly book: BookId;
}

const Copy = z.object({
  v: z.literal(1),
  sward: z.literal("club copy"),
  book: BookId(),
  entries: z.array(z.string().check(z.maxLength(40_000))),
  names: z.array(
    z.tuple([
      z.string().check(z.minLength(1), z.maxLength(60)),
      z.string().check(z.regex(/^[A-Za-z0-9_-]+$/), z.maxLength(400_000)),
    ]),
  ),
});

/** A season's record of a large club has some megabytes. */
const LONGEST_COPY = 256 * 1024 * 1024;

export const writeClubCopy = ({ id, entries, roster }: Pick<Book, "id" | "entries" | "roster">): string =>
  JSON.stringify({
    v: 1,
    sward: "club copy",
    book: id,
    entries: [...entries()].map(({ jws }) => jws),
    names: [...roster.envelopes()].map(([about, envelope]) => [about, base64url.encode(envelope)]),
  });

/** A club's copy, or a record file. Nothing in it is checked but its form. Never throws. */
export function readClubCopy(text: string): Result<ClubCopy, CopyFault> {
  if (text.length > LONGEST_COPY) return fail({ type: "not-a-copy" });
  if (!text.trimStart().startsWith("{")) return fromRecordFile(text);
  try {
    const json: unknown = JSON.parse(text);
    const parsed = Copy.safeParse(json);
    if (!parsed.success) return fail({ type: isNewer(json) ? "copy-newer" : "not-a-copy" });
    const { book, entries, names } = parsed.data;
    return ok({ book, entries, names: new Map(names.map(([about, value]) => [about, base64url.decode(value)])) });
  } catch {
    return fail({ type: "not-a-copy" });
  }
}

function fromRecordFile(text: string): Result<ClubCopy, CopyFault> {
  const lines = readLines(text);
  if (!lines.ok) return fail({ type: "not-a-copy" });
  const { manifest, entries } = lines.value;
  return ok({ book: manifest.book, entries: entries.map(({ jws }) => jws), names: new Map() });
}

function isNewer(json: unknown): boolean {
  const { sward, v } = json as { readonly sward?: unknown; readonly v?: unknown };
  return sward === "club copy" && typeof v === "number" && v > 1;
}
