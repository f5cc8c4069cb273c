/**
 * Ed25519 and X25519 on a platform that has neither, by `@noble/curves`. Signing is the library's own. Checking is RFC 8032's 5.1.7
 * without the cofactor, as the platforms do it, by the library's points: the library's own check takes the cofactored equation, so
 * that a signature made with a point of small order in it would count on the one device and not on the other.
 */
import { ed25519, x25519 } from "@noble/curves/ed25519.js";
import { base64url } from "jose";
import type { Ed25519 } from "./ed25519.ts";

const { Point } = ed25519;
/** The order of the base point. */
const ORDER = Point.Fn.ORDER;

/** RFC 8032 writes numbers with the lowest byte first. */
const numberOf = (bytes: Uint8Array): bigint => bytes.reduceRight((sum, byte) => sum * 256n + BigInt(byte), 0n);

async function isSignature(signature: Uint8Array, message: Uint8Array, key: Uint8Array): Promise<boolean> {
  if (signature.length !== 64) return false;
  const commitment = signature.subarray(0, 32);
  const answer = numberOf(signature.subarray(32));
  if (answer >= ORDER) return false;
  const digest = await crypto.subtle.digest("SHA-512", Uint8Array.from([...commitment, ...key, ...message]));
  const challenge = numberOf(new Uint8Array(digest)) % ORDER;
  const expected = Point.BASE.multiplyUnsafe(answer).subtract(Point.fromBytes(key, true).multiplyUnsafe(challenge));
  return expected.toBytes().every((byte, at) => byte === commitment[at]);
}

export const scriptEd25519: Ed25519 = {
  signing(seed) {
    const sign = (message: Uint8Array): Promise<Uint8Array> => Promise.resolve(ed25519.sign(message, seed));
    return Promise.resolve({ x: base64url.encode(ed25519.getPublicKey(seed)), sign });
  },
  checking(x) {
    const key = base64url.decode(x);
    if (key.length !== 32) return Promise.reject(new Error("an Ed25519 key has 32 bytes"));
    // A key that is no point of the curve is found out at the first signature.
    return Promise.resolve((signature, message) => isSignature(signature, message, key).catch(() => false));
  },
};

/** @param secret 32 bytes, as RFC 7748 clamps them @returns its public key */
export const publicHalf = (secret: Uint8Array): Uint8Array => x25519.getPublicKey(secret);

/** What two keys agree on (RFC 7748, 6.1). Throws for a public key of small order. */
export const agreedOn = (secret: Uint8Array, other: Uint8Array): Uint8Array => x25519.getSharedSecret(secret, other);
