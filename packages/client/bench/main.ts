/**
 * `npm run bench`: every figure is a median, beside a bare floor measured in the same run. Nothing here is a test: a busy machine is
 * slower, and only the ratios say something about us.
 *
 *     npm run bench               everything, some ten minutes
 *     npm run bench -- --quick    smaller, for a first look
 *     npm run bench -- --write    everything, and makes packages/core/BENCHMARKS.md and its chart anew
 *     npm run bench -- --import   only an import of 100,000 games (10,000 with --quick), as a screen does it
 */
import { writeFile } from "node:fs/promises";
import { cpus } from "node:os";
import { benchAppend } from "./append.ts";
import { chartOf } from "./chart.ts";
import { rowsOf } from "./growth.ts";
import { benchImport } from "./import.ts";
import type { Figure } from "./measure.ts";
import { row } from "./measure.ts";
import type { Memory } from "./memory.ts";
import { measureMemory } from "./memory.ts";
import { benchOneMatch, benchReplay } from "./replay.ts";
import { aimsOf, pageOf } from "./report.ts";
import { signedBook } from "./signed.ts";
import { benchStages } from "./stages.ts";
import { benchStart } from "./start.ts";

const [quick, write] = [process.argv.includes("--quick"), process.argv.includes("--write")];
const day = new Date().toISOString().slice(0, 10);
const machine = `${day}, Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? "unknown"}${quick ? ", quick" : ""}.`;
console.log(machine);
console.log("Median, least..most, and how many times the bare floor of the same run.\n");

const tell = (figures: readonly Figure[]): readonly Figure[] => {
  for (const one of figures) console.log(row(one));
  return figures;
};
if (process.argv.includes("--import")) {
  tell(await benchImport(quick ? 10_000 : 100_000));
  process.exit();
}
const grown: Figure[] = [];
const memory: Memory[] = [];

for (const size of quick ? [1_000, 10_000] : [1_000, 10_000, 30_000, 100_000]) {
  const signed = await signedBook(size);
  const runs = size > 30_000 || quick ? 3 : 5;
  const stages = tell(await benchStages(signed, runs));
  grown.push(...stages, ...tell(await benchStart(signed, stages, runs)));
  const held = measureMemory(signed);
  memory.push(held);
  console.log(`memory for each of ${size}: ledger ${held.ledger} bytes, document ${held.document}\n`);
}
for (const size of quick ? [10_000, 100_000] : [1_000, 10_000, 30_000, 100_000, 1_000_000])
  grown.push(...tell(await benchReplay(size, size > 100_000 ? 3 : 5)));

const others: Figure[] = [];
for (const size of quick ? [1_000] : [1_000, 30_000]) {
  others.push(...tell(await benchOneMatch(size, quick ? 50 : 200)));
  others.push(...tell(await benchAppend(size, quick ? 50 : 200)));
}

const rows = rowsOf(grown);
const measured = { machine, rows, others, memory };
console.log("");
for (const { what, exponent } of rows)
  if (exponent !== null) console.log(`${what.padEnd(50)} size^${exponent.toFixed(2)}`);
console.log("");
for (const { what, aim, measured: said, met } of aimsOf(measured))
  console.log(`${met ? "reached    " : "NOT reached"}  ${what}: ${said}, aim ${aim}`);

if (write) {
  const core = new URL("../../core/", import.meta.url);
  await writeFile(new URL("benchmarks.svg", core), chartOf(rows));
  await writeFile(new URL("BENCHMARKS.md", core), pageOf(measured));
  console.log("\nwritten: packages/core/BENCHMARKS.md and packages/core/benchmarks.svg");
}
