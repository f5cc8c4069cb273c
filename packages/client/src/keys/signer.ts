/**
 * A device is a key that signs: Ed25519 (`ed25519.ts`), in compact JWS (`compact-jws.ts`), so that what we write is what any JOSE
 * library reads. A key is made from a 32-byte seed, which is the one thing a device must keep.
 *
 * Rejected: keys WebCrypto will not hand out again (a root key must be restorable from its recovery words, and a phone's storage
 * is erased with the key in it either way).
 */
import type { KeyId, Payload, PublicKey } from "@sward/core";
import { keyIdOf, signingInput } from "@sward/core";
import { signCompact, signInput } from "./compact-jws.ts";
import { ed25519Here } from "./ed25519.ts";

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

export async function createSigner(seed: Uint8Array, curve = ed25519Here): Promise<Signer> {
  if (seed.length !== SEED_BYTES) throw new Error("an Ed25519 seed has 32 bytes");
  const { x, sign: signed } = await (await curve()).signing(seed);
  const key = x as PublicKey;
  const id = keyIdOf(key);
  const sign = (header: { readonly typ: string }, payload: Uint8Array): Promise<string> =>
    signCompact({ alg: "EdDSA", kid: id, typ: header.typ }, payload, signed);
  return {
    id,
    key,
    sign,
    // Core's encoding decides what is signed, so that one statement has one id.
    signEntry: (payload) => signInput(signingInput(id, payload), signed),
    // Needed once in a long while: not part of what is fetched before a page can be seen.
    unseal: async (box) => (await import("./agreement.ts")).openBox(seed, box),
  };
}
