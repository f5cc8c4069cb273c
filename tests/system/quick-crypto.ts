/**
 * The platform's crypto without its threads. A thousand stories of nine devices check the same signature again and again, and each
 * time WebCrypto makes a job of it for a thread; half of a story's time went into waiting. Here the same functions of the same OpenSSL
 * are called at once, and what depends on nothing but its input (an imported key, a good or bad signature) is worked out once for all
 * devices. Nothing is pretended: a signature that is not good is found bad by the same code.
 *
 * Rejected: signatures left out in the simulator (forgeries are among what it is there for).
 */
import type { KeyObject } from "node:crypto";
import {
  createCipheriv,
  createDecipheriv,
  createPrivateKey,
  createPublicKey,
  hkdfSync,
  KeyObject as Keys,
  sign,
  verify,
} from "node:crypto";
import type { Dice } from "./dice.ts";

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

  /** What is quick for one algorithm, and the platform's own for others. */
  function quicken(name: string, algorithm: string, quick: Call): void {
    const real = subtle[name]!.bind(crypto.subtle) as (...args: unknown[]) => unknown;
    const quicker = quick as (...args: unknown[]) => unknown;
    subtle[name] = ((...args: unknown[]) => {
      const [asked] = args as [string | { readonly name: string }];
      return (typeof asked === "string" ? asked : asked.name) === algorithm ? quicker(...args) : real(...args);
    }) as Call;
  }
  const real = (name: string): Call => subtle[name]!.bind(crypto.subtle) as Call;

  subtle["importKey"] = remembering(real("importKey"), (...args: unknown[]) => args.map(textOf).join(" "));
  subtle["exportKey"] = remembering(
    real("exportKey"),
    ((form: string, key: CryptoKey) => `${form} ${nameOfKey(key)}`) as Call as never,
  );
  const derived = ((hkdf: Hkdf, material: CryptoKey) =>
    `${latin(hkdf.salt)} ${latin(hkdf.info)} ${nameOfKey(material)}`) as Call;
  quicken("deriveKey", "HKDF", remembering(real("deriveKey"), derived as never));
  quicken("deriveBits", "HKDF", (async (hkdf: Hkdf, material: CryptoKey, bits: number) =>
    hkdfSync("sha256", objectOf(material), hkdf.salt, hkdf.info, bits / 8)) as Call);
  quicken("sign", "Ed25519", (async (_: unknown, key: CryptoKey, data: Uint8Array) =>
    bare(sign(null, data, objectOf(key)))) as Call);
  quicken("encrypt", "AES-GCM", (async ({ iv, additionalData }: Gcm, key: CryptoKey, data: Uint8Array) => {
    const cipher = createCipheriv("aes-256-gcm", objectOf(key), iv).setAAD(additionalData);
    return bare(Buffer.concat([cipher.update(data), cipher.final(), cipher.getAuthTag()]));
  }) as Call);
  quicken("decrypt", "AES-GCM", (async ({ iv, additionalData }: Gcm, key: CryptoKey, data: Uint8Array) => {
    const cipher = createDecipheriv("aes-256-gcm", objectOf(key), iv).setAAD(additionalData);
    cipher.setAuthTag(data.subarray(-tagBytes));
    return bare(Buffer.concat([cipher.update(data.subarray(0, -tagBytes)), cipher.final()]));
  }) as Call);
  const isGood = remembering(
    ((key: CryptoKey, signature: Uint8Array, data: Uint8Array) =>
      verify(null, data, objectOf(key), signature)) as Call as never,
    ((key: CryptoKey, signature: Uint8Array, data: Uint8Array) =>
      `${nameOfKey(key)} ${latin(signature)} ${latin(data)}`) as Call as never,
  ) as (key: CryptoKey, signature: Uint8Array, data: Uint8Array) => boolean;
  quicken("verify", "Ed25519", (async (_: unknown, key: CryptoKey, signature: Uint8Array, data: Uint8Array) =>
    isGood(key, signature, data)) as Call);
}

/** PKCS #8 (RFC 8410) of an X25519 private key: this prefix, then the 32 bytes. */
const agreementPrefix = Uint8Array.of(0x30, 0x2e, 2, 1, 0, 0x30, 5, 6, 3, 0x2b, 0x65, 0x6e, 4, 0x22, 4, 0x20);

/** What the platform throws for itself (one-time keys, nonces of `jose`) comes from these dice from now on: else no story is told twice. */
export function loadDice(dice: Dice): void {
  crypto.getRandomValues = ((into: Uint8Array) => {
    new Uint8Array(into.buffer, into.byteOffset, into.byteLength).set(dice.bytes(into.byteLength));
    return into;
  }) as typeof crypto.getRandomValues;
  const subtle = crypto.subtle as unknown as Record<string, Call>;
  subtle["generateKey"] = (async (algorithm: { readonly name: string }) => {
    if (algorithm.name !== "X25519") throw new Error(`no dice for ${algorithm.name}`);
    const pkcs8 = Uint8Array.from([...agreementPrefix, ...dice.bytes(32)]);
    const secret = createPrivateKey({ key: Buffer.from(pkcs8), format: "der", type: "pkcs8" });
    const { x } = createPublicKey(secret).export({ format: "jwk" });
    return {
      privateKey: await crypto.subtle.importKey("pkcs8", pkcs8, "X25519", true, ["deriveBits"]),
      publicKey: await crypto.subtle.importKey("jwk", { kty: "OKP", crv: "X25519", x: x! }, "X25519", true, []),
    };
  }) as Call;
}
