/**
 * `npm run bench`: every figure is a median, beside a bare floor measured in the same run. Nothing here is a test: a busy machine is
 * slower, and only the ratios say something about us.
 *
 *     npm run bench                everything up to 30,000 in a real browser and 1,000,000 under Node, some twenty minutes
 *     npm run bench -- --quick     smaller, for a first look
 *     npm run bench -- --node      only what is measured under Node
 *     npm run bench -- --browser   only what is measured in a real browser: each stage in a page, and the built app as somebody sees it
 *     npm run bench -- --write     everything, also what is largest, and makes packages/core/BENCHMARKS.md and its chart anew; with
 *                                  --node or --browser that half, and the other stays as it was measured before
 *     npm run bench -- --import    only an import of 100,000 games (10,000 with --quick), as a screen does it
 */
import { writeFile } from "node:fs/promises";
import { benchInBrowser } from "./browser-run.ts";
import { chartOf } from "./chart.ts";
import { rowsOf } from "./growth.ts";
import { benchImport } from "./import.ts";
import { readKept, writeKept } from "./kept-figures.ts";
import { allAims, pageOf } from "./report.ts";
import { benchUnderNode, machineHere, tell } from "./under-node.ts";

const asked = (name: string): boolean => process.argv.includes(`--${name}`);
const [quick, write] = [asked("quick"), asked("write")];
console.log(machineHere(quick));
console.log("Median, least..most, and how many times the bare floor of the same run.\n");
if (asked("import")) {
  tell(await benchImport(quick ? 10_000 : 100_000));
  process.exit();
}

const core = new URL("../../core/", import.meta.url);
const keptAt = new URL("benchmarks.json", core);
const before = write ? await readKept(keptAt) : { underNode: null, inBrowser: null };
const underNode = asked("browser") ? before.underNode : await benchUnderNode(quick, write);
const inBrowser = asked("node")
  ? before.inBrowser
  : await benchInBrowser(quick ? ["--quick"] : write ? ["--full"] : []);

const rows = rowsOf(underNode?.grown ?? []);
const browserRows = rowsOf(inBrowser?.stages ?? []);
const measured = {
  machine: underNode?.machine ?? "",
  rows,
  others: underNode?.others ?? [],
  memory: underNode?.memory ?? [],
  big: underNode?.big ?? null,
  inBrowser,
};
console.log("");
for (const [where, all] of [
  ["", rows],
  [", in a browser", browserRows],
] as const)
  for (const { what, exponent } of all)
    if (exponent !== null) console.log(`${`${what}${where}`.padEnd(60)} size^${exponent.toFixed(2)}`);
console.log("");
for (const { what, aim, measured: said, met } of allAims(measured))
  console.log(`${met ? "reached    " : "NOT reached"}  ${what}: ${said}, aim ${aim}`);

if (write) {
  await writeKept(keptAt, { underNode, inBrowser });
  await writeFile(new URL("benchmarks.svg", core), chartOf(rows, browserRows));
  await writeFile(new URL("BENCHMARKS.md", core), pageOf(measured));
  console.log("\nwritten: packages/core/BENCHMARKS.md, its chart benchmarks.svg and its figures benchmarks.json");
}
