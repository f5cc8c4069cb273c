/**
 * A platform without the two curves against one that has them, Node's here: the same keys and signatures, the same answer about every
 * signature, and boxes that either opens.
 */
import { createPrivateKey, createPublicKey } from "node:crypto";
import { ed25519 } from "@noble/curves/ed25519.js";
import { createSigner, systemRandom } from "@sward/client";
import fc from "fast-check";
import { base64url, compactDecrypt } from "jose";
import { expect, test } from "vitest";
import { agreementKeyOf, openBox, sealBox } from "../../../packages/client/src/keys/agreement.ts";
import { openInScript, sealInScript } from "../../../packages/client/src/keys/box-in-script.ts";
import { agreedOn, publicHalf, scriptEd25519 } from "../../../packages/client/src/keys/curves-in-script.ts";
import { platformEd25519 } from "../../../packages/client/src/keys/ed25519.ts";
import { createVerifier } from "../../../packages/client/src/keys/verifier.ts";

const hex = (text: string) => Uint8Array.from(Buffer.from(text, "hex"));
const { Point } = ed25519;
const ORDER = Point.Fn.ORDER;

// RFC 8032, 7.1, TEST 2: https://www.rfc-editor.org/rfc/rfc8032#section-7.1
test("the published key and signature", async () => {
  const { x, sign } = await scriptEd25519.signing(
    hex("4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb"),
  );
  expect(Buffer.from(x, "base64url").toString("hex")).toBe(
    "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
  );
  expect(Buffer.from(await sign(hex("72"))).toString("hex")).toBe(
    "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
  );
});

test("what is signed by the one is signed by the other to the letter, and each checks it (seed 20261125)", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.uint8Array({ minLength: 32, maxLength: 32 }),
      fc.uint8Array({ maxLength: 300 }),
      fc.nat(63),
      async (seed, said, at) => {
        const message = said.slice();
        const [ours, theirs] = [await scriptEd25519.signing(seed), await platformEd25519.signing(seed)];
        expect(ours.x).toBe(theirs.x);
        const signature = (await ours.sign(message)).slice();
        expect(signature).toEqual(await theirs.sign(message));
        const spoilt = signature.map((byte, n) => (n === at ? byte ^ 1 : byte));
        for (const curve of [scriptEd25519, platformEd25519]) {
          const check = await curve.checking(ours.x);
          expect([await check(signature, message), await check(spoilt, message)]).toEqual([true, false]);
        }
      },
    ),
    { seed: 20261125, numRuns: 60 },
  );
});

/** The eight points of small order, in every encoding that decodes to one, and points beside the honest ones by each of them. */
function oddPoints(): Uint8Array[] {
  const eighth = Point.fromHex("26e8958fc2b227b045c3f489f2ef98f0d5dfac05d3c63339b13802886d53fc05");
  const small = Array.from({ length: 8 }, (_, n) => (n === 0 ? Point.ZERO : eighth.multiplyUnsafe(BigInt(n))));
  const prime = 2n ** 255n - 19n;
  const plain = small.map((point) => point.toBytes());
  // y and y + p where that still fits into 255 bits, with either sign.
  const unreduced = [0n, 1n].flatMap((y) =>
    [0, 0x80].map((sign) => {
      const bytes = hex((y + prime).toString(16).padStart(64, "0")).reverse();
      bytes[31] = (bytes[31] ?? 0) | sign;
      return bytes;
    }),
  );
  return [...plain, ...unreduced];
}

test("signatures that only an ill-meaning signer makes get the same answer from both (seed 7)", async () => {
  const answers = { yes: 0, no: 0 };
  const same = async (key: Uint8Array, signature: Uint8Array, message: Uint8Array): Promise<void> => {
    const x = base64url.encode(key);
    const said = [];
    for (const curve of [platformEd25519, scriptEd25519]) {
      const check = await curve.checking(x);
      said.push(await check(signature.slice(), message.slice()).catch(() => false));
    }
    const shown = [x, base64url.encode(signature)].join(" ");
    expect(said[1], shown).toBe(said[0]);
    answers[said[0] === true ? "yes" : "no"] += 1;
  };
  const odd = oddPoints();
  const little = (value: bigint) => hex(value.toString(16).padStart(64, "0")).reverse();
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...odd),
      fc.constantFrom(...odd),
      fc.bigInt({ min: 1n, max: ORDER - 1n }),
      fc.uint8Array({ maxLength: 20 }),
      async (first, second, secret, message) => {
        const base = Point.BASE.multiplyUnsafe(secret);
        const beside = base.add(Point.fromBytes(second, true)).toBytes();
        // Of a key of small order: R = [s]B - [k]A is right for one k in eight.
        await same(first, Uint8Array.from([...base.toBytes(), ...little(secret)]), message);
        await same(first, Uint8Array.from([...second, ...little(0n)]), message);
        // An honest key with a point of small order added to it, to what it commits to, or to both; and an answer too large.
        for (const [key, commitment] of [
          [beside, base.toBytes()],
          [base.toBytes(), beside],
          [beside, beside],
        ] as const) {
          const digest = await crypto.subtle.digest("SHA-512", Uint8Array.from([...commitment, ...key, ...message]));
          const k = BigInt(`0x${Buffer.from(digest).reverse().toString("hex")}`) % ORDER;
          const answer = (secret + k * secret) % ORDER;
          await same(key, Uint8Array.from([...commitment, ...little(answer)]), message);
          await same(key, Uint8Array.from([...commitment, ...little(answer + ORDER)]), message);
        }
      },
    ),
    { seed: 7, numRuns: 150 },
  );
  // Both answers were given, or nothing was compared.
  expect(answers.yes).toBeGreaterThan(20);
  expect(answers.no).toBeGreaterThan(200);
});

test("a key that is none is refused, whatever is said to be signed with it", async () => {
  await expect(scriptEd25519.checking("AAAA")).rejects.toThrow("32 bytes");
  const nowhere = await scriptEd25519.checking(base64url.encode(new Uint8Array(32).fill(2)));
  expect(await nowhere(new Uint8Array(64), new Uint8Array(1))).toBe(false);
  expect(await nowhere(new Uint8Array(3), new Uint8Array(1))).toBe(false);
});

test("a device without the curves signs what any device takes, and checks what any device signed", async () => {
  const script = () => Promise.resolve(scriptEd25519);
  const seed = systemRandom(32);
  const [plain, scripted] = [await createSigner(seed), await createSigner(seed, script)];
  expect([scripted.id, scripted.key]).toEqual([plain.id, plain.key]);
  const jws = await scripted.sign({ typ: "test" }, hex("01"));
  expect(jws).toBe(await plain.sign({ typ: "test" }, hex("01")));
  for (const verifier of [createVerifier(), createVerifier(script)]) {
    verifier.learn(plain.key);
    expect(await verifier.verify(jws, plain.id)).toBe(true);
    expect(await verifier.verify(`${jws.slice(0, -4)}AAAA`, plain.id)).toBe(false);
  }
});

// RFC 7748, 6.1: https://www.rfc-editor.org/rfc/rfc7748#section-6.1
test("the published agreement", () => {
  const alice = hex("77076d0a7318a57d3c16c17251b26645df4c2f87ebc0992ab177fba51db92c2a");
  const bob = hex("5dab087e624a8a4b79e17f8b83800ee66f3bb1292618b6fd1c2f8b27ff88e0eb");
  const shown = [
    publicHalf(alice),
    publicHalf(bob),
    agreedOn(alice, publicHalf(bob)),
    agreedOn(bob, publicHalf(alice)),
  ];
  expect(shown.map((bytes) => Buffer.from(bytes).toString("hex"))).toEqual([
    "8520f0098930a754748b7ddcb43ef75a0dbf3a0d26381af4eba4a98eaa9b4e6a",
    "de9edb7d7b7dc1b4d35b61c2ece435373f8343c85b78674dadfc7e146f882b4f",
    "4a5d9d5ba4ce2de1728e3bf480350f25e07e21c947d19e3376f09b3c1e161742",
    "4a5d9d5ba4ce2de1728e3bf480350f25e07e21c947d19e3376f09b3c1e161742",
  ]);
});

test("a box sealed without the curve opens with it and with any JOSE library, and the other way round", async () => {
  const seed = systemRandom(32);
  const { key } = await createSigner(seed);
  const half = new Uint8Array(await crypto.subtle.digest("SHA-512", seed.slice())).slice(0, 32);
  const secret = systemRandom(32);
  const box = await sealInScript(agreementKeyOf(key) ?? "", secret);
  expect(await openBox(seed, box)).toEqual(secret);
  const pkcs8 = Buffer.concat([Buffer.from("302e020100300506032b656e04220420", "hex"), half]);
  const jwk = createPrivateKey({ key: pkcs8, format: "der", type: "pkcs8" });
  expect(createPublicKey(jwk).export({ format: "jwk" }).x).toBe(agreementKeyOf(key));
  expect(new Uint8Array((await compactDecrypt(box, jwk)).plaintext)).toEqual(secret);
  const other = (await sealBox(key, secret)) ?? "";
  expect(await openInScript(half, other)).toEqual(secret);
  for (const spoilt of ["", "a.b.c", other.slice(1), `${other.slice(0, -3)}AAA`, `${other}.x`])
    await expect(openInScript(half, spoilt), spoilt).rejects.toThrow();
  await expect(sealInScript(base64url.encode(new Uint8Array(32)), secret)).rejects.toThrow();
});
