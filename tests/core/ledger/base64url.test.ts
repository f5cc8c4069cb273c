/** Core's own base64url and UTF-8, beside the platform's: what one reads the other reads, and nothing else. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { base64urlOf, textOfSegment } from "../../../packages/core/src/ledger/base64url.ts";
import { strictly } from "./slow-decoding.ts";

const SEED = 20261127;

/** As `TextDecoder` reads it, a byte order mark kept. */
function byPlatform(segment: string): string | null {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(strictly(segment));
  } catch {
    return null;
  }
}

test("RFC 4648 section 10, https://www.rfc-editor.org/rfc/rfc4648#section-10, without its padding", () => {
  const vectors = { "": "", f: "Zg", fo: "Zm8", foo: "Zm9v", foob: "Zm9vYg", fooba: "Zm9vYmE", foobar: "Zm9vYmFy" };
  for (const [text, segment] of Object.entries(vectors)) {
    expect(base64urlOf(new TextEncoder().encode(text))).toBe(segment);
    expect(textOfSegment(segment)).toBe(text);
  }
});

test(`bytes are written as the platform writes them (seed ${SEED})`, () => {
  const bytes = fc.uint8Array({ maxLength: 40 });
  fc.assert(
    fc.property(bytes, (some) => {
      expect(base64urlOf(some)).toBe(Buffer.from(some).toString("base64url"));
    }),
    { seed: SEED, numRuns: 1_000 },
  );
});

test(`a segment has the platform's text, or none where the platform has none (seed ${SEED})`, () => {
  const text = fc
    .string({ unit: "binary", maxLength: 30 })
    .map((some) => Buffer.from(some, "utf8").toString("base64url"));
  const ascii = fc
    .string({ unit: "binary-ascii", maxLength: 60 })
    .map((some) => Buffer.from(some).toString("base64url"));
  const bytes = fc.uint8Array({ maxLength: 8 }).map((some) => Buffer.from(some).toString("base64url"));
  const bent = fc.tuple(fc.oneof(text, ascii), fc.nat(), fc.string({ unit: "binary", maxLength: 2 }));
  const broken = bent.map(([segment, at, put]) => {
    const place = at % (segment.length + 1);
    return segment.slice(0, place) + put + segment.slice(place + 1);
  });
  const any = fc.string({ unit: fc.constantFrom(..."ABQZaz09-_+/= "), maxLength: 9 });
  let [read, refused] = [0, 0];
  fc.assert(
    fc.property(fc.oneof(text, ascii, bytes, broken, any), (segment) => {
      const found = textOfSegment(segment);
      if (found === null) refused += 1;
      else read += 1;
      expect(found).toBe(byPlatform(segment));
    }),
    { seed: SEED, numRuns: 6_000 },
  );
  expect(Math.min(read, refused)).toBeGreaterThan(1_500);
});

test("what UTF-8 forbids has no text: bytes too many, halves of pairs, beyond the last character", () => {
  for (const bytes of [
    [0xc0, 0x80],
    [0xe0, 0x80, 0xaf],
    [0xed, 0xa0, 0x80],
    [0xf4, 0x90, 0x80, 0x80],
    [0xff],
    [0xc3],
  ]) {
    expect(textOfSegment(Buffer.from(bytes).toString("base64url"))).toBe(null);
  }
  expect(textOfSegment(Buffer.from("\ufeffa").toString("base64url"))).toBe("\ufeffa");
});

test("long segments are read whole, after and before short ones", () => {
  for (const length of [1, 2_047, 2_048, 4_095, 4_096, 4_097, 20_000, 3]) {
    for (const one of ["x", "é"]) {
      const text = one.repeat(length);
      expect(textOfSegment(Buffer.from(text).toString("base64url")) === text).toBe(true);
    }
  }
});
