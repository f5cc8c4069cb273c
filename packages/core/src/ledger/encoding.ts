/**
 * The form of an entry: a compact JWS (RFC 7515, EdDSA of RFC 8037) over RFC 8785 JSON of its payload. Any JOSE library in any
 * language can check one with no software of ours. Header and payload have exactly one encoding each and a text that is not that
 * encoding is refused, so one statement cannot travel under two ids.
 *
 * The id is the SHA-256 of the signing input and leaves the signature out: a signature that two signers of one key would make
 * differently still names one statement. Rejected: hashing the whole JWS.
 *
 * SPEC: LE.
 */
import { sha256 } from "@noble/hashes/sha2.js";
import { utf8ToBytes } from "@noble/hashes/utils.js";
import * as z from "zod/mini";
import type { EntryId, KeyId, PublicKey } from "../ids.ts";
import { KeyId as KeyIdShape } from "../ids.ts";
import type { Result } from "../result.ts";
import { fail, ok } from "../result.ts";
import { base64urlOf, textOfSegment } from "./base64url.ts";
import { canonicalBytes, canonicalText } from "./canonical.ts";
import type { Entry } from "./entry.ts";
import type { Kind, Payload } from "./kinds.ts";
import { bodies, payloadForm } from "./kinds.ts";
import type { Surely } from "./quick-form.ts";
import { surelyOf } from "./quick-form.ts";

/** Longest compact JWS taken as an entry, in characters. */
export const MAX_ENTRY_LENGTH = 32 * 1024;

/**
 * Deepest nesting of a payload. Without a limit of ours the depth of the machine's stack would be one: a text that one device can
 * read and another cannot would be a gap in the chain for the second only.
 */
export const MAX_DEPTH = 32;

/** An Ed25519 signature, 64 bytes base64url. */
const signatureShape = /^[A-Za-z0-9_-]{86}$/;

/** `typ` of the protected header: keeps a signature made for something else from being read as an entry. */
export const ENTRY_TYP = "sward-entry";

export type EntryFault =
  | { readonly type: "too-long"; readonly length: number }
  | { readonly type: "not-compact-jws" }
  | { readonly type: "bad-header" }
  | { readonly type: "bad-payload"; readonly path: string }
  | { readonly type: "not-canonical" };

/** SHA-256 as base64url without padding. */
export const digestOf = (text: string): EntryId => base64urlOf(sha256(utf8ToBytes(text))) as EntryId;

/** JWK thumbprint (RFC 7638) of an Ed25519 public key. */
export const keyIdOf = (key: PublicKey): KeyId =>
  digestOf(`{"crv":"Ed25519","kty":"OKP","x":"${key}"}`) as string as KeyId;

const headerPart = (author: KeyId): string =>
  base64urlOf(canonicalBytes({ alg: "EdDSA", kid: author, typ: ENTRY_TYP }));

/** What the author signs: ASCII of `header.payload`. */
export const signingInput = (author: KeyId, payload: Payload): string =>
  `${headerPart(author)}.${base64urlOf(canonicalBytes(payload))}`;

const isKind = (kind: string): kind is Kind => Object.hasOwn(bodies, kind);

/**
 * Reads a compact JWS as an entry and checks its form, not its signature. Never throws.
 *
 * A later version, an unknown kind, or a body this version cannot read gives an entry with `understood: false`.
 *
 * @param authors headers read before and the author each names, filled as it goes: a device's entries all have the same one
 * @param digest as `digestOf`; for who has had the platform hash the signing input before, which takes half the time
 */
export function decodeEntry(
  jws: string,
  authors: Map<string, KeyId> = new Map(),
  digest: (signingInput: string) => EntryId = digestOf,
): Result<Entry, EntryFault> {
  if (jws.length > MAX_ENTRY_LENGTH) return fail({ type: "too-long", length: jws.length });
  const [header, body, signature, ...rest] = jws.split(".");
  if (header === undefined || body === undefined || rest.length > 0 || !signatureShape.test(signature ?? "")) {
    return fail({ type: "not-compact-jws" });
  }
  const author = authors.get(header) ?? authorOf(header);
  if (author === null) return fail({ type: "bad-header" });
  authors.set(header, author);
  const text = textOfSegment(body) ?? "";
  const json = jsonOf(text);
  if (isSurelyPayload(json) && isSurelyCanonical(text, json)) {
    const { at, book, body: said, kind, prev, seq } = json;
    const id = digest(jws.slice(0, header.length + 1 + body.length));
    return ok({ id, author, book, seq, prev, at, understood: true, kind, body: said } as unknown as Entry);
  }
  if (isDeeperThan(json, MAX_DEPTH)) return fail({ type: "bad-payload", path: "body" });
  const parsed = payloadForm().safeParse(json);
  if (!parsed.success) return fail({ type: "bad-payload", path: parsed.error.issues[0]?.path.join(".") ?? "" });
  if (!isCanonical(text, parsed.data)) return fail({ type: "not-canonical" });

  const payload = parsed.data;
  const head = {
    id: digest(`${header}.${body}`),
    author,
    book: payload.book,
    seq: payload.seq,
    prev: payload.prev,
    at: payload.at,
  };
  if (payload.v === 1 && isKind(payload.kind)) {
    const known = bodies[payload.kind].safeParse(payload.body);
    if (known.success) return ok({ ...head, understood: true, kind: payload.kind, body: known.data } as Entry);
  }
  return ok({ ...head, understood: false, kind: payload.kind, v: payload.v });
}

/** By kind, whether data is surely a payload this version understands. */
const surely = new Map<Kind, Surely>();

function isSurelyPayload(json: unknown): json is Payload {
  if (typeof json !== "object" || json === null || !("kind" in json)) return false;
  const { kind } = json;
  if (typeof kind !== "string" || !isKind(kind)) return false;
  let check = surely.get(kind);
  if (check === undefined) {
    const form = { ...payloadForm().shape, v: z.literal(1), kind: z.literal(kind), body: bodies[kind] };
    check = surelyOf(z.strictObject(form));
    surely.set(kind, check);
  }
  return check(json);
}

function authorOf(header: string): KeyId | null {
  const data = jsonOf(textOfSegment(header) ?? "");
  const kid = typeof data === "object" && data !== null && "kid" in data ? data.kid : undefined;
  const author = KeyIdShape().safeParse(kid);
  return author.success && headerPart(author.data) === header ? author.data : null;
}

/** Undefined for what is no JSON. */
function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/**
 * Whether the text is the RFC's, of data whose members are in its order: JSON.stringify writes everything else as it does, but for lone
 * surrogates, of which there are none where there is no escape.
 */
const isSurelyCanonical = (text: string, json: unknown): boolean =>
  !text.includes("\\") && JSON.stringify(json) === text;

function isCanonical(text: string, payload: Payload): boolean {
  try {
    return canonicalText(payload) === text;
  } catch {
    // A lone surrogate.
    return false;
  }
}

const isDeeperThan = (data: unknown, depth: number): boolean =>
  typeof data === "object" && data !== null
    ? depth === 0 || Object.values(data).some((inner) => isDeeperThan(inner, depth - 1))
    : false;
