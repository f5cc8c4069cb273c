/**
 * `npm run bench`: every figure is a median, beside a bare floor measured in the same run. Nothing here is a test: a busy machine is
 * slower, and only the ratios say something about us.
 *
 *     npm run bench               everything, some minutes
 *     npm run bench -- --quick    smaller, for a first look
 */
import { cpus } from "node:os";
import { benchAppend } from "./append.ts";
import type { Figure } from "./measure.ts";
import { row } from "./measure.ts";
import { benchOneMatch, benchReplay } from "./replay.ts";
import { benchStart } from "./start.ts";

const quick = process.argv.includes("--quick");
console.log(`Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? "unknown"}${quick ? ", quick" : ""}`);
console.log("Median, least..most, and how many times the bare floor of the same run.\n");

const parts: readonly (() => Promise<Figure[]>)[] = quick
  ? [
      () => benchReplay(100_000, 2_000, 3),
      () => benchOneMatch(10_000, 50),
      () => benchAppend(1_000, 50),
      () => benchStart(1_000, 3),
    ]
  : [
      () => benchReplay(1_000_000, 20_000, 5),
      () => benchOneMatch(30_000, 200),
      () => benchAppend(1_000, 200),
      () => benchAppend(30_000, 200),
      () => benchStart(1_000, 5),
      () => benchStart(10_000, 5),
      () => benchStart(30_000, 5),
    ];
for (const part of parts) for (const one of await part()) console.log(row(one));
