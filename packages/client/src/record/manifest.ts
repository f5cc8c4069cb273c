/**
 * The first line of a record file: which book, whose record, how many entries and which, signed by the device that wrote it. An
 * entry is proof of itself, but a file of proofs can have lines taken out. So somebody signs for there being no more, and a record
 * cut short in the post says how much is missing.
 *
 * It has the form of an entry (header and payload with one encoding each) under a `typ` of its own, so that neither can be taken
 * for the other. The file edge: zod reads it.
 *
 * Rejected: a digest of the file's bytes (a tool that sorts lines would break it, and it says nothing about who vouches).
 *
 * SPEC: RE.
 */
import type { BookId, EntryId, PlayerId, Result } from "@sward/core";
import {
  BookId as BookIdShape,
  canonicalBytes,
  EntryId as EntryIdShape,
  fail,
  KeyId,
  ok,
  PlayerId as PlayerIdShape,
} from "@sward/core";
import { base64url } from "jose";
import * as z from "zod/mini";
import type { Signer } from "../keys/signer.ts";
import type { RecordFault } from "./faults.ts";

/** `typ` of the manifest's protected header. */
export const RECORD_TYP = "sward-record";

export const RECORD_VERSION = 1;

export const Manifest = z.strictObject({
  v: z.literal(RECORD_VERSION),
  book: BookIdShape(),
  /** Null: the whole book. */
  player: z.nullable(PlayerIdShape()),
  /** Lines that follow. */
  entries: z.int().check(z.minimum(1), z.maximum(100_000_000)),
  /** SHA-256, base64url, of the sorted entry ids, one a line. */
  digest: EntryIdShape(),
  /** The device's clock, RFC 3339 UTC to the second, for people only. */
  at: z.string().check(z.regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}Z$/)),
});
export interface Manifest {
  readonly v: 1;
  readonly book: BookId;
  readonly player: PlayerId | null;
  readonly entries: number;
  readonly digest: EntryId;
  readonly at: string;
}

export const signManifest = (signer: Signer, manifest: Manifest): Promise<string> =>
  signer.sign({ typ: RECORD_TYP }, canonicalBytes(manifest));

/** Reads what `signManifest` made; whether the signature holds is for the caller to check with the signer's key. Never throws. */
export function readManifest(
  jws: string,
): Result<{ readonly manifest: Manifest; readonly signer: KeyId }, RecordFault> {
  const [header = "", body = ""] = jws.split(".");
  const signer = signerOf(header);
  if (signer === null) return fail({ type: "record-manifest-missing", line: 1 });
  const data = parseSegment(body);
  const v = typeof data === "object" && data !== null && "v" in data ? data.v : undefined;
  if (typeof v === "number" && v !== RECORD_VERSION) return fail({ type: "record-version", line: 1, v });
  const parsed = Manifest.safeParse(data);
  if (!parsed.success) {
    return fail({ type: "record-manifest-bad", line: 1, path: parsed.error.issues[0]?.path.join(".") ?? "" });
  }
  if (base64url.encode(canonicalBytes(parsed.data)) !== body) return fail({ type: "record-not-canonical", line: 1 });
  return ok({ manifest: parsed.data, signer });
}

function signerOf(header: string): KeyId | null {
  const data = parseSegment(header);
  const kid = KeyId().safeParse(typeof data === "object" && data !== null && "kid" in data ? data.kid : undefined);
  if (!kid.success) return null;
  const only = base64url.encode(canonicalBytes({ alg: "EdDSA", kid: kid.data, typ: RECORD_TYP }));
  return only === header ? kid.data : null;
}

function parseSegment(segment: string): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(base64url.decode(segment)));
  } catch {
    return undefined;
  }
}
