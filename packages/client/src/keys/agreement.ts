/**
 * A box that one device alone can open: a compact JWE (RFC 7516), ECDH-ES with X25519 (RFC 8037) and A256GCM, to the key the device
 * signs with. An Ed25519 key and an X25519 key are one point of one curve in two forms (RFC 7748, 4.1), so
 *
 *     public   u = (1 + y) / (1 - y) mod 2^255 - 19, of the Ed25519 key's y
 *     private  the first 32 bytes of SHA-512 of the seed (RFC 8032, 5.1.5), as Ed25519 itself takes them
 *
 * and whoever knows a device can seal to it: one admitted a minute ago, one that has been in a drawer for years, and the root, whose seed
 * is words on paper. Using one key pair for both is shown to be sound for just this pair: https://eprint.iacr.org/2021/509
 *
 * Rejected: a second key that each device states in an entry (a device that had not stated one yet could not be given a new secret, and
 * the root states nothing while it is paper).
 */
import type { PublicKey } from "@sward/core";
import { base64url, CompactEncrypt, compactDecrypt } from "jose";

const prime = 2n ** 255n - 19n;

/** The `x` of the X25519 JWK that belongs to an Ed25519 public key; null when no such key can be. */
export function agreementKeyOf(key: PublicKey): string | null {
  const bytes = base64url.decode(key);
  if (bytes.length !== 32) return null;
  // The highest bit is the sign of the other coordinate.
  const y = numberOf(bytes) & (2n ** 255n - 1n);
  if (y >= prime || y === 1n) return null;
  return base64url.encode(bytesOf(((1n + y) * inverse(1n - y + prime)) % prime));
}

/** Seals to the holder of a key; null when the key cannot be sealed to. */
export async function sealBox(to: PublicKey, secret: Uint8Array): Promise<string | null> {
  const x = agreementKeyOf(to);
  if (x === null) return null;
  try {
    return await sealFor(x, secret);
  } catch {
    // A point of small order: there is nobody behind it.
    return null;
  }
}

/** @param seed of the device's Ed25519 key, 32 bytes @returns null when the box is not for it. Never throws. */
export async function openBox(seed: Uint8Array, box: string): Promise<Uint8Array | null> {
  try {
    const digest = new Uint8Array(await crypto.subtle.digest("SHA-512", seed.slice()));
    return await openWith(digest.slice(0, 32), box);
  } catch {
    return null;
  }
}

/** @param x of an X25519 JWK @returns the JWE. Rejects for a key of small order. */
export async function sealFor(x: string, contents: Uint8Array): Promise<string> {
  if (!(await platformAgrees())) return (await import("./box-in-script.ts")).sealInScript(x, contents);
  return new CompactEncrypt(contents)
    .setProtectedHeader({ alg: "ECDH-ES", enc: "A256GCM" })
    .encrypt({ kty: "OKP", crv: "X25519", x });
}

/** @param half an X25519 private key, 32 bytes. Rejects when the JWE is not for it, or is none. */
export async function openWith(half: Uint8Array, box: string): Promise<Uint8Array> {
  if (!(await platformAgrees())) return (await import("./box-in-script.ts")).openInScript(half, box);
  const algorithms = { keyManagementAlgorithms: ["ECDH-ES"], contentEncryptionAlgorithms: ["A256GCM"] };
  return (await compactDecrypt(box, await privateKeyOf(half), algorithms)).plaintext;
}

/** @param half 32 random bytes, the private key @returns `x` of its public one */
export async function publicOf(half: Uint8Array): Promise<string> {
  if (!(await platformAgrees())) return base64url.encode((await import("./curves-in-script.ts")).publicHalf(half));
  const { x = "" } = await crypto.subtle.exportKey("jwk", await privateKeyOf(half, true));
  return x;
}

/** PKCS #8 (RFC 8410) of an X25519 private key: this prefix, then the 32 bytes. */
const pkcs8Prefix = Uint8Array.of(0x30, 0x2e, 2, 1, 0, 0x30, 5, 6, 3, 0x2b, 0x65, 0x6e, 4, 0x22, 4, 0x20);

const privateKeyOf = (half: Uint8Array, extractable = false): Promise<CryptoKey> =>
  crypto.subtle.importKey("pkcs8", Uint8Array.from([...pkcs8Prefix, ...half]), "X25519", extractable, ["deriveBits"]);

let agrees: Promise<boolean> | null = null;

/** Whether the platform has X25519; found out by asking it, once. */
function platformAgrees(): Promise<boolean> {
  agrees ??= privateKeyOf(new Uint8Array(32).fill(1)).then(
    () => true,
    () => false,
  );
  return agrees;
}

/** Little-endian, as both RFCs write numbers. */
const numberOf = (bytes: Uint8Array): bigint => bytes.reduceRight((sum, byte) => sum * 256n + BigInt(byte), 0n);

const bytesOf = (value: bigint): Uint8Array =>
  Uint8Array.from({ length: 32 }, (_, at) => Number((value >> BigInt(8 * at)) & 255n));

/** By Fermat: value^(prime - 2). Of public numbers only, so how long it takes tells nothing. */
function inverse(value: bigint): bigint {
  let result = 1n;
  let power = value % prime;
  for (let left = prime - 2n; left > 0n; left >>= 1n) {
    if ((left & 1n) === 1n) result = (result * power) % prime;
    power = (power * power) % prime;
  }
  return result;
}
