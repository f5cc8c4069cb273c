/**
 * What the standards print, against our encoding. The vectors are written down from memory, without the pages at hand; where a
 * signature or a digest is involved a slip of memory could not pass.
 *
 *     RFC 7515 JSON Web Signature            https://www.rfc-editor.org/rfc/rfc7515
 *     RFC 7638 JWK Thumbprint                https://www.rfc-editor.org/rfc/rfc7638
 *     RFC 8037 CFRG curves in JOSE           https://www.rfc-editor.org/rfc/rfc8037  (appendix A.1 to A.4)
 *     RFC 8785 JSON Canonicalization Scheme  https://www.rfc-editor.org/rfc/rfc8785  (3.2.2, 3.2.3, appendix B)
 */
import { createHmac, createPrivateKey, sign } from "node:crypto";
import type { Payload, PublicKey } from "@sward/core";
import { canonicalText, decodeEntry, digestOf, keyIdOf, signingInput } from "@sward/core";
import { base64url, CompactSign, calculateJwkThumbprint, compactVerify, importJWK } from "jose";
import { expect, test } from "vitest";

/** RFC 8037 A.1 and A.2. */
const published = {
  kty: "OKP",
  crv: "Ed25519",
  d: "nWGxne_9WmC6hEr0kuwsxERJxWl7MmkZcDusAxyuf2A",
  x: "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo",
};
const { d: _secret, ...publicJwk } = published;

/** RFC 8037 A.3. */
const thumbprint = "kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k";

/** RFC 8037 A.4: header {"alg":"EdDSA"}, payload "Example of Ed25519 signing". */
const publishedJws =
  "eyJhbGciOiJFZERTQSJ9.RXhhbXBsZSBvZiBFZDI1NTE5IHNpZ25pbmc." +
  "hgyY0il_MGCjP0JzlnLWG1PPOt7-09PGcvMg3AIbQR6dWbhijcNR4ki4iylGjg5BhVsPt9g7sVvpAr_MuM0KAg";

const author = keyIdOf(published.x as PublicKey);

const payload: Payload = {
  v: 1,
  book: thumbprint as Payload["book"],
  seq: 0,
  prev: null,
  at: "2026-05-01T10:00:00Z",
  kind: "book-opened",
  body: { root: published.x, as: "club", name: "Längsdorf & Ĳmuiden €" },
};

test("LE1 a key id is the thumbprint RFC 8037 A.3 prints for its key, and the one a JOSE library computes", async () => {
  expect(author).toBe(thumbprint);
  expect(await calculateJwkThumbprint(publicJwk)).toBe(thumbprint);
});

test("LE1 the signature printed in RFC 8037 A.4 holds, yet a JWS made for something else is no entry", async () => {
  const verified = await compactVerify(publishedJws, await importJWK(publicJwk, "EdDSA"));
  expect(new TextDecoder().decode(verified.payload)).toBe("Example of Ed25519 signing");
  expect(decodeEntry(publishedJws)).toEqual({ ok: false, fault: { type: "bad-header" } });
});

test("LE3 an entry signed over our signing input is verified by a JOSE library with the public key alone", async () => {
  const input = signingInput(author, payload);
  const key = createPrivateKey({ key: published, format: "jwk" });
  const jws = `${input}.${sign(null, Buffer.from(input, "ascii"), key).toString("base64url")}`;
  const verified = await compactVerify(jws, await importJWK(publicJwk, "EdDSA"));
  expect(verified.protectedHeader).toEqual({ alg: "EdDSA", kid: thumbprint, typ: "sward-entry" });
  expect(JSON.parse(new TextDecoder().decode(verified.payload))).toEqual(payload);
  expect(decodeEntry(jws)).toMatchObject({ ok: true, value: { id: digestOf(input), author: thumbprint } });

  const [header, body, signature = ""] = jws.split(".");
  const forged = `${header}.${body}.${signature.startsWith("A") ? "B" : "A"}${signature.slice(1)}`;
  await expect(compactVerify(forged, await importJWK(publicJwk, "EdDSA"))).rejects.toThrow("signature verification");
});

test("LE1 LE2 an entry that a JOSE library made from canonical JSON is read as one of ours, byte for byte", async () => {
  const jws = await new CompactSign(new TextEncoder().encode(canonicalText(payload)))
    .setProtectedHeader({ alg: "EdDSA", kid: thumbprint, typ: "sward-entry" })
    .sign(await importJWK(published, "EdDSA"));
  expect(jws.startsWith(`${signingInput(author, payload)}.`)).toBe(true);
  expect(decodeEntry(jws)).toMatchObject({ ok: true, value: { kind: "book-opened", body: payload.body } });
});

test("LE2 canonical JSON is what RFC 8785 prints: numbers, strings and literals (3.2.2)", () => {
  const input = `{
    "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
    "string": "\\u20ac$\\u000F\\u000aA'\\u0042\\u0022\\u005c\\\\\\"\\/",
    "literals": [null, true, false]
  }`;
  expect(canonicalText(JSON.parse(input))).toBe(
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],' +
      '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
  );
});

test("LE2 members are sorted by UTF-16 code units, as RFC 8785 prints (3.2.3)", () => {
  const input = {
    "\u20ac": "Euro Sign",
    "\r": "Carriage Return",
    "\ufb33": "Hebrew Letter Dalet With Dagesh",
    "1": "One",
    "\ud83d\ude00": "Emoji: Grinning Face",
    "\u0080": "Control",
    "\u00f6": "Latin Small Letter O With Diaeresis",
  };
  expect(Object.values(JSON.parse(canonicalText(input)) as object).sort()).toEqual(Object.values(input).sort());
  expect([...canonicalText(input).matchAll(/:"([^"]*)"/g)].map((match) => match[1])).toEqual([
    "Carriage Return",
    "One",
    "Control",
    "Latin Small Letter O With Diaeresis",
    "Euro Sign",
    "Emoji: Grinning Face",
    "Hebrew Letter Dalet With Dagesh",
  ]);
});

/** RFC 8785 appendix B: IEEE 754 bits and the text. */
const numbers = {
  "0000000000000000": "0",
  "8000000000000000": "0",
  "0000000000000001": "5e-324",
  "8000000000000001": "-5e-324",
  "7fefffffffffffff": "1.7976931348623157e+308",
  ffefffffffffffff: "-1.7976931348623157e+308",
  "4340000000000000": "9007199254740992",
  c340000000000000: "-9007199254740992",
  "4430000000000000": "295147905179352830000",
  "44b52d02c7e14af5": "9.999999999999997e+22",
  "44b52d02c7e14af6": "1e+23",
  "44b52d02c7e14af7": "1.0000000000000001e+23",
  "444b1ae4d6e2ef4e": "999999999999999700000",
  "444b1ae4d6e2ef4f": "999999999999999900000",
  "444b1ae4d6e2ef50": "1e+21",
  "3eb0c6f7a0b5ed8c": "9.999999999999997e-7",
  "3eb0c6f7a0b5ed8d": "0.000001",
  "41b3de4355555553": "333333333.3333332",
  "41b3de4355555554": "333333333.33333325",
  "41b3de4355555555": "333333333.3333333",
  "41b3de4355555556": "333333333.3333334",
  "41b3de4355555557": "333333333.33333343",
};

test("LE2 numbers are written as RFC 8785 appendix B prints, and what is no JSON number is refused", () => {
  for (const [bits, text] of Object.entries(numbers)) {
    expect(canonicalText(Buffer.from(bits, "hex").readDoubleBE()), bits).toBe(text);
  }
  for (const bits of ["7fffffffffffffff", "7ff0000000000000"]) {
    expect(() => canonicalText(Buffer.from(bits, "hex").readDoubleBE()), bits).toThrow();
  }
});

test("LE2 a lone surrogate is refused, as RFC 8785 asks (3.2.2.2), and what only looks like one is not", () => {
  for (const text of ["\ud800", "a\udfff", "\udc00\ud800", "\\\ud800", "\ud83d\ude00\ud83d"]) {
    expect(() => canonicalText({ text }), JSON.stringify(text)).toThrow("RFC 8785");
  }
  expect(() => canonicalText({ "\ud800": 1 })).toThrow("RFC 8785");
  for (const text of ["\\ud800", "\\\\ud800", "\ud83d\ude00", "ud800"]) {
    expect(JSON.parse(canonicalText({ text }))).toEqual({ text });
  }
});

/** RFC 7515 A.1: a compact JWS under HMAC, the one example there that any platform can check; and appendix C. */
const hmacJws = {
  header: '{"typ":"JWT",\r\n "alg":"HS256"}',
  payload: '{"iss":"joe",\r\n "exp":1300819380,\r\n "http://example.com/is_root":true}',
  text:
    "eyJ0eXAiOiJKV1QiLA0KICJhbGciOiJIUzI1NiJ9." +
    "eyJpc3MiOiJqb2UiLA0KICJleHAiOjEzMDA4MTkzODAsDQogImh0dHA6Ly9leGFtcGxlLmNvbS9pc19yb290Ijp0cnVlfQ." +
    "dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk",
  k: "AyM1SysPpbyDfgZld3umj1qzKObwVMkoqQ-EstJQLr_T-1qS0gZH75aKtMN3Yj0iPS4hcgUuTwjAzZr1Z9CAow",
};

test("LE1 the compact form of RFC 7515 A.1 and C: segments of base64url without padding, joined by dots; foreign ones are no entry", () => {
  expect(base64url.encode(Uint8Array.of(3, 236, 255, 224, 193))).toBe("A-z_4ME");
  const input = [hmacJws.header, hmacJws.payload].map((part) => base64url.encode(part)).join(".");
  const mac = createHmac("sha256", Buffer.from(hmacJws.k, "base64url")).update(input, "ascii").digest("base64url");
  expect(`${input}.${mac}`).toBe(hmacJws.text);
  expect(decodeEntry(hmacJws.text).ok).toBe(false);
  // Our own segments are of the same form: each decodes to exactly the canonical text it was made of.
  const [header, body] = signingInput(author, payload).split(".");
  expect(new TextDecoder().decode(base64url.decode(header ?? ""))).toBe(
    `{"alg":"EdDSA","kid":"${author}","typ":"sward-entry"}`,
  );
  expect(new TextDecoder().decode(base64url.decode(body ?? ""))).toBe(canonicalText(payload));
});
