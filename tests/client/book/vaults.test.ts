import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createMemoryVault } from "@sward/client";
import { openLevelVault } from "@sward/client/node";
import { afterAll, beforeAll, describe } from "vitest";
import { vaultContract } from "../../support/vault-contract.ts";

describe("in memory", () => vaultContract(() => Promise.resolve(createMemoryVault()), false));

describe("on LevelDB", () => {
  let folder = "";
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "sward-vaults-"));
  });
  afterAll(() => rm(folder, { recursive: true }));
  vaultContract((name) => openLevelVault(join(folder, name)), true);
});
