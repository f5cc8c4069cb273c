/** Boxes for one device: the platform's own X25519 says whether the public key belongs to the private one. */
import { createSigner, systemRandom } from "@sward/client";
import type { PublicKey } from "@sward/core";
import { base64url, compactDecrypt, decodeProtectedHeader } from "jose";
import { expect, test } from "vitest";
import { agreementKeyOf, openBox, sealBox } from "../../../packages/client/src/keys/agreement.ts";

/** X25519 JWK of an Ed25519 seed, its public half worked out by the platform from the private one. */
async function platformKey(seed: Uint8Array): Promise<JsonWebKey> {
  const half = new Uint8Array(await crypto.subtle.digest("SHA-512", seed.slice())).slice(0, 32);
  const pkcs8 = Uint8Array.from([...Buffer.from("302e020100300506032b656e04220420", "hex"), ...half]);
  const key = await crypto.subtle.importKey("pkcs8", pkcs8, "X25519", true, ["deriveBits"]);
  return crypto.subtle.exportKey("jwk", key);
}

test("the agreement key made of a public key is the one the platform makes of the seed", async () => {
  for (let n = 0; n < 20; n++) {
    const seed = systemRandom(32);
    expect(agreementKeyOf((await createSigner(seed)).key)).toBe((await platformKey(seed)).x);
  }
});

// RFC 8032, 7.1, TEST 1 and 2: https://www.rfc-editor.org/rfc/rfc8032#section-7.1
test.each([
  "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
  "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
])("published seed %s", async (hex) => {
  const seed = Uint8Array.from(Buffer.from(hex, "hex"));
  expect(agreementKeyOf((await createSigner(seed)).key)).toBe((await platformKey(seed)).x);
});

test("a box opens for its device with any JOSE library, and for nobody else", async () => {
  const [seed, other] = [systemRandom(32), systemRandom(32)];
  const [mine, theirs] = [await createSigner(seed), await createSigner(other)];
  const secret = systemRandom(32);
  const box = (await sealBox(mine.key, secret)) ?? "";
  expect(await mine.unseal(box)).toEqual(secret);
  expect(await theirs.unseal(box)).toBe(null);
  expect(decodeProtectedHeader(box)).toMatchObject({ alg: "ECDH-ES", enc: "A256GCM", epk: { crv: "X25519" } });
  const { plaintext } = await compactDecrypt(box, (await platformKey(seed)) as never);
  expect(new Uint8Array(plaintext)).toEqual(secret);
  expect(box.length).toBeLessThan(600);
  // Another box for the same secret shares nothing with it.
  expect(await sealBox(mine.key, secret)).not.toBe(box);
});

test("what is no box, or was changed, opens to nothing; nothing throws", async () => {
  const seed = systemRandom(32);
  const box = (await sealBox((await createSigner(seed)).key, systemRandom(32))) ?? "";
  const parts = box.split(".");
  const changed = [2, 3, 4].map((at) =>
    parts.map((part, n) => (n === at ? (part[0] === "A" ? "B" : "A") + part.slice(1) : part)).join("."),
  );
  for (const text of ["", "a.b.c", "....", box.slice(1), `${box}.x`, ...changed]) {
    expect(await openBox(seed, text), text).toBe(null);
  }
});

test("a key with nobody behind it cannot be sealed to, and says so", async () => {
  const point = (bytes: Uint8Array): PublicKey => base64url.encode(bytes) as PublicKey;
  const little = (first: number): Uint8Array => Uint8Array.from({ length: 32 }, (_, at) => (at === 0 ? first : 0));
  // y = 1 is the neutral point, y = 0 and y = -1 are of small order (RFC 7748, 6.1 asks to refuse what they agree on).
  const minusOne = Uint8Array.from({ length: 32 }, (_, at) => (at === 0 ? 0xec : at === 31 ? 0x7f : 0xff));
  for (const bytes of [little(1), little(0), minusOne, new Uint8Array(32).fill(0xff), new Uint8Array(31)]) {
    expect(await sealBox(point(bytes), systemRandom(32)), Buffer.from(bytes).toString("hex")).toBe(null);
  }
});
