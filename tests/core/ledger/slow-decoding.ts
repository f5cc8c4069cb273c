/**
 * Entries read by their forms alone, one step after another: each payload through zod, then written anew and compared. It is how core
 * read all of them before it had a quicker way for most, and is kept here for that way to be held against.
 */
import type { Entry, EntryFault, Kind, Payload, Result } from "@sward/core";
import {
  bodies,
  canonicalText,
  digestOf,
  ENTRY_TYP,
  fail,
  KeyId,
  MAX_DEPTH,
  MAX_ENTRY_LENGTH,
  ok,
  payloadForm,
} from "@sward/core";

const signatureShape = /^[A-Za-z0-9_-]{86}$/;

const base64url = (text: string): string => Buffer.from(text, "utf8").toString("base64url");

const decoder = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });

/** Throws unless it is the one spelling of its bytes. */
export function strictly(segment: string): Uint8Array {
  const bytes = Buffer.from(segment, "base64url");
  if (bytes.toString("base64url") !== segment) throw new Error("not the base64url of anything");
  return bytes;
}

const headerPart = (author: KeyId): string => base64url(canonicalText({ alg: "EdDSA", kid: author, typ: ENTRY_TYP }));

const isKind = (kind: string): kind is Kind => Object.hasOwn(bodies, kind);

/** As `decodeEntry` says of itself. */
export function decodeSlowly(jws: string): Result<Entry, EntryFault> {
  if (jws.length > MAX_ENTRY_LENGTH) return fail({ type: "too-long", length: jws.length });
  const [header, body, signature, ...rest] = jws.split(".");
  if (header === undefined || body === undefined || rest.length > 0 || !signatureShape.test(signature ?? "")) {
    return fail({ type: "not-compact-jws" });
  }
  const author = authorOf(header);
  if (author === null) return fail({ type: "bad-header" });
  const segment = readSegment(body);
  if (isDeeperThan(segment.json, MAX_DEPTH)) return fail({ type: "bad-payload", path: "body" });
  const parsed = payloadForm().safeParse(segment.json);
  if (!parsed.success) return fail({ type: "bad-payload", path: parsed.error.issues[0]?.path.join(".") ?? "" });
  if (!isCanonical(parsed.data, segment, body)) return fail({ type: "not-canonical" });

  const payload = parsed.data;
  const head = {
    id: digestOf(`${header}.${body}`),
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

function authorOf(header: string): KeyId | null {
  const data = readSegment(header).json;
  const kid = typeof data === "object" && data !== null && "kid" in data ? data.kid : undefined;
  const author = KeyId().safeParse(kid);
  return author.success && headerPart(author.data) === header ? author.data : null;
}

interface Segment {
  readonly bytes: number;
  readonly text: string;
  readonly json: unknown;
}

const unreadable: Segment = { bytes: 0, text: "", json: undefined };

/** Strict: a segment has one spelling, with no idle bits in its last character, and is UTF-8. */
function readSegment(segment: string): Segment {
  try {
    const bytes = strictly(segment);
    const text = decoder.decode(bytes);
    return { bytes: bytes.length, text, json: JSON.parse(text) };
  } catch {
    return unreadable;
  }
}

/** Whether the segment's bytes are exactly the canonical ones. */
function isCanonical(payload: Payload, { bytes, text }: Segment, segment: string): boolean {
  try {
    const canonical = canonicalText(payload);
    // As many characters as bytes: plain ASCII. Else a byte order mark could hide, which decoding drops.
    if (bytes === text.length) return canonical === text;
    return base64url(canonical) === segment;
  } catch {
    // A lone surrogate.
    return false;
  }
}

const isDeeperThan = (data: unknown, depth: number): boolean =>
  typeof data === "object" && data !== null
    ? depth === 0 || Object.values(data).some((inner) => isDeeperThan(inner, depth - 1))
    : false;
