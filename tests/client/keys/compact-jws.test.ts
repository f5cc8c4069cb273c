/** Our compact JWS against a library for all of JOSE (jose, https://github.com/panva/jose), both ways round. */
import fc from "fast-check";
import { base64url, CompactSign, compactVerify, generateKeyPair } from "jose";
import { beforeAll, expect, test } from "vitest";
import { checkCompact, signCompact } from "../../../packages/client/src/keys/compact-jws.ts";
import type { Check, Sign } from "../../../packages/client/src/keys/ed25519.ts";

let keys: { readonly publicKey: CryptoKey; readonly privateKey: CryptoKey };
const signing: Sign = async (message) => new Uint8Array(await crypto.subtle.sign("Ed25519", keys.privateKey, message));
const checking =
  (key: CryptoKey): Check =>
  (signature, message) =>
    crypto.subtle.verify("Ed25519", key, signature, message);
beforeAll(async () => {
  keys = await generateKeyPair("EdDSA", { extractable: true });
});

const library = (jws: string): Promise<boolean> =>
  compactVerify(jws, keys.publicKey, { algorithms: ["EdDSA"] }).then(
    () => true,
    () => false,
  );

test("what is signed here is what the library signs, to the letter, and each reads the other's", async () => {
  const header = { alg: "EdDSA", kid: "somebody", typ: "test" };
  const payload = new TextEncoder().encode('{"a":1}');
  const ours = await signCompact(header, payload, signing);
  expect(ours).toBe(await new CompactSign(payload).setProtectedHeader(header).sign(keys.privateKey));
  expect(await checkCompact(ours, checking(keys.publicKey))).toBe(true);
  const other = await generateKeyPair("EdDSA");
  expect(await checkCompact(ours, checking(other.publicKey))).toBe(false);
});

test("a signed header of another algorithm, of none, with more to understand, or that is no object is refused, as there", async () => {
  const signed = (header: unknown): Promise<string> =>
    signCompact(header as Record<string, string>, new Uint8Array(3), signing);
  const refused = [{ alg: "none" }, { alg: "HS256" }, {}, { alg: "EdDSA", crit: ["exp"], exp: 1 }, [], null, "EdDSA"];
  for (const header of [...refused, { alg: "EdDSA", crit: [] }]) {
    const jws = await signed(header);
    expect([header, await checkCompact(jws, checking(keys.publicKey))]).toEqual([header, false]);
    expect(await library(jws)).toBe(false);
  }
  expect(await checkCompact(await signed({ alg: "EdDSA" }), checking(keys.publicKey))).toBe(true);
});

test("whatever is cut, changed or put in: the same answer as the library's (seed 20261125)", async () => {
  const jws = await signCompact({ alg: "EdDSA", kid: "k", typ: "t" }, new Uint8Array([1, 2, 3, 4]), signing);
  const letters = "AQgw-_.=+/ \n%é9{";
  let taken = 0;
  const mangled = fc.tuple(
    fc.nat(jws.length),
    fc.nat({ max: 3 }),
    fc.string({ unit: fc.constantFrom(...letters), maxLength: 3 }),
  );
  await fc.assert(
    fc.asyncProperty(mangled, async ([at, cut, put]) => {
      const text = jws.slice(0, at) + put + jws.slice(at + cut);
      const answer = await checkCompact(text, checking(keys.publicKey));
      if (answer) taken += 1;
      expect(answer).toBe(await library(text));
    }),
    { seed: 20261125, numRuns: 1500 },
  );
  // Some change nothing; the others do.
  expect(taken).toBeGreaterThan(0);
  expect(taken).toBeLessThan(700);
  expect(base64url.decode(jws.split(".")[1] as string)).toEqual(new Uint8Array([1, 2, 3, 4]));
});
