/** The words of a root seed, against the published vectors of BIP 39, and what is said of a slip. */
import { createSigner } from "@sward/client";
import fc from "fast-check";
import { expect, test } from "vitest";
import { seedOfWords, WORDS, wordsIn, wordsOf } from "../../../packages/client/src/keys/recovery.ts";

const seed = (hex: string): Uint8Array => Uint8Array.from(Buffer.from(hex, "hex"));

/**
 * Entropy and words of the vectors with 32 bytes in "BIP39 test vectors", https://github.com/trezor/python-mnemonic/blob/master/vectors.json
 * (the file BIP 39 itself names). Written from memory: the last word holds a checksum over all, so that a slip in any would show.
 */
const vectors: readonly (readonly [entropy: string, words: string])[] = [
  ["00".repeat(32), `${"abandon ".repeat(23)}art`],
  [
    "7f".repeat(32),
    "legal winner thank year wave sausage worth useful legal winner thank year wave sausage worth useful legal winner thank year wave sausage worth title",
  ],
  [
    "80".repeat(32),
    "letter advice cage absurd amount doctor acoustic avoid letter advice cage absurd amount doctor acoustic avoid letter advice cage absurd amount doctor acoustic bless",
  ],
  ["ff".repeat(32), `${"zoo ".repeat(23)}vote`],
];

test("the published vectors of 32 bytes, both ways", () => {
  for (const [entropy, words] of vectors) {
    expect(wordsOf(seed(entropy)).join(" ")).toBe(words);
    expect(seedOfWords(words)).toEqual({ ok: true, value: seed(entropy) });
  }
});

const RUNS = { seed: 3901, numRuns: 200 };

test("any seed comes back from its words, however they are written (seed 3901)", () => {
  const bytes = fc.uint8Array({ minLength: 32, maxLength: 32 });
  fc.assert(
    fc.property(bytes, fc.constantFrom(" ", "\n", ", ", "  \t", " - "), (given, between) => {
      const words = wordsOf(given);
      expect(words).toHaveLength(WORDS);
      const numbered = words.map((word, at) => `${at + 1}. ${at % 2 === 0 ? word.toUpperCase() : word}`).join(between);
      expect(seedOfWords(numbered)).toEqual({ ok: true, value: given });
    }),
    RUNS,
  );
});

test("the words find the club's key again: same seed, same key", async () => {
  const given = seed("3b".repeat(32));
  const back = seedOfWords(wordsOf(given).join(" "));
  expect(back.ok && (await createSigner(back.value)).id).toBe((await createSigner(given)).id);
});

test("a word that is not in the list is named with its place and what it may be", () => {
  const words = [...wordsOf(seed("80".repeat(32)))];
  words[2] = "cagee";
  expect(seedOfWords(words.join(" "))).toEqual({
    ok: false,
    fault: { type: "words-unknown", at: 3, word: "cagee", close: ["cage", "age", "agree"] },
  });
  words[2] = "qqqqqqq";
  expect(seedOfWords(words.join(" "))).toMatchObject({ fault: { type: "words-unknown", at: 3, close: [] } });
});

test("too few, too many, none, and two changed places are told apart", () => {
  const words = wordsOf(seed(`00${"5a".repeat(31)}`));
  expect(seedOfWords(words.slice(1).join(" "))).toMatchObject({
    fault: { type: "words-count", given: 23, wanted: 24 },
  });
  expect(seedOfWords([...words, "zoo"].join(" "))).toMatchObject({ fault: { type: "words-count", given: 25 } });
  expect(seedOfWords("  ")).toMatchObject({ fault: { type: "words-count", given: 0 } });
  const art = [...vectors[0]![1].split(" ").slice(0, 23), "abandon"];
  expect(seedOfWords(art.join(" "))).toEqual({ ok: false, fault: { type: "words-checksum" } });
});

test("reading words never throws, and takes nothing that is not its own words (seed 3901)", () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 400, unit: "binary" }), (text) => {
      const read = seedOfWords(text);
      if (read.ok) expect(wordsIn(text)).toEqual(wordsOf(read.value));
    }),
    RUNS,
  );
});

test("a seed of another length is a defect of ours", () => {
  expect(() => wordsOf(new Uint8Array(16))).toThrow("32 bytes");
});
