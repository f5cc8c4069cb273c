/**
 * A root seed as words on paper: BIP 39 (https://github.com/bitcoin/bips/blob/master/bip-0039.mediawiki), English list, 32 bytes of
 * entropy as 24 words, the last of which also holds a checksum of 8 bits. The seed is the entropy itself: BIP 39's further step
 * (PBKDF2 with a passphrase) makes a wallet's seed of the words and is not taken.
 *
 * Words because they are written down and typed again by hand, and a slip in them can be said: which word, and which ones of the list
 * are close. Rejected: a code of letters (a slip cannot be told from another code) and a file (a club's drawer keeps paper).
 */

import { entropyToMnemonic, mnemonicToEntropy } from "@scure/bip39";
import { wordlist } from "@scure/bip39/wordlists/english.js";
import type { Result } from "@sward/core";
import { byCodeUnits, byNumber, fail, ok } from "@sward/core";
import { SEED_BYTES } from "./signer.ts";

export const WORDS = 24;

export type WordsFault =
  | { readonly type: "words-count"; readonly given: number; readonly wanted: number }
  /** `at` counts from 1, as people count words. `close`: words of the list it may be, closest first, at most three. */
  | { readonly type: "words-unknown"; readonly at: number; readonly word: string; readonly close: readonly string[] }
  /** All are words of the list, but not these together in this order. */
  | { readonly type: "words-checksum" };

/** @param seed 32 bytes. @returns 24 words */
export function wordsOf(seed: Uint8Array): readonly string[] {
  if (seed.length !== SEED_BYTES) throw new Error("a root seed has 32 bytes");
  return entropyToMnemonic(seed, wordlist).split(" ");
}

/** @param text words with anything but letters between them; numbers, commas and capitals are as people write them */
export function seedOfWords(text: string): Result<Uint8Array, WordsFault> {
  const given = wordsIn(text);
  const unknown = given.findIndex((word) => !known.has(word));
  const word = given[unknown];
  if (word !== undefined) return fail({ type: "words-unknown", at: unknown + 1, word, close: closeTo(word) });
  if (given.length !== WORDS) return fail({ type: "words-count", given: given.length, wanted: WORDS });
  try {
    return ok(Uint8Array.from(mnemonicToEntropy(given.join(" "), wordlist)));
  } catch {
    return fail({ type: "words-checksum" });
  }
}

/** The words in a text, in lower case. */
export const wordsIn = (text: string): readonly string[] => text.toLowerCase().match(/\p{L}+/gu) ?? [];

const known: ReadonlySet<string> = new Set(wordlist);

const MOST_CLOSE = 3;
const LONGEST_COMPARED = 20;

function closeTo(word: string): readonly string[] {
  const short = word.slice(0, LONGEST_COMPARED);
  return wordlist
    .map((other) => ({ other, steps: slipsBetween(short, other) }))
    .filter(({ steps }) => steps <= 2)
    .sort((a, b) => byNumber(a.steps, b.steps) || byCodeUnits(a.other, b.other))
    .slice(0, MOST_CLOSE)
    .map(({ other }) => other);
}

/** Letters put in, left out or changed to make one word of the other (Levenshtein). */
function slipsBetween(one: string, two: string): number {
  let row = Array.from({ length: two.length + 1 }, (_, at) => at);
  for (let at = 1; at <= one.length; at++) {
    const next = [at];
    for (let to = 1; to <= two.length; to++) {
      const change = (row[to - 1] ?? 0) + (one[at - 1] === two[to - 1] ? 0 : 1);
      next.push(Math.min(change, (row[to] ?? 0) + 1, (next[to - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[two.length] ?? 0;
}
