/**
 * What a relay and its callers must agree on about a room: its two kinds, its path, the token that opens it, and why a
 * connection ends. A room is named by an Ed25519 public key derived from its book's secret, so whoever can sign with that key
 * holds the secret, and the relay needs no accounts. Rejected: free room names (an empty or mistyped one silently joins
 * strangers) and a HTTP status at the upgrade (a browser only sees close code 1006 and retries for ever).
 */
import * as z from "zod/mini";
import { PublicKey } from "../ids.ts";

/** `ledger`: one append-only array of envelopes. `roster`: one map of envelopes by key, whose values can be erased. */
export const RoomKind = z.enum(["ledger", "roster"]);
export type RoomKind = z.infer<typeof RoomKind>;

/** A room's name: its Ed25519 public key, 32 bytes base64url, 43 characters. */
export const RoomName = PublicKey;
export type RoomName = z.infer<typeof RoomName>;

/** The name of the one Yjs root type a room's document may have. */
export const roomRoots: { readonly [K in RoomKind]: string } = { ledger: "entries", roster: "roster" };

/** The path of a room at a relay, without the origin; its nonce is at the same path with `/nonce` behind it. */
export const roomPath = (kind: RoomKind, room: RoomName): string => `/rooms/${kind}/${room}`;

/** The `typ` of a token's protected header, so that no other signature of a room key can be passed off as one. */
export const tokenType = "sward-token";

/** The longest a token may be valid, in seconds, from the relay's clock. */
export const tokenSeconds = 60;

/** What `GET <room path>/nonce` answers. `relay` is the origin the token must name; `expires` is seconds since 1970. */
export const NonceReply = z.lazy(() =>
  z.object({
    nonce: z.string().check(z.minLength(16), z.maxLength(200)),
    relay: z.string().check(z.minLength(1), z.maxLength(300)),
    expires: z.int(),
    /** Other relays of the same store, where this room can be entered too; a relay that stands alone says nothing. */
    others: z.optional(z.array(z.string().check(z.maxLength(300))).check(z.maxLength(16))),
  }),
);
export type NonceReply = z.infer<typeof NonceReply>;

/**
 * What the room key signs, as the payload of a compact JWS (RFC 7515; header `{alg: "EdDSA", typ: "sward-token", kid}`).
 * `aud` is the origin the client dialled, never what a relay says of itself: otherwise a rogue relay could pass the token on.
 */
export const TokenClaims = z.object({
  aud: z.string(),
  room: RoomName,
  kind: RoomKind,
  nonce: z.string(),
  exp: z.int(),
});
export type TokenClaims = z.infer<typeof TokenClaims>;

/** WebSocket close codes a relay sends. 44xx: trying again changes nothing, except after `staleToken`. */
export const closeCodes = {
  goingAway: 1001,
  tooLong: 1009,
  relayFault: 1011,
  tryLater: 1013,
  badMessage: 4400,
  staleToken: 4401,
  wrongToken: 4403,
  noSuchRoom: 4404,
} as const;

/** Whether a client that was closed with this code may dial again. */
export const mayRedial = (code: number): boolean =>
  code === closeCodes.staleToken || (code !== closeCodes.tooLong && (code < 4400 || code > 4499));
