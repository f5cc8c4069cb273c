/**
 * The roster: names and labels, apart from the ledger so that they can be erased. A small Yjs document of its own with one Y.Map
 * named `roster`; a key is a player's or a device's id, a value one sealed envelope holding one compact JWS over the record. The
 * last write to a key holds, by Yjs. A value that cannot be opened, is not signed by someone who may write here, or speaks of
 * another key, is passed over and what this device knew before stays.
 *
 * Rejected: names in entries (they could never be erased) and names under a hash of the name (a relay could guess them).
 */
import type { BookId, KeyId, PlayerId, Result } from "@sward/core";
import { canonicalBytes, fail, ok, roomRoots } from "@sward/core";
import { base64url } from "jose";
import type * as Y from "yjs";
import * as z from "zod/mini";
import type { Signer } from "../keys/signer.ts";

export const ROSTER_TYP = "sward-roster";

const text = (max: number) => z.string().check(z.minLength(1), z.maxLength(max));

/** What is kept about a player or a device's holder. Nothing here is needed to work out a handicap. */
export const RosterRecord = z.object({
  name: text(80),
  /** How the name is written where space or discretion asks for it, such as "Ada W.". */
  short: text(40),
  junior: z.optional(z.boolean()),
  /** A device: where it is, such as "pavilion tablet". */
  device: z.optional(text(60)),
});
export type RosterRecord = z.infer<typeof RosterRecord>;

const Signed = z.object({ v: z.literal(1), book: z.string(), about: text(60), at: z.string(), value: RosterRecord });

export type RosterSubject = PlayerId | KeyId;

export function rosterMap(doc: Y.Doc): Y.Map<Uint8Array> {
  return doc.getMap<Uint8Array>(roomRoots.roster);
}

/** The text to seal for a record. */
export async function signRecord(
  signer: Signer,
  book: BookId,
  about: RosterSubject,
  value: RosterRecord,
  at: string,
): Promise<string> {
  return signer.sign({ typ: ROSTER_TYP }, canonicalBytes({ v: 1, book, about, at, value }));
}

export type RosterFault = { readonly type: "not-a-roster-record" };

/** Reads what `signRecord` made; the signature is for the caller to check with the author's key. */
export function readRecord(
  jws: string,
  book: BookId,
  about: string,
): Result<{ readonly author: KeyId; readonly value: RosterRecord }, RosterFault> {
  try {
    const [header = "", payload = ""] = jws.split(".");
    const head = z.object({ kid: z.string(), typ: z.literal(ROSTER_TYP) }).parse(json(header));
    const body = Signed.parse(json(payload));
    if (body.book !== book || body.about !== about) return fail({ type: "not-a-roster-record" });
    return ok({ author: head.kid as KeyId, value: body.value });
  } catch {
    return fail({ type: "not-a-roster-record" });
  }
}

const json = (part: string): unknown => JSON.parse(new TextDecoder().decode(base64url.decode(part)));
