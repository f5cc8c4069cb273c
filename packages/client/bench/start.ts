/**
 * Starting, end to end: a first join, where every envelope is opened and every signature checked, and reopening, where nothing is.
 * Each beside the sum of its stages' floors, measured in the same run on the same bytes (`stages.ts`, `cold-start.ts`).
 */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import * as Y from "yjs";
import { openBook } from "../src/book/book.ts";
import type { DocStore } from "../src/book/doc-store.ts";
import { createMemoryDocStore } from "../src/book/doc-store.ts";
import { createLevelDocStore } from "../src/book/doc-store-level.ts";
import { openLevelVault } from "../src/book/vault-level.ts";
import { createMemoryVault } from "../src/book/vault-memory.ts";
import type { Signer } from "../src/keys/signer.ts";
import type { ColdStart } from "./cold-start.ts";
import { coldFigures } from "./cold-start.ts";
import type { Figure } from "./measure.ts";
import { figure, timed } from "./measure.ts";
import { benchOptions } from "./options.ts";
import { inOwnProcess } from "./own-process.ts";
import type { SignedBook } from "./signed.ts";
import { JOINING } from "./start-floors.ts";
import type { BenchBook } from "./world.ts";

/** @param stages of the same book in the same run */
export async function benchStart(signed: SignedBook, stages: readonly Figure[], runs: number): Promise<Figure[]> {
  const { bench, update, signers } = signed;
  const root = signers[0] as Signer;
  const size = bench.entries.length;
  const floorOf = (names: readonly string[]) => {
    const floors = stages.filter(({ what }) => names.includes(what)).map(({ floor }) => floor?.value ?? Number.NaN);
    if (floors.length !== names.length) throw new Error(`floors of ${names.join(", ")}`);
    return [floors.reduce((sum, one) => sum + one, 0)];
  };
  const joining = await timed(
    runs,
    () => undefined,
    () => firstJoin(bench, root, update),
  );
  const reopened = await reopening(bench, root, update, runs);
  const ed25519 = [stages.find(({ what }) => what === "verify signatures")?.floor?.value ?? Number.NaN];
  return [
    figure("first join, end to end", joining, {
      size,
      floor: { what: "sum of its stages' floors", times: floorOf(JOINING) },
      aim: "2 x",
    }),
    figure("first join, beside signatures alone", joining, {
      size,
      floor: { what: "bare Ed25519", times: ed25519 },
      aim: "2 x",
    }),
    ...coldFigures(size, reopened),
  ];
}

const storeOf = (update: Uint8Array): DocStore => ({
  ...createMemoryDocStore(),
  attach: (doc) => {
    Y.applyUpdate(doc, update);
    return Promise.resolve({ sound: true, rows: 0 });
  },
});

async function firstJoin(bench: BenchBook, device: Signer, update: Uint8Array): Promise<void> {
  const book = await openBook(
    benchOptions(bench.book, device, { vault: createMemoryVault(), ledgerStore: storeOf(update) }),
  );
  await book.settled();
  expectAll(book.state().entries, bench);
  await book.close();
}

/** In a process of its own, from a folder that is filled here. */
async function reopening(bench: BenchBook, device: Signer, update: Uint8Array, runs: number): Promise<ColdStart> {
  const folder = await mkdtemp(join(tmpdir(), "sward-bench-"));
  try {
    const first = await openBook(
      benchOptions(bench.book, device, {
        vault: await openLevelVault(join(folder, "vault")),
        ledgerStore: storeOf(update),
      }),
    );
    await first.settled();
    await first.close();
    const store = createLevelDocStore(join(folder, "ledger"), "ledger");
    const doc = new Y.Doc();
    await store.attach(doc);
    Y.applyUpdate(doc, update);
    await store.close();
    return await inOwnProcess<ColdStart>("cold-under-node.ts", folder, bench.entries.length, runs);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

function expectAll(entries: number, bench: BenchBook): void {
  if (entries !== bench.entries.length) throw new Error(`${entries} of ${bench.entries.length} entries are there`);
}
