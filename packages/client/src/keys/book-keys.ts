/**
 * From a book's secret to the keys made of it, by HKDF (RFC 5869, SHA-256) with one label each: the key pair that names the ledger's
 * room, the one that names the roster's, and the key that seals envelopes. Whoever holds the secret finds the rooms, may enter
 * them and can read what is in them; a relay holds none of it. After a bar the book goes on under a new secret, its next epoch.
 *
 * Rejected: random keys beside each other (an invitation would have to carry four of them and could carry them wrongly paired).
 */
import type { BookId, PublicKey } from "@sward/core";
import type { Signer } from "./signer.ts";
import { createSigner } from "./signer.ts";

export interface Epoch {
  readonly epoch: number;
  /** 32 bytes. */
  readonly secret: Uint8Array;
}

export interface EpochKeys {
  readonly epoch: number;
  readonly ledgerRoom: Signer;
  readonly rosterRoom: Signer;
  readonly seal: CryptoKey;
  /** Name of the ledger's room. */
  readonly room: PublicKey;
}

export async function deriveEpoch(book: BookId, { epoch, secret }: Epoch): Promise<EpochKeys> {
  const material = await crypto.subtle.importKey("raw", secret.slice(), "HKDF", false, ["deriveBits", "deriveKey"]);
  const salt = new TextEncoder().encode(`sward ${book} ${epoch}`);
  const hkdf = (label: string) => ({
    name: "HKDF",
    hash: "SHA-256",
    salt,
    info: new TextEncoder().encode(`sward ${label} 1`),
  });
  const seed = async (label: string) => new Uint8Array(await crypto.subtle.deriveBits(hkdf(label), material, 256));
  const ledgerRoom = await createSigner(await seed("ledger room"));
  const rosterRoom = await createSigner(await seed("roster room"));
  const gcm = { name: "AES-GCM", length: 256 };
  const seal = await crypto.subtle.deriveKey(hkdf("seal"), material, gcm, false, ["encrypt", "decrypt"]);
  return { epoch, ledgerRoom, rosterRoom, seal, room: ledgerRoom.key };
}
