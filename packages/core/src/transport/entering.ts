/**
 * The two frames with which a caller enters a room in one go: the relay's challenge, which is what it answers when it is asked for a
 * nonce, and the token made of it. Apart from the other frames because nobody ever sends them to a caller who is in: from then on they
 * are no frames. See `packages/relay/PROTOCOL.md`.
 */
import type { Cursor } from "./bytes.ts";
import { asciiBytes, cursorOn, joinBytes, readAscii, readUint, uintBytes } from "./bytes.ts";
import { NonceReply } from "./token.ts";

/** The first number of a frame. */
const challengeType = 69;
const tokenFrameType = 70;

/** What a caller who wants to be challenged puts in the place of a token in the address it dials. */
export const challengeQuery = "challenge";

/** The longest token that is looked at, in bytes. */
export const longestToken = 2000;
/** Of a challenge, in bytes: sixteen other relays with the longest names. */
const longestChallenge = 6000;

export const challengeFrame = (reply: NonceReply): Uint8Array =>
  framed(challengeType, asciiBytes(JSON.stringify(reply)));
export const tokenFrame = (token: string): Uint8Array => framed(tokenFrameType, asciiBytes(token));

/** Null if it is no challenge. Never throws. */
export function readChallenge(frame: Uint8Array): NonceReply | null {
  try {
    const reply = NonceReply.safeParse(JSON.parse(readFramed(frame, challengeType, longestChallenge) ?? ""));
    return reply.success ? reply.data : null;
  } catch {
    return null;
  }
}

/** Null if it is no token. Never throws. */
export const readToken = (frame: Uint8Array): string | null => readFramed(frame, tokenFrameType, longestToken);

function readFramed(frame: Uint8Array, type: number, limit: number): string | null {
  const cursor: Cursor = cursorOn(frame);
  if (readUint(cursor) !== type) return null;
  const text = readAscii(cursor, limit);
  return cursor.failed || cursor.at < frame.length ? null : text;
}

const framed = (type: number, body: Uint8Array): Uint8Array => joinBytes([uintBytes([type, body.length]), body]);
