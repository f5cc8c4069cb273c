/** A signed and sealed book: one envelope for each entry, as live use makes them, which is the slowest to open. */
import * as Y from "yjs";
import { pushEnvelopes } from "../src/book/ledger-doc.ts";
import { seal } from "../src/book/seal.ts";
import { systemRandom } from "../src/desk/platform.ts";
import { deriveEpoch } from "../src/keys/book-keys.ts";
import type { Signer } from "../src/keys/signer.ts";
import { createSigner } from "../src/keys/signer.ts";
import type { BenchBook } from "./world.ts";
import { benchBook } from "./world.ts";

export const secret = new Uint8Array(32).fill(9);

export interface SignedBook {
  readonly bench: BenchBook;
  readonly signers: readonly Signer[];
  readonly envelopes: readonly Uint8Array[];
  readonly update: Uint8Array;
}

/** The root and its five devices. */
export const benchSigners = (): Promise<readonly Signer[]> =>
  Promise.all([1, 2, 3, 4, 5, 6].map((n) => createSigner(new Uint8Array(32).fill(n))));

export async function signedBook(size: number): Promise<SignedBook> {
  const signers = await benchSigners();
  const bench = await benchBook(size, signers, true);
  const keys = await deriveEpoch(bench.book, { epoch: 0, secret });
  const envelopes: Uint8Array[] = [];
  for (const { jws } of bench.entries) envelopes.push(await seal(bench.book, keys, [jws], systemRandom));
  const doc = new Y.Doc();
  pushEnvelopes(doc, envelopes);
  return { bench, signers, envelopes, update: Y.encodeStateAsUpdate(doc) };
}

const AT_ONCE = 64;

/** As many together as the book has under way. */
export async function sideBySide<T>(
  items: readonly T[],
  each: (item: T, n: number) => Promise<unknown>,
): Promise<void> {
  for (let at = 0; at < items.length; at += AT_ONCE)
    await Promise.all(items.slice(at, at + AT_ONCE).map((item, n) => each(item, at + n)));
}

/** The platform's check of as many signatures over the same bytes; by one key, so not all of them hold. */
export async function bareVerify({ entries }: BenchBook, signers: readonly Signer[]): Promise<void> {
  const jwk = { kty: "OKP", crv: "Ed25519", x: (signers[0] as Signer).key };
  const key = await crypto.subtle.importKey("jwk", jwk, "Ed25519", false, ["verify"]);
  const encoder = new TextEncoder();
  await sideBySide(entries, ({ jws }) => {
    const dot = jws.lastIndexOf(".");
    const signature = Buffer.from(jws.slice(dot + 1), "base64url");
    return crypto.subtle.verify("Ed25519", key, signature, encoder.encode(jws.slice(0, dot)));
  });
}
