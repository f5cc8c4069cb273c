/**
 * A compact JWS (RFC 7515) with EdDSA (RFC 8037), signed and checked by the platform (`ed25519.ts`). It is all the first view needs of
 * JOSE, and a tenth of the script of a library for all of it; `jose` is what the tests hold it against, both ways round.
 *
 * Of the header only what decides how the signature is made is looked at: the algorithm, and `crit`, which would say that there is more
 * to understand (section 4.1.11). What a header must be beyond that is the business of whoever reads it.
 */
import { base64url } from "jose";
import type { Check, Sign } from "./ed25519.ts";

const decoder = new TextDecoder("utf-8", { fatal: true });

/** @param header its members are written in this order */
export async function signCompact(
  header: Readonly<Record<string, string>>,
  payload: Uint8Array,
  sign: Sign,
): Promise<string> {
  return signInput(`${base64url.encode(JSON.stringify(header))}.${base64url.encode(payload)}`, sign);
}

/** The compact JWS of a signing input, `header.payload`. */
export async function signInput(input: string, sign: Sign): Promise<string> {
  return `${input}.${base64url.encode(await sign(new TextEncoder().encode(input)))}`;
}

/** Whether it is a compact JWS that the key signed which `check` checks with. Never throws. */
export async function checkCompact(jws: string, check: Check): Promise<boolean> {
  const [header = "", payload = "", signature, ...rest] = jws.split(".");
  if (signature === undefined || rest.length > 0) return false;
  try {
    const said: unknown = JSON.parse(decoder.decode(base64url.decode(header)));
    if (typeof said !== "object" || said === null || !("alg" in said) || said.alg !== "EdDSA" || "crit" in said)
      return false;
    base64url.decode(payload);
    const input = new TextEncoder().encode(`${header}.${payload}`);
    return await check(new Uint8Array(base64url.decode(signature)), input);
  } catch {
    return false;
  }
}
