/** The largest book under Node, in a process of its own, so that nothing else is in its memory. Its argument: how many entries. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { neverBreathe } from "../src/book/breathing.ts";
import { openLevelVault } from "../src/book/vault-level.ts";
import type { HeldBook } from "./big-book.ts";
import { fillVault, openBig } from "./big-book.ts";
import { collect } from "./collect.ts";

const folder = await mkdtemp(join(tmpdir(), "sward-bench-"));
try {
  const empty = await openLevelVault(join(folder, "vault"));
  await fillVault(empty, Number(process.argv[2]));
  await empty.close();
  const big = await openBig(await openLevelVault(join(folder, "vault")), neverBreathe, async () => {
    collect();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return heapUsed + arrayBuffers;
  });
  const found: HeldBook = { ...big, task: null };
  process.stdout.write(JSON.stringify(found));
} finally {
  await rm(folder, { recursive: true, force: true });
}
