/**
 * The roster: names and labels, apart from the ledger so that they can be erased. A small Yjs document of its own with one Y.Map
 * named `roster`; a key is a player's or a device's id, a value one sealed envelope holding one compact JWS over the record. The
 * last write to a key holds, by Yjs. A value that cannot be opened, is not signed by someone who may write here, or speaks of
 * another key, is passed over and what this device knew before stays.
 *
 * A name is erased by a second value under a key of its own, `erased/` and the subject: signed, and without the name. It is never
 * lifted and no name written under the subject, before or after, is taken again; so a device that comes back after months with the
 * name, or with a correction of it, does not bring it back. Were it under the subject's own key, such a correction could win over it.
 *
 * Rejected: names in entries (they could never be erased), names under a hash of the name (a relay could guess them), and only
 * deleting the value (every device that still has it would put it back, as it must when a relay has been wiped).
 */
import type { BookId, KeyId, PlayerId, Result } from "@sward/core";
import { canonicalBytes, fail, later, ok, roomRoots } from "@sward/core";
import { base64url } from "jose";
import type * as Y from "yjs";
import * as z from "zod/mini";
import type { Signer } from "../keys/signer.ts";

export const ROSTER_TYP = "sward-roster";

const text = (max: number) => z.string().check(z.minLength(1), z.maxLength(max));

/** What is kept about a player or a device's holder. Nothing here is needed to work out a handicap. */
export const RosterRecord = later(() =>
  z.object({
    name: text(80),
    /** How the name is written where space or discretion asks for it, such as "Ada W.". */
    short: text(40),
    junior: z.optional(z.boolean()),
    /** A device: where it is, such as "pavilion tablet". */
    device: z.optional(text(60)),
  }),
);
export type RosterRecord = z.infer<ReturnType<typeof RosterRecord>>;

/** Why a name was erased. One of a few and no free text: a sentence could name again whom it is about. */
export const ErasureReason = later(() => z.enum(["asked", "no-longer-needed", "entered-wrongly"]));
export type ErasureReason = z.infer<ReturnType<typeof ErasureReason>>;

const signedParts = () => ({ v: z.literal(1), book: z.string(), about: text(60), at: z.string() });
const Signed = later(() => z.object({ ...signedParts(), value: RosterRecord() }));
const SignedErasure = later(() => z.object({ ...signedParts(), erased: z.object({ reason: ErasureReason() }) }));

export type RosterSubject = PlayerId | KeyId;

/** That a subject's name was erased, by whom and when. */
export interface Erasure {
  readonly by: KeyId;
  /** RFC 3339 UTC, by the clock of the device that erased. */
  readonly at: string;
  readonly reason: ErasureReason;
}

const ERASED = "erased/";
export const erasureKey = (about: string): string => ERASED + about;
/** The subject of an erasure's key; null for any other key. */
export const erasedSubject = (key: string): string | null => (key.startsWith(ERASED) ? key.slice(ERASED.length) : null);

export function rosterMap(doc: Y.Doc): Y.Map<Uint8Array> {
  return doc.getMap<Uint8Array>(roomRoots.roster);
}

/** The text to seal for a record. */
export const signRecord = (
  signer: Signer,
  book: BookId,
  about: RosterSubject,
  value: RosterRecord,
  at: string,
): Promise<string> => signer.sign({ typ: ROSTER_TYP }, canonicalBytes({ v: 1, book, about, at, value }));

/** The text to seal for an erasure. */
export const signErasure = (
  signer: Signer,
  book: BookId,
  about: RosterSubject,
  reason: ErasureReason,
  at: string,
): Promise<string> => signer.sign({ typ: ROSTER_TYP }, canonicalBytes({ v: 1, book, about, at, erased: { reason } }));

export type RosterFault = { readonly type: "not-a-roster-record" };

/** Reads what `signRecord` made; the signature is for the caller to check with the author's key. */
export const readRecord = (
  jws: string,
  book: BookId,
  about: string,
): Result<{ readonly author: KeyId; readonly value: RosterRecord }, RosterFault> =>
  read(jws, book, about, (payload, author) => {
    const body = Signed().parse(payload);
    return { ...body, author };
  });

/** Reads what `signErasure` made; the signature is for the caller to check with the author's key. */
export const readErasure = (
  jws: string,
  book: BookId,
  about: string,
): Result<{ readonly author: KeyId; readonly value: Erasure }, RosterFault> =>
  read(jws, book, about, (payload, author) => {
    const body = SignedErasure().parse(payload);
    return { ...body, author, value: { by: author, at: body.at, reason: body.erased.reason } };
  });

function read<T extends { readonly book: string; readonly about: string }>(
  jws: string,
  book: BookId,
  about: string,
  parse: (payload: unknown, author: KeyId) => T,
): Result<T, RosterFault> {
  try {
    const [header = "", payload = ""] = jws.split(".");
    const head = z.object({ kid: z.string(), typ: z.literal(ROSTER_TYP) }).parse(json(header));
    const body = parse(json(payload), head.kid as KeyId);
    return body.book === book && body.about === about ? ok(body) : fail({ type: "not-a-roster-record" });
  } catch {
    return fail({ type: "not-a-roster-record" });
  }
}

const json = (part: string): unknown => JSON.parse(new TextDecoder().decode(base64url.decode(part)));
