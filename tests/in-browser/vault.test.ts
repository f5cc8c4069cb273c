import { describe } from "vitest";
import { openIdbVault } from "../../packages/client/src/book/vault-idb.ts";
import { vaultContract } from "../support/vault-contract.ts";

const run = crypto.randomUUID();

describe("on IndexedDB", () =>
  vaultContract(
    (name) => openIdbVault(`${run}/${name}`, { givenUp: () => undefined, putBack: () => undefined }),
    true,
  ));
