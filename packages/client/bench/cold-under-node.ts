/** A cold start under Node, in a process of its own. Its arguments: the folder that holds vault and ledger, how many entries, how many runs. */
import { join } from "node:path";
import { ClassicLevel } from "classic-level";
import { createLevelDocStore } from "../src/book/doc-store-level.ts";
import { openLevelVault } from "../src/book/vault-level.ts";
import { coldStart } from "./cold-start.ts";

const [folder = "", size, runs] = process.argv.slice(2);
const vault = join(folder, "vault");

const found = await coldStart(Number(size), Number(runs), {
  open: async () => ({
    vault: await openLevelVault(vault),
    ledgerStore: createLevelDocStore(join(folder, "ledger"), "ledger"),
  }),
  async bare() {
    const db = new ClassicLevel<string, string>(vault);
    await db.open();
    const records = (await db.values({ gte: "record/", lt: "record/~" }).all()).map((text) => JSON.parse(text));
    await db.close();
    return records;
  },
});
process.stdout.write(JSON.stringify(found));
