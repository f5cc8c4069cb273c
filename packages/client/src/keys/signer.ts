/**
 * A device is a key that signs. Ed25519 by the platform's WebCrypto, in the browser and under Node alike; compact
 * JWS (`compact-jws.ts`), so that what we write is what any JOSE library reads. A key is made from a 32-byte seed, which is the one thing a device must keep.
 *
 * Rejected: keys WebCrypto will not hand out again (a root key must be restorable from its recovery words, and a phone's storage
 * is erased with the key in it either way).
 */
import type { KeyId, Payload, PublicKey } from "@sward/core";
import { keyIdOf, signingInput } from "@sward/core";
import { signCompact, signInput } from "./compact-jws.ts";

export interface Signer {
  readonly id: KeyId;
  readonly key: PublicKey;
  /** A compact JWS of these exact header members and payload bytes. */
  sign(header: { readonly typ: string }, payload: Uint8Array): Promise<string>;
  /** A compact JWS of an entry. */
  signEntry(payload: Payload): Promise<string>;
  /** What somebody put in a box for this key (`agreement.ts`); null when it does not open. Never throws. */
  unseal(box: string): Promise<Uint8Array | null>;
}

export const SEED_BYTES = 32;

/** PKCS #8 (RFC 8410) of an Ed25519 seed: this prefix, then the 32 bytes. */
const pkcs8Prefix = Uint8Array.of(0x30, 0x2e, 2, 1, 0, 0x30, 5, 6, 3, 0x2b, 0x65, 0x70, 4, 0x22, 4, 0x20);

export async function createSigner(seed: Uint8Array): Promise<Signer> {
  if (seed.length !== SEED_BYTES) throw new Error("an Ed25519 seed has 32 bytes");
  const pkcs8 = new Uint8Array(pkcs8Prefix.length + SEED_BYTES);
  pkcs8.set(pkcs8Prefix);
  pkcs8.set(seed, pkcs8Prefix.length);
  const privateKey = await crypto.subtle.importKey("pkcs8", pkcs8, "Ed25519", true, ["sign"]);
  const { x } = await crypto.subtle.exportKey("jwk", privateKey);
  const key = x as PublicKey;
  const id = keyIdOf(key);
  const sign = (header: { readonly typ: string }, payload: Uint8Array): Promise<string> =>
    signCompact({ alg: "EdDSA", kid: id, typ: header.typ }, payload, privateKey);
  return {
    id,
    key,
    sign,
    // Core's encoding decides what is signed, so that one statement has one id.
    signEntry: (payload) => signInput(signingInput(id, payload), privateKey),
    // Needed once in a long while: not part of what is fetched before a page can be seen.
    unseal: async (box) => (await import("./agreement.ts")).openBox(seed, box),
  };
}
