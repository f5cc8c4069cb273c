/**
 * Checks signatures. Every entry's own signature is checked, once per device: checking only the last of each chain is three times
 * faster and accepts a broken signature inside a chain, so that two devices could disagree and a record cut out of the middle
 * could fail. A key is imported once. Checks run side by side on the platform's threads, in slices, so that a screen gets its turn.
 */
import type { KeyId, PublicKey } from "@sward/core";
import { keyIdOf } from "@sward/core";
import { base64url } from "jose";
import { checkCompact } from "./compact-jws.ts";
import type { Check } from "./ed25519.ts";
import { ed25519Here } from "./ed25519.ts";

export interface Verifier {
  /** Takes note of a public key; later entries signed by it can be checked. */
  learn(key: PublicKey): void;
  /** Somebody states this key who has not been checked himself: signatures can be tried with it, and it is not known for that. */
  offer(key: PublicKey): void;
  knows(author: KeyId): boolean;
  /** All there are to try. */
  keys(): readonly PublicKey[];
  keyOf(author: KeyId): PublicKey | undefined;
  /** Whether there is a key to try: known, or offered. */
  canTry(author: KeyId): boolean;
  /** Whether the compact JWS was signed by the key of that id. False too when there is none to try. Never throws. */
  verify(jws: string, author: KeyId): Promise<boolean>;
  /** The same of one whose form has been looked at: its signature, base64url, and the bytes of its signing input. */
  verifyInput(signature: string, input: Uint8Array<ArrayBuffer>, author: KeyId): Promise<boolean>;
}

export function createVerifier(curve = ed25519Here): Verifier {
  const keys = new Map<KeyId, PublicKey>();
  const offered = new Map<KeyId, PublicKey>();
  const imported = new Map<KeyId, Promise<Check>>();

  function checkOf(author: KeyId): Promise<Check> | null {
    const x = keys.get(author) ?? offered.get(author);
    if (x === undefined) return null;
    const held = imported.get(author) ?? curve().then((ed25519) => ed25519.checking(x));
    imported.set(author, held);
    return held;
  }

  return {
    learn(key) {
      keys.set(keyIdOf(key), key);
    },
    offer(key) {
      const id = keyIdOf(key);
      if (!keys.has(id)) offered.set(id, key);
    },
    knows: (author) => keys.has(author),
    canTry: (author) => keys.has(author) || offered.has(author),
    keys: () => [...keys.values(), ...offered.values()],
    keyOf: (author) => keys.get(author),
    async verify(jws, author) {
      try {
        const check = await checkOf(author);
        return check !== null && (await checkCompact(jws, check));
      } catch {
        return false;
      }
    },
    async verifyInput(signature, input, author) {
      try {
        const check = await checkOf(author);
        return check !== null && (await check(new Uint8Array(base64url.decode(signature)), input));
      } catch {
        return false;
      }
    },
  };
}
