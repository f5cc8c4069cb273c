/**
 * The names things have in a book. Branded, so that a player's id cannot be passed where an entry's is wanted. None of them
 * says anything about a person: player, event and fixture ids are 128 random bits made outside core. Each form is made when it is first
 * asked for (`made-later.ts`).
 */
import * as z from "zod/mini";
import { later } from "./made-later.ts";

const base64url = (bytes: number) => {
  const length = Math.ceil((bytes * 4) / 3);
  return z.string().check(z.regex(new RegExp(`^[A-Za-z0-9_-]{${length}}$`)));
};

const [hash, random] = [later(() => base64url(32)), later(() => base64url(16))];

/** JWK thumbprint (RFC 7638, SHA-256) of an Ed25519 public key: who signed. A device, a club's root or a book's root. */
export const KeyId = later(() => hash().brand<"KeyId">());
export type KeyId = z.infer<ReturnType<typeof KeyId>>;

/** An Ed25519 public key, the `x` of its JWK (RFC 8037), 32 bytes base64url. */
export const PublicKey = later(() => hash().brand<"PublicKey">());
export type PublicKey = z.infer<ReturnType<typeof PublicKey>>;

/** A book is named by the key id of its root key, so a record can be checked up to its root with nothing but the file. */
export const BookId = later(() => hash().brand<"BookId">());
export type BookId = z.infer<ReturnType<typeof BookId>>;

/** SHA-256 of an entry's JWS signing input, 32 bytes base64url. */
export const EntryId = later(() => hash().brand<"EntryId">());
export type EntryId = z.infer<ReturnType<typeof EntryId>>;

/** A person in the sporting record, 128 random bits; the same id in every book that speaks of the person, or linked. */
export const PlayerId = later(() => random().brand<"PlayerId">());
export type PlayerId = z.infer<ReturnType<typeof PlayerId>>;

/** A tournament, competition or other run of games that belong together, 128 random bits. */
export const EventId = later(() => random().brand<"EventId">());
export type EventId = z.infer<ReturnType<typeof EventId>>;

/** A meeting of two clubs in a league, 128 random bits. */
export const FixtureId = later(() => random().brand<"FixtureId">());
export type FixtureId = z.infer<ReturnType<typeof FixtureId>>;

/** The identity of a match, two reports of which are one match: see SPEC MA. Built by `matches/identity.ts` only. */
export type MatchKey = string & { readonly __match: true };
