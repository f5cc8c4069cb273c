/**
 * Asks and answers are compact JWS (RFC 7515, EdDSA), each with a `typ` of its own, so that neither can be passed off as the other, as an
 * entry, or as a room's token.
 */
import type { PublicKey, Result } from "@sward/core";
import { canonicalBytes, fail, keyIdOf, ok } from "@sward/core";
import { base64url } from "jose";
import type { Signer } from "../keys/signer.ts";
import { createVerifier } from "../keys/verifier.ts";
import type { InviteFault } from "./faults.ts";
import { isNewer } from "./invitation.ts";

export const signMessage = (signer: Signer, typ: string, payload: Parameters<typeof canonicalBytes>[0]) =>
  signer.sign({ typ }, canonicalBytes(payload));

/** The `typ` and payload of what may be one of ours; nothing is checked yet. Null when it is not even that. */
export function peek(jws: string): { readonly typ: unknown; readonly kid: unknown; readonly payload: unknown } | null {
  try {
    const [header = "", payload = "", signature, more] = jws.split(".");
    if (signature === undefined || more !== undefined) return null;
    // One statement has one text: the last letter of base64url has bits to spare, and they must be idle.
    for (const part of [header, payload, signature]) if (base64url.encode(base64url.decode(part)) !== part) return null;
    const head = json(header) as { readonly typ?: unknown; readonly kid?: unknown } | null;
    return typeof head === "object" && head !== null ? { typ: head.typ, kid: head.kid, payload: json(payload) } : null;
  } catch {
    return null;
  }
}

const json = (part: string): unknown =>
  JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(base64url.decode(part)));

interface Shape<T> {
  safeParse(given: unknown): { readonly success: true; readonly data: T } | { readonly success: false };
}

/** Reads and checks: form first, then that the key named by `keyOf` has signed it. Never throws. */
export async function readMessage<T>(
  jws: string,
  { typ, shape, keyOf }: { readonly typ: string; readonly shape: Shape<T>; readonly keyOf: (payload: T) => PublicKey },
): Promise<Result<T, InviteFault>> {
  const seen = peek(jws);
  if (seen === null || seen.typ !== typ) return fail({ type: "parcel-broken" });
  const parsed = shape.safeParse(seen.payload);
  if (!parsed.success) return fail({ type: isNewer(seen.payload) ? "made-by-newer" : "parcel-broken" });
  const key = keyOf(parsed.data);
  const verifier = createVerifier();
  verifier.learn(key);
  const author = keyIdOf(key);
  if (seen.kid !== author || !(await verifier.verify(jws, author))) return fail({ type: "parcel-broken" });
  return ok(parsed.data);
}
