/** A cold start under Node, in a process of its own. Its arguments: the folder that holds vault and ledger, how many entries, how many runs. */
import { join } from "node:path";
import { ClassicLevel } from "classic-level";
import { createLevelDocStore } from "../src/book/doc-store-level.ts";
import { openLevelVault } from "../src/book/vault-level.ts";
import { coldStart } from "./cold-start.ts";

const [folder = "", size, runs] = process.argv.slice(2);
const [vault, ledger] = [join(folder, "vault"), join(folder, "ledger")];

const found = await coldStart(Number(size), Number(runs), {
  open: async () => ({
    vault: await openLevelVault(vault),
    ledgerStore: createLevelDocStore(ledger, "ledger"),
  }),
  async bareVault() {
    const db = new ClassicLevel<string, string>(vault);
    await db.open();
    const records = (await db.values({ gte: "record/", lt: "record/~" }).all()).map((text) => JSON.parse(text));
    await db.close();
    return records;
  },
  async bareDocument() {
    const db = new ClassicLevel<string, Uint8Array>(ledger, { valueEncoding: "view" });
    await db.open();
    const updates = await db.values().all();
    await db.close();
    return updates;
  },
});
process.stdout.write(JSON.stringify(found));
