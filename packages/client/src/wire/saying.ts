/**
 * What is said in a room to whoever is there, as a y-protocols awareness update of one client: the relay passes those on and keeps
 * none, and any other client of that protocol reads a state it does not know. Rejected: a frame of our own (a relay of an earlier
 * version ends the connection over one).
 *
 *     uint(1) · uint(client) · uint(clock) · text({"sward": base64url of the bytes})
 */
import { base64url } from "jose";
import * as decoding from "lib0/decoding";
import * as encoding from "lib0/encoding";
import * as z from "zod/mini";

/** Bytes that may be said at once: what a relay still passes on, less the form. */
export const longestSaying = 720;

const State = z.object({ sward: z.string().check(z.maxLength(1000)) });

export function encodeSaying(client: number, clock: number, bytes: Uint8Array): Uint8Array {
  const encoder = encoding.createEncoder();
  for (const value of [1, client, clock]) encoding.writeVarUint(encoder, value);
  encoding.writeVarString(encoder, JSON.stringify({ sward: base64url.encode(bytes) }));
  return encoding.toUint8Array(encoder);
}

/** What was said; null when it is anything else. Never throws. */
export function decodeSaying(state: Uint8Array): Uint8Array | null {
  try {
    const decoder = decoding.createDecoder(state);
    const [clients] = [decoding.readVarUint(decoder), decoding.readVarUint(decoder), decoding.readVarUint(decoder)];
    const read = State.safeParse(JSON.parse(decoding.readVarString(decoder)));
    return clients === 1 && read.success ? base64url.decode(read.data.sward) : null;
  } catch {
    return null;
  }
}
