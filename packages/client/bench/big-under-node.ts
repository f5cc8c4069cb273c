/** The largest book under Node, in a process of its own, so that nothing else is in its memory: `node --expose-gc … <entries>`. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { neverBreathe } from "../src/book/breathing.ts";
import { openLevelVault } from "../src/book/vault-level.ts";
import type { HeldBook } from "./big-book.ts";
import { fillVault, openBig } from "./big-book.ts";

declare const gc: () => void;

const folder = await mkdtemp(join(tmpdir(), "sward-bench-"));
try {
  const empty = await openLevelVault(join(folder, "vault"));
  await fillVault(empty, Number(process.argv[2]));
  await empty.close();
  let held = Number.NaN;
  const big = await openBig(await openLevelVault(join(folder, "vault")), neverBreathe, async () => {
    gc();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    held = heapUsed + arrayBuffers;
  });
  const found: HeldBook = { ...big, held, task: null };
  process.stdout.write(JSON.stringify(found));
} finally {
  await rm(folder, { recursive: true, force: true });
}
