/**
 * Canonical JSON, RFC 8785, by the `canonicalize` package. The package drops `undefined` and lets a lone surrogate through,
 * which the RFC calls an error: so its text is checked. Bodies hold integers only, hence no number can be written two ways.
 * Rejected: signing the bytes as they came (a record re-encoded by another program would no longer verify) and CBOR (no JOSE
 * library would check it).
 */
import { utf8ToBytes } from "@noble/hashes/utils.js";
import canonicalize from "canonicalize";

/** JSON.stringify writes a surrogate as an escape exactly when it stands alone. */
const loneSurrogate = /(?<!\\)(?:\\\\)*\\u[dD][89a-fA-F]/;

/** The canonical text of JSON data. Throws on data that JSON or the RFC cannot carry: callers pass data they made or parsed. */
export function canonicalText(data: unknown): string {
  const text = canonicalize(data);
  if (text === undefined || loneSurrogate.test(text)) throw new Error("not representable in RFC 8785 JSON");
  return text;
}

export const canonicalBytes = (data: unknown): Uint8Array => utf8ToBytes(canonicalText(data));
