/**
 * The boxes of `agreement.ts` on a platform without X25519: the same compact JWE, its key worked out here. The library for JOSE takes
 * keys only in the platform's form, so of ECDH-ES (RFC 7518, 4.6) the one case that is needed is written out: direct agreement, no
 * party information, a key of 256 bits, which is one round of Concat KDF.
 */
import { base64url } from "jose";
import { agreedOn, publicHalf } from "./curves-in-script.ts";

const ENC = "A256GCM";
const encoder = new TextEncoder();
const decoder = new TextDecoder("utf-8", { fatal: true });

const header = (epk: Uint8Array) => ({
  alg: "ECDH-ES",
  enc: ENC,
  epk: { x: base64url.encode(epk), crv: "X25519", kty: "OKP" },
});

/** @param x of the receiver's X25519 JWK. Rejects for a key of small order. */
export async function sealInScript(x: string, secret: Uint8Array): Promise<string> {
  const passing = crypto.getRandomValues(new Uint8Array(32));
  const head = base64url.encode(JSON.stringify(header(publicHalf(passing))));
  const key = await contentKey(agreedOn(passing, base64url.decode(x)), ["encrypt"]);
  const iv = crypto.getRandomValues(new Uint8Array(12));
  const aes = { name: "AES-GCM", iv, additionalData: encoder.encode(head) };
  const sealed = new Uint8Array(await crypto.subtle.encrypt(aes, key, secret.slice()));
  const [text, tag] = [sealed.subarray(0, -16), sealed.subarray(-16)];
  return [head, "", ...[iv, text, tag].map((part) => base64url.encode(part))].join(".");
}

/** @param half the receiver's private key, 32 bytes. Rejects when the box is not for it, or is none. */
export async function openInScript(half: Uint8Array, box: string): Promise<Uint8Array> {
  const [head = "", wrapped, ...rest] = box.split(".");
  if (wrapped !== "" || rest.length !== 3) throw new Error("not a box");
  const said = JSON.parse(decoder.decode(base64url.decode(head))) as ReturnType<typeof header>;
  if (said.alg !== "ECDH-ES" || said.enc !== ENC || said.epk.crv !== "X25519" || "crit" in said)
    throw new Error("not a box of this kind");
  const key = await contentKey(agreedOn(half, base64url.decode(said.epk.x)), ["decrypt"]);
  const [iv = new Uint8Array(), text = new Uint8Array(), tag = new Uint8Array()] = rest.map((part) =>
    base64url.decode(part),
  );
  const aes = { name: "AES-GCM", iv: iv.slice(), additionalData: encoder.encode(head) };
  const sealed = new Uint8Array(text.length + tag.length);
  sealed.set(text);
  sealed.set(tag, text.length);
  return new Uint8Array(await crypto.subtle.decrypt(aes, key, sealed));
}

/** RFC 7518, 4.6.2: SHA-256 over the round, what was agreed on, and who it is for. */
async function contentKey(agreed: Uint8Array, uses: readonly KeyUsage[]): Promise<CryptoKey> {
  const number = (value: number): number[] => [0, 0, value >> 8, value & 255];
  const info = [...number(ENC.length), ...encoder.encode(ENC), ...number(0), ...number(0), ...number(256)];
  const digest = await crypto.subtle.digest("SHA-256", Uint8Array.from([...number(1), ...agreed, ...info]));
  return crypto.subtle.importKey("raw", digest, "AES-GCM", false, uses);
}
