/** What the door makes of the signature of a token: of good keys' signatures over headers that must not be taken. */
import { createPrivateKey, sign } from "node:crypto";
import { RoomName } from "@sward/core";
import { expect, test } from "vitest";
import { isSignedBy } from "../../packages/relay/src/token-signature.ts";

// RFC 8037, appendices A.1 and A.3 (https://www.rfc-editor.org/rfc/rfc8037#appendix-A.1): a key and its thumbprint.
const room = RoomName().parse("11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo");
const thumbprint = "kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k";
const key = createPrivateKey({
  key: { kty: "OKP", crv: "Ed25519", x: room, d: "nWGxne_9WmC6hEr0kuwsxERJxWl7MmkZcDusAxyuf2A" },
  format: "jwk",
});

const good = { alg: "EdDSA", typ: "sward-token", kid: thumbprint };
const part = (value: unknown): string => Buffer.from(JSON.stringify(value)).toString("base64url");
function signed(header: unknown): string {
  const text = `${part(header)}.${part({ any: "payload" })}`;
  return `${text}.${sign(null, Buffer.from(text), key).toString("base64url")}`;
}

test("RL1 a token signed by the key of RFC 8037, which its header names by the thumbprint of RFC 8037", () => {
  expect(isSignedBy(signed(good), room)).toBe(true);
  expect(isSignedBy(signed({ ...good, more: "is not looked at" }), room)).toBe(true);
});

test("RL1 well signed, and yet nothing: another algorithm, type or key named, something that must be understood, no object, four parts", () => {
  const headers = [
    { ...good, alg: "none" },
    { ...good, alg: "ES256" },
    { ...good, alg: undefined },
    { ...good, typ: "JWT" },
    { ...good, kid: `${thumbprint.slice(0, -1)}l` },
    { ...good, kid: undefined },
    { ...good, crit: ["b64"], b64: true },
    { ...good, crit: null },
    [good],
    "EdDSA",
    null,
  ];
  for (const header of headers) expect([header, isSignedBy(signed(header), room)]).toEqual([header, false]);
  expect(isSignedBy(`${signed(good)}.AAAA`, room)).toBe(false);
});

test("RL1 every bit of what is signed, and of the signature, counts", () => {
  const token = signed(good);
  const [head = "", body = "", signature = ""] = token.split(".");
  expect(isSignedBy(`${head}.${body}`, room)).toBe(false);
  expect(isSignedBy(`${head}.${body}.${signature.slice(0, -4)}`, room)).toBe(false);
  expect(isSignedBy(`${head}.${body}.${signature}AAAA`, room)).toBe(false);
  const bytes = Buffer.from(signature, "base64url");
  for (let bit = 0; bit < bytes.length * 8; bit += 1) {
    const changed = Buffer.from(bytes);
    changed[bit >> 3]! ^= 1 << (bit & 7);
    expect(isSignedBy(`${head}.${body}.${changed.toString("base64url")}`, room)).toBe(false);
  }
  expect(isSignedBy(`${head}.${part({ any: "payloae" })}.${signature}`, room)).toBe(false);
});
