/**
 * What a relay and its callers must agree on about a room: its two kinds and its path; the token that opens it is in `token.ts`, why
 * a connection ends in `ending.ts`. A room is named by an Ed25519 public key derived from its book's secret, so whoever can sign with
 * that key holds the secret, and the relay needs no accounts. Rejected: free room names (an empty or mistyped one silently joins strangers).
 */
import * as z from "zod/mini";
import { PublicKey } from "../ids.ts";
import { later } from "../made-later.ts";

/** `ledger`: one append-only array of envelopes. `roster`: one map of envelopes by key, whose values can be erased. */
export const RoomKind = later(() => z.enum(["ledger", "roster"]));
export type RoomKind = z.infer<ReturnType<typeof RoomKind>>;

/** A room's name: its Ed25519 public key, 32 bytes base64url, 43 characters. */
export const RoomName = PublicKey;
export type RoomName = PublicKey;

/** The name of the one Yjs root type a room's document may have. */
export const roomRoots: { readonly [K in RoomKind]: string } = { ledger: "entries", roster: "roster" };

/** The path of a room at a relay, without the origin; its nonce is at the same path with `/nonce` behind it. */
export const roomPath = (kind: RoomKind, room: RoomName): string => `/rooms/${kind}/${room}`;

/** The `typ` of a token's protected header, so that no other signature of a room key can be passed off as one. */
export const tokenType = "sward-token";
