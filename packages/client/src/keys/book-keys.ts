/**
 * From a book's secret to the keys made of it, by HKDF (RFC 5869, SHA-256) with one label each: the key pair that names the ledger's
 * room, the one that names the roster's, and the key that seals envelopes. Whoever holds the secret finds the rooms, may enter
 * them and can read what is in them; a relay holds none of it. After a bar the book goes on under a new secret, its next epoch.
 *
 * Rejected: random keys beside each other (an invitation would have to carry four of them and could carry them wrongly paired).
 */
import type { BookId, PublicKey } from "@sward/core";
import { byCodeUnits, byNumber } from "@sward/core";
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
  /** The room of a further volume of the ledger (`book/closing.ts`), 1 and up; nobody without the secret can tell it from any other room. */
  ledgerVolume(volume: number): Promise<Signer>;
  /** Name of the ledger's room. */
  readonly room: PublicKey;
  /** Seals of other epochs of the same number, opened by somebody at the same time: an envelope tells its number only. */
  readonly alsoOpens?: readonly CryptoKey[];
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
  const signer = async (label: string) => createSigner(await seed(label));
  const ledgerVolume = (volume: number) => signer(`ledger room volume ${volume}`);
  const gcm = { name: "AES-GCM", length: 256 };
  // Side by side: a start waits for them, each a few ways to another thread and back.
  const [ledgerRoom, rosterRoom, seal] = await Promise.all([
    signer("ledger room"),
    signer("roster room"),
    crypto.subtle.deriveKey(hkdf("seal"), material, gcm, false, ["encrypt", "decrypt"]),
  ]);
  return { epoch, ledgerRoom, rosterRoom, ledgerVolume, seal, room: ledgerRoom.key };
}

export interface OpenedEpochs {
  readonly byNumber: ReadonlyMap<number, EpochKeys>;
  /** What is written is sealed with this one. */
  readonly current: EpochKeys;
}

/** @param room the epoch to write in; the highest number if not given, and of one number the room that comes first */
export async function deriveEpochs(book: BookId, epochs: readonly Epoch[], room?: PublicKey): Promise<OpenedEpochs> {
  const all = await Promise.all(epochs.map((epoch) => deriveEpoch(book, epoch)));
  all.sort((a, b) => byNumber(b.epoch, a.epoch) || byCodeUnits(a.room, b.room));
  const current = all.find((keys) => keys.room === room) ?? all[0];
  if (current === undefined) throw new Error("a book is opened with at least one epoch's secret");
  const together = new Map<number, EpochKeys>();
  for (const keys of [current, ...all]) {
    const first = together.get(keys.epoch);
    if (first === undefined) together.set(keys.epoch, keys);
    else if (first.room !== keys.room) {
      together.set(keys.epoch, { ...first, alsoOpens: [...(first.alsoOpens ?? []), keys.seal] });
    }
  }
  return { byNumber: together, current };
}
