/**
 * The platform's crypto without its threads. A thousand stories of nine devices check the same signature again and again, and each
 * time WebCrypto makes a job of it for a thread; half of a story's time went into waiting. Here the same functions of the same OpenSSL
 * are called at once, and what depends on nothing but its input (an imported key, a good or bad signature) is worked out once for all
 * devices. Nothing is pretended: a signature that is not good is found bad by the same code.
 *
 * Rejected: signatures left out in the simulator (forgeries are among what it is there for).
 */
import type { KeyObject } from "node:crypto";
import { createCipheriv, createDecipheriv, hkdfSync, KeyObject as Keys, sign, verify } from "node:crypto";

type Call = (...args: never[]) => unknown;
interface Gcm {
  readonly iv: Uint8Array;
  readonly additionalData: Uint8Array;
}
interface Hkdf {
  readonly salt: Uint8Array;
  readonly info: Uint8Array;
}

const tagBytes = 16;
/** Of what is remembered; begun anew when full. */
const most = 50_000;

const latin = (data: Uint8Array): string => Buffer.from(data.buffer, data.byteOffset, data.length).toString("latin1");
const bare = (data: Buffer): ArrayBuffer => Uint8Array.from(data).buffer;

const objects = new WeakMap<CryptoKey, KeyObject>();
function objectOf(key: CryptoKey): KeyObject {
  const known = objects.get(key) ?? Keys.from(key as never);
  objects.set(key, known);
  return known;
}

function remembering<T>(make: (...args: never[]) => T, nameOf: (...args: never[]) => string) {
  let known = new Map<string, T>();
  return (...args: never[]): T => {
    const name = nameOf(...args);
    const before = known.get(name);
    if (before !== undefined) return before;
    if (known.size > most) known = new Map();
    const made = make(...args);
    known.set(name, made);
    return made;
  };
}

const textOf = (value: unknown): string => (value instanceof Uint8Array ? latin(value) : JSON.stringify(value));
const keyNames = new WeakMap<CryptoKey, number>();
let named = 0;
function nameOfKey(key: CryptoKey): number {
  const name = keyNames.get(key) ?? ++named;
  keyNames.set(key, name);
  return name;
}

/** Puts them in the place of the slow ones, for this process. */
export function quickenCrypto(): void {
  const subtle = crypto.subtle as unknown as Record<string, Call>;
  const real = { importKey: bound("importKey"), deriveKey: bound("deriveKey"), exportKey: bound("exportKey") };

  function bound(name: string): Call {
    return subtle[name]!.bind(crypto.subtle) as Call;
  }

  subtle["importKey"] = remembering(real.importKey, (...args: unknown[]) => args.map(textOf).join(" "));
  subtle["exportKey"] = remembering(
    real.exportKey,
    ((form: string, key: CryptoKey) => `${form} ${nameOfKey(key)}`) as Call as never,
  );
  subtle["deriveKey"] = remembering(
    real.deriveKey,
    ((hkdf: Hkdf, material: CryptoKey) =>
      `${latin(hkdf.salt)} ${latin(hkdf.info)} ${nameOfKey(material)}`) as Call as never,
  );
  subtle["deriveBits"] = (async (hkdf: Hkdf, material: CryptoKey, bits: number) =>
    hkdfSync("sha256", objectOf(material), hkdf.salt, hkdf.info, bits / 8)) as Call;
  subtle["sign"] = (async (_: unknown, key: CryptoKey, data: Uint8Array) =>
    bare(sign(null, data, objectOf(key)))) as Call;
  subtle["encrypt"] = (async ({ iv, additionalData }: Gcm, key: CryptoKey, data: Uint8Array) => {
    const cipher = createCipheriv("aes-256-gcm", objectOf(key), iv).setAAD(additionalData);
    return bare(Buffer.concat([cipher.update(data), cipher.final(), cipher.getAuthTag()]));
  }) as Call;
  subtle["decrypt"] = (async ({ iv, additionalData }: Gcm, key: CryptoKey, data: Uint8Array) => {
    const cipher = createDecipheriv("aes-256-gcm", objectOf(key), iv).setAAD(additionalData);
    cipher.setAuthTag(data.subarray(-tagBytes));
    return bare(Buffer.concat([cipher.update(data.subarray(0, -tagBytes)), cipher.final()]));
  }) as Call;
  const isGood = remembering(
    ((key: CryptoKey, signature: Uint8Array, data: Uint8Array) =>
      verify(null, data, objectOf(key), signature)) as Call as never,
    ((key: CryptoKey, signature: Uint8Array, data: Uint8Array) =>
      `${nameOfKey(key)} ${latin(signature)} ${latin(data)}`) as Call as never,
  ) as (key: CryptoKey, signature: Uint8Array, data: Uint8Array) => boolean;
  subtle["verify"] = (async (_: unknown, key: CryptoKey, signature: Uint8Array, data: Uint8Array) =>
    isGood(key, signature, data)) as Call;
}
