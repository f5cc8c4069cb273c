/**
 * Who may enter a room: whoever can sign, with the room's own key, a nonce this relay gave out for that room a moment ago, in a
 * token that names this relay. The room, relay and nonce in it keep one relay from using at another what it was shown.
 *
 * Nonces carry their own proof (a MAC of room and expiry under a key of this process), so giving them out costs no memory;
 * only those that opened a room are remembered, until they expire. Rejected: a table of nonces given out, which anybody can fill.
 */
import { createHmac, timingSafeEqual } from "node:crypto";
import { closeCodes, longestToken, TokenClaims, tokenSeconds } from "@sward/core";
import type { RoomKey } from "./storage.ts";
import { roomKeyText } from "./storage.ts";
import { isSignedBy } from "./token-signature.ts";

/** Why a caller is turned away; `reason` is a word for the close frame. */
export interface Turned {
  readonly code: number;
  readonly reason:
    | "token-missing"
    | "token-stale"
    | "token-unreadable"
    | "token-for-another-relay"
    | "token-for-another-room"
    | "token-lasts-too-long"
    | "token-signature";
}

export interface Doorkeeper {
  /** A nonce for this room, good until `expires` (seconds since 1970). */
  nonce(key: RoomKey): { readonly nonce: string; readonly expires: number };
  /** Null: let in, and the nonce is spent. `origins`: what this relay is called from outside. */
  check(token: string | undefined, key: RoomKey, origins: readonly string[]): Turned | null;
}

export interface DoorkeeperDeps {
  /** Milliseconds since 1970. */
  readonly now: () => number;
  readonly random: (bytes: number) => Uint8Array;
}

export function createDoorkeeper({ now, random }: DoorkeeperDeps): Doorkeeper {
  const secret = random(32);
  const spent = new Map<string, number>();
  const seconds = (): number => Math.floor(now() / 1000);
  const seal = (key: RoomKey, expires: number, salt: string): string =>
    createHmac("sha256", secret)
      .update(`${roomKeyText(key)} ${expires} ${salt}`)
      .digest("base64url");
  const isOurs = (nonce: string, key: RoomKey): boolean => {
    const [expires = "", salt = "", mac = ""] = nonce.split(".");
    const good = Buffer.from(seal(key, Number(expires), salt));
    const given = Buffer.from(mac);
    return good.length === given.length && timingSafeEqual(good, given) && Number(expires) > seconds();
  };
  const spend = (nonce: string, expires: number): boolean => {
    const at = seconds();
    for (const [old, until] of spent) if (until <= at) spent.delete(old);
    if (spent.has(nonce)) return false;
    spent.set(nonce, expires);
    return true;
  };
  return {
    nonce: (key) => {
      const expires = seconds() + tokenSeconds;
      const salt = Buffer.from(random(16)).toString("base64url");
      return { nonce: `${expires}.${salt}.${seal(key, expires, salt)}`, expires };
    },
    check: (token, key, origins) => {
      if (token === undefined || token === "") return turned(closeCodes.staleToken, "token-missing");
      const claims = claimsOf(token);
      if (claims === null) return turned(closeCodes.wrongToken, "token-unreadable");
      if (!origins.includes(claims.aud)) return turned(closeCodes.wrongToken, "token-for-another-relay");
      if (claims.room !== key.room || claims.kind !== key.kind) {
        return turned(closeCodes.wrongToken, "token-for-another-room");
      }
      if (claims.exp > seconds() + tokenSeconds) {
        // As long as we said ourselves: our clock has been put back since, and another nonce will do.
        const ours = isOurs(claims.nonce, key) && claims.exp === Number(claims.nonce.split(".")[0]);
        return ours
          ? turned(closeCodes.staleToken, "token-stale")
          : turned(closeCodes.wrongToken, "token-lasts-too-long");
      }
      if (claims.exp <= seconds() || !isOurs(claims.nonce, key)) return turned(closeCodes.staleToken, "token-stale");
      if (!isSignedBy(token, key.room)) return turned(closeCodes.wrongToken, "token-signature");
      return spend(claims.nonce, seconds() + tokenSeconds) ? null : turned(closeCodes.staleToken, "token-stale");
    },
  };
}

const turned = (code: number, reason: Turned["reason"]): Turned => ({ code, reason });

/** The claims, not yet to be believed; null if the token is nothing of ours. */
function claimsOf(token: string): TokenClaims | null {
  const payload = token.length > longestToken ? undefined : token.split(".")[1];
  try {
    const read = TokenClaims.safeParse(JSON.parse(Buffer.from(payload ?? "", "base64url").toString("utf8")));
    return read.success ? read.data : null;
  } catch {
    return null;
  }
}
