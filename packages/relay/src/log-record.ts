/**
 * How one write stands in a log whose messages have a longest length. A message is a part of a record, and a record counts when all
 * of its parts are there: so a write is whole or nothing however long it is, a part that comes twice does no harm, and parts of a
 * writer that died in the middle lie there and mean nothing.
 *
 *     message = byte(form) · id, 16 bytes · uint(part) · uint(parts) · a piece of the record
 *     record  = uint(over) · ( uint(length) · update )*
 *     form    = 1 adds to what the room has, 2 takes its place
 *     id      = the first 16 bytes of the SHA-256 of the record
 *
 * Rejected: one message for each update (a write of sixty-four would not be whole or nothing), and a longer limit at the server (a
 * server as it is sold could not be used).
 */
import { createHash } from "node:crypto";
import * as decoding from "lib0/decoding";
import * as encoding from "lib0/encoding";

export interface LogRecord {
  readonly form: "adds" | "replaces";
  /** Of one that replaces: the number of the last record that counted when it was made (`standing.ts`). Else 0. */
  readonly over: number;
  readonly updates: readonly Uint8Array[];
}

const idLength = 16;
/** The form, the id and two numbers. */
const headLength = 1 + idLength + 2 * 5;
/** Records of which a part is missing; more than this are given up, the oldest first. */
const mostIncomplete = 256;

/** Messages of at most `longest` bytes. */
export function encodeRecord({ form, over, updates }: LogRecord, longest: number): Uint8Array[] {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, over);
  for (const update of updates) encoding.writeVarUint8Array(encoder, update);
  const record = encoding.toUint8Array(encoder);
  const id = createHash("sha256").update(record).digest().subarray(0, idLength);
  const piece = longest - headLength;
  const parts = Math.max(1, Math.ceil(record.length / piece));
  return Array.from({ length: parts }, (_, part) => {
    const message = encoding.createEncoder();
    encoding.writeUint8(message, form === "adds" ? 1 : 2);
    encoding.writeUint8Array(message, id);
    encoding.writeVarUint(message, part);
    encoding.writeVarUint(message, parts);
    encoding.writeUint8Array(message, record.subarray(part * piece, (part + 1) * piece));
    return encoding.toUint8Array(message);
  });
}

/** Puts records together from messages in the log's order. */
export interface Joiner {
  /** The record of which this was the last missing part, else null. `seq`: the message's number. Throws at what is not ours. */
  take(message: Uint8Array, seq: number): JoinedRecord | null;
}

export interface JoinedRecord extends LogRecord {
  readonly id: string;
  /** Numbers of the first of its messages and of the one that made it whole. */
  readonly first: number;
  readonly last: number;
}

interface Incomplete {
  readonly pieces: (Uint8Array | undefined)[];
  readonly first: number;
}

export function createJoiner(): Joiner {
  const incomplete = new Map<string, Incomplete>();
  return {
    take: (message, seq) => {
      const decoder = decoding.createDecoder(message);
      const form = decoding.readUint8(decoder);
      const id = decoding.readUint8Array(decoder, idLength);
      const [part, parts] = [decoding.readVarUint(decoder), decoding.readVarUint(decoder)];
      if ((form !== 1 && form !== 2) || part >= parts) throw new Error("not a message of this log");
      const piece = decoding.readTailAsUint8Array(decoder);
      if (parts === 1) return { ...recordOf(form, id, piece), first: seq, last: seq };
      const name = `${form}/${parts}/${Buffer.from(id).toString("hex")}`;
      const known = incomplete.get(name);
      const { pieces, first } = known ?? { pieces: Array<Uint8Array | undefined>(parts).fill(undefined), first: seq };
      pieces[part] = piece.slice();
      if (known === undefined) incomplete.set(name, { pieces, first });
      if (pieces.includes(undefined)) {
        const [oldest] = incomplete.keys();
        if (incomplete.size > mostIncomplete && oldest !== undefined) incomplete.delete(oldest);
        return null;
      }
      incomplete.delete(name);
      return { ...recordOf(form, id, Buffer.concat(pieces as Uint8Array[])), first, last: seq };
    },
  };
}

function recordOf(form: 1 | 2, id: Uint8Array, record: Uint8Array): LogRecord & { readonly id: string } {
  const hash = createHash("sha256").update(record).digest().subarray(0, idLength);
  if (!hash.equals(id)) throw new Error("a record of this log is damaged");
  const decoder = decoding.createDecoder(record);
  const over = decoding.readVarUint(decoder);
  const updates: Uint8Array[] = [];
  while (decoding.hasContent(decoder)) updates.push(new Uint8Array(decoding.readVarUint8Array(decoder)));
  return { form: form === 1 ? "adds" : "replaces", over, updates, id: hash.toString("hex") };
}
