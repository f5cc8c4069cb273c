/**
 * The frames a relay and its callers exchange: those of y-protocols (0 sync, 1 awareness, 3 query) as y-websocket 3 sends them,
 * one to a WebSocket message, and five of our own, numbered from 64 so that they stay clear of that protocol's. See
 * `packages/relay/PROTOCOL.md` for the equations. One reader for both ends; it never throws, and a frame with bytes left over
 * or of an unknown type is no frame.
 */
import type { Cursor } from "./bytes.ts";
import { asciiBytes, cursorOn, joinBytes, readAscii, readBytes, readUint, uintBytes } from "./bytes.ts";
import type { UpdateRefusal } from "./refusal.ts";

/** The first number of a frame. */
export const frameTypes = {
  sync: 0,
  awareness: 1,
  queryAwareness: 3,
  hello: 64,
  receipt: 65,
  refusal: 66,
  compare: 67,
  digest: 68,
} as const;

/** Bytes of a SHA-256. */
const digestLength = 32;

/** The version of this protocol, in `hello`. */
export const protocolVersion = 1;

/** Yjs client id -> next clock. */
export type StateVector = ReadonlyMap<number, number>;

export type Frame =
  /** Send me what this state lacks. `vector` is the encoded state vector, already known to be readable. */
  | { readonly type: "ask"; readonly vector: Uint8Array }
  /** A page of history in answer to `ask`. */
  | { readonly type: "history"; readonly update: Uint8Array }
  /** Something that was just written. */
  | { readonly type: "update"; readonly update: Uint8Array }
  | { readonly type: "awareness"; readonly state: Uint8Array }
  | { readonly type: "query-awareness" }
  /** Relay only: the id of its store. Sent first, and again as a sign of life. */
  | { readonly type: "hello"; readonly version: number; readonly store: string }
  /** Relay only: up to here everything is durably stored, for the clients named. */
  | { readonly type: "receipt"; readonly stored: StateVector }
  /** Relay only: this was not taken. */
  | { readonly type: "refusal"; readonly refusal: UpdateRefusal }
  /** Tell me the digest of all you have. */
  | { readonly type: "compare" }
  /** Relay only: the digest of everything below this vector. */
  | { readonly type: "digest"; readonly vector: StateVector; readonly digest: Uint8Array };

export function readFrame(bytes: Uint8Array): Frame | null {
  const cursor = cursorOn(bytes);
  const frame = readTyped(cursor);
  return cursor.failed || cursor.at < bytes.length ? null : frame;
}

function readTyped(cursor: Cursor): Frame | null {
  switch (readUint(cursor)) {
    case frameTypes.sync:
      return readSync(cursor);
    case frameTypes.awareness:
      return { type: "awareness", state: readBytes(cursor) };
    case frameTypes.queryAwareness:
      return { type: "query-awareness" };
    case frameTypes.hello: {
      const version = readUint(cursor);
      const store = readAscii(cursor, 64);
      return store === null ? null : { type: "hello", version, store };
    }
    case frameTypes.receipt: {
      const stored = readStateVector(readBytes(cursor));
      return stored === null ? null : { type: "receipt", stored };
    }
    case frameTypes.refusal: {
      const refusal = refusalFrom(readAscii(cursor, 1000));
      return refusal === null ? null : { type: "refusal", refusal };
    }
    case frameTypes.compare:
      return { type: "compare" };
    case frameTypes.digest: {
      const vector = readStateVector(readBytes(cursor));
      const digest = readBytes(cursor);
      return vector === null || digest.length !== digestLength ? null : { type: "digest", vector, digest };
    }
    default:
      return null;
  }
}

function readSync(cursor: Cursor): Frame | null {
  const step = readUint(cursor);
  const body = readBytes(cursor);
  if (step === 0) return readStateVector(body) === null ? null : { type: "ask", vector: body };
  if (step === 1) return { type: "history", update: body };
  return step === 2 ? { type: "update", update: body } : null;
}

/** A refusal travels as ASCII JSON. A type this version does not know is passed on as it is: it is shown, not acted on. */
function refusalFrom(text: string | null): UpdateRefusal | null {
  try {
    const value: unknown = JSON.parse(text ?? "");
    const typed = typeof value === "object" && value !== null && "type" in value && typeof value.type === "string";
    return typed ? (value as UpdateRefusal) : null;
  } catch {
    return null;
  }
}

/** An encoded Yjs state vector as a map, or null if it is not one. */
export function readStateVector(bytes: Uint8Array): StateVector | null {
  const cursor = cursorOn(bytes);
  const vector = new Map<number, number>();
  for (let left = readUint(cursor); left > 0 && !cursor.failed; left -= 1)
    vector.set(readUint(cursor), readUint(cursor));
  return cursor.failed || cursor.at < bytes.length ? null : vector;
}

/** As Yjs encodes it, highest client id first. */
export function stateVectorBytes(vector: StateVector): Uint8Array {
  const sorted = [...vector].sort(([a], [b]) => b - a);
  return uintBytes([sorted.length, ...sorted.flat()]);
}

export const askFrame = (vector: Uint8Array): Uint8Array => framed([frameTypes.sync, 0], vector);
export const historyFrame = (update: Uint8Array): Uint8Array => framed([frameTypes.sync, 1], update);
export const updateFrame = (update: Uint8Array): Uint8Array => framed([frameTypes.sync, 2], update);
export const awarenessFrame = (state: Uint8Array): Uint8Array => framed([frameTypes.awareness], state);
export const helloFrame = (store: string): Uint8Array => framed([frameTypes.hello, protocolVersion], asciiBytes(store));
export const receiptFrame = (stored: StateVector): Uint8Array => framed([frameTypes.receipt], stateVectorBytes(stored));
export const refusalFrame = (refusal: UpdateRefusal): Uint8Array =>
  framed([frameTypes.refusal], asciiBytes(JSON.stringify(refusal)));
export const compareFrame = (): Uint8Array => uintBytes([frameTypes.compare]);
/** `vector` as Yjs encodes it. */
export const digestFrame = (vector: Uint8Array, digest: Uint8Array): Uint8Array =>
  joinBytes([framed([frameTypes.digest], vector), uintBytes([digest.length]), digest]);

const framed = (head: readonly number[], body: Uint8Array): Uint8Array =>
  joinBytes([uintBytes([...head, body.length]), body]);
