/**
 * Starting: a first join, where every envelope is opened and every signature checked, and reopening, where nothing is.
 *
 * Floors, measured in the same run on the same bytes: bare Ed25519 by the same platform call, as many side by side as we do; plain
 * Yjs loading the same document; SHA-256 of each entry.
 */
import { createHash } from "node:crypto";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import * as Y from "yjs";
import { openBook } from "../src/book/book.ts";
import type { DocStore } from "../src/book/doc-store.ts";
import { createMemoryDocStore } from "../src/book/doc-store.ts";
import { createLevelDocStore } from "../src/book/doc-store-level.ts";
import { pushEnvelopes } from "../src/book/ledger-doc.ts";
import type { BookOptions } from "../src/book/options.ts";
import { seal } from "../src/book/seal.ts";
import { openLevelVault } from "../src/book/vault-level.ts";
import { createMemoryVault } from "../src/book/vault-memory.ts";
import { systemClock, systemRandom } from "../src/desk/platform.ts";
import { deriveEpoch } from "../src/keys/book-keys.ts";
import type { Signer } from "../src/keys/signer.ts";
import { createSigner } from "../src/keys/signer.ts";
import type { Figure } from "./measure.ts";
import { figure, timed } from "./measure.ts";
import type { BenchBook } from "./world.ts";
import { benchBook } from "./world.ts";

const secret = new Uint8Array(32).fill(9);
const SIDE_BY_SIDE = 64;

export async function benchStart(size: number, runs: number): Promise<Figure[]> {
  const signers = await Promise.all([1, 2, 3, 4, 5, 6].map((n) => createSigner(new Uint8Array(32).fill(n))));
  const bench = await benchBook(size, signers, true);
  const update = await documentOf(bench);
  const root = signers[0] as Signer;
  const named = `${size.toLocaleString("en")} entries`;

  const ed25519 = await timed(
    runs,
    () => undefined,
    () => bareVerify(bench, signers),
  );
  const yjs = await timed(
    runs,
    () => undefined,
    () => Y.applyUpdate(new Y.Doc(), update),
  );
  const sha = await timed(
    runs,
    () => undefined,
    () => {
      for (const { jws } of bench.entries) createHash("sha256").update(jws).digest();
    },
  );
  const join = await timed(
    runs,
    () => undefined,
    () => firstJoin(bench, root, update),
  );
  const reopen = await reopening(bench, root, update, runs);
  return [
    figure(`first join, ${named}, every signature checked`, join, {
      floor: { what: "bare Ed25519", times: ed25519 },
      aim: "2 x",
    }),
    figure(`reopening, ${named}, to the state on screen`, reopen, {
      floor: { what: "plain Yjs load", times: yjs },
      ...(size === 30_000 ? { aim: "1 s" } : {}),
    }),
    figure(`  SHA-256 of ${named}, for comparison`, sha),
  ];
}

/** One envelope for each entry, as live use makes them: the slowest to open. */
async function documentOf(bench: BenchBook): Promise<Uint8Array> {
  const keys = await deriveEpoch(bench.book, { epoch: 0, secret });
  const doc = new Y.Doc();
  const envelopes: Uint8Array[] = [];
  for (const { jws } of bench.entries) envelopes.push(await seal(bench.book, keys, [jws], systemRandom));
  pushEnvelopes(doc, envelopes);
  return Y.encodeStateAsUpdate(doc);
}

const storeOf = (update: Uint8Array): DocStore => ({
  ...createMemoryDocStore(),
  attach: (doc) => {
    Y.applyUpdate(doc, update);
    return Promise.resolve({ sound: true, rows: 0 });
  },
});

function options(bench: BenchBook, device: Signer, more: Pick<BookOptions, "vault" | "ledgerStore">): BookOptions {
  return {
    book: bench.book,
    device,
    epochs: [{ epoch: 0, secret }],
    rosterStore: createMemoryDocStore(),
    relay: null,
    clock: systemClock,
    randomBytes: systemRandom,
    entriesPerBlock: 200,
    ...more,
  };
}

async function firstJoin(bench: BenchBook, device: Signer, update: Uint8Array): Promise<void> {
  const book = await openBook(options(bench, device, { vault: createMemoryVault(), ledgerStore: storeOf(update) }));
  await book.settled();
  expectAll(book.state().entries, bench);
  await book.close();
}

async function reopening(bench: BenchBook, device: Signer, update: Uint8Array, runs: number): Promise<number[]> {
  const folder = await mkdtemp(join(tmpdir(), "sward-bench-"));
  try {
    const first = await openBook(
      options(bench, device, { vault: await openLevelVault(join(folder, "vault")), ledgerStore: storeOf(update) }),
    );
    await first.settled();
    await first.close();
    return await timed(
      runs,
      async () => ({ folder: join(folder, "vault") }),
      async (at) => {
        const vault = await openLevelVault(at.folder);
        const ledgerStore = createLevelDocStore(join(folder, "ledger"), "ledger");
        const book = await openBook(options(bench, device, { vault, ledgerStore }));
        // What a first screen reads.
        if (book.state().cards.size === 0 || book.state().questions.length < 0) throw new Error("nothing to show");
        expectAll(book.state().entries, bench);
        void book.settled().then(() => book.close());
        await book.settled();
      },
    );
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

function expectAll(entries: number, bench: BenchBook): void {
  if (entries !== bench.entries.length) throw new Error(`${entries} of ${bench.entries.length} entries are there`);
}

async function bareVerify(bench: BenchBook, signers: readonly Signer[]): Promise<void> {
  const key = await crypto.subtle.importKey(
    "jwk",
    { kty: "OKP", crv: "Ed25519", x: (signers[0] as Signer).key },
    "Ed25519",
    false,
    ["verify"],
  );
  const encoder = new TextEncoder();
  for (let at = 0; at < bench.entries.length; at += SIDE_BY_SIDE) {
    await Promise.all(
      bench.entries.slice(at, at + SIDE_BY_SIDE).map(({ jws }) => {
        const dot = jws.lastIndexOf(".");
        return crypto.subtle.verify(
          "Ed25519",
          key,
          Buffer.from(jws.slice(dot + 1), "base64url"),
          encoder.encode(jws.slice(0, dot)),
        );
      }),
    );
  }
}
