/**
 * The token that opens a room at a relay, and the nonce it answers. Apart from `room.ts`, since a page that opens its record without a
 * signal needs a room's name and none of this.
 */
import * as z from "zod/mini";
import { RoomKind, RoomName } from "./room.ts";

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
  room: RoomName(),
  kind: RoomKind(),
  nonce: z.string(),
  exp: z.int(),
});
export type TokenClaims = z.infer<typeof TokenClaims>;
