/**
 * `npm run bench:relay`: our relay, a general server and the bare floor, side by side. Each workload starts each server anew in a process
 * of its own on an empty store, with the same client and the same payloads, one server after another (late joins: turn by turn).
 *
 *     npm run bench:relay                 all of it, about ten minutes
 *     npm run bench:relay -- --quick      a tenth of the size: does it run, not how fast
 *     npm run bench:relay -- --only W3    one workload
 *     npm run bench:relay -- --write      also into packages/relay/BENCHMARKS.md
 */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { writeSection } from "./benchmarks-file.ts";
import type { ServerName } from "./caller.ts";
import type { Figure } from "./figures.ts";
import { table } from "./figures.ts";
import type { Served } from "./server-process.ts";
import { serve } from "./server-process.ts";
import type { Bench, Together, Workload } from "./workloads.ts";
import { appends, bulk, fanOut, hostile, lateJoin, stalled, storm, visitedRooms } from "./workloads.ts";

const inTurn =
  (workload: Workload): Together =>
  (benches) =>
    Promise.all(benches.map(workload));

const servers: readonly ServerName[] = ["ours", "hocuspocus", "floor"];
const workloads: readonly (readonly [string, Together])[] = [
  ["W1", inTurn(appends)],
  ["W2", lateJoin],
  ["W3", inTurn(fanOut)],
  ["W4", inTurn(visitedRooms)],
  ["W5", inTurn(storm)],
  ["W6", inTurn(stalled)],
  ["W7", inTurn(hostile)],
  ["W8", inTurn(bulk)],
];

/** These want all servers at once. */
const side: ReadonlySet<Together> = new Set([lateJoin]);

const given = process.argv.slice(2);
const scale = given.includes("--quick") ? 0.1 : 1;
const only = given[given.indexOf("--only") + 1];

/** A server of its own on an empty store, and what ends both. */
async function start(server: ServerName): Promise<{ readonly bench: Bench; end(): Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), "sward-bench-relay-"));
  let served: Served = await serve(`server-${server}`, folder);
  const target = { server, port: served.port };
  const bench: Bench = {
    target,
    served,
    scale,
    restart: async () => {
      await served.kill();
      served = await serve(`server-${server}`, folder, target.port);
      return served;
    },
  };
  return {
    bench,
    end: async () => {
      await served.kill();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

const results = new Map<ServerName, Figure[]>(servers.map((server) => [server, []]));
for (const [name, workload] of workloads) {
  if (given.includes("--only") && name !== only) continue;
  for (const group of side.has(workload) ? [servers] : servers.map((server) => [server])) {
    const from = performance.now();
    const started = await Promise.all(group.map(start));
    try {
      const figures = await workload(started.map(({ bench }) => bench));
      for (const [turn, server] of group.entries()) results.get(server)?.push(...(figures[turn] ?? []));
    } catch (cause) {
      process.stderr.write(`  ${name} was not finished by ${group.join(" or ")}: ${String(cause)}\n`);
    }
    for (const { end } of started) await end();
    process.stderr.write(`${name} ${group.join(", ")}: ${((performance.now() - from) / 1000).toFixed(1)} s\n`);
  }
}

const text = table(results);
console.log(text);
if (given.includes("--write"))
  await writeSection(
    "Beside others",
    `The servers one after another in one run (late joins: turn by turn), by \`npm run bench:relay -- --write\`. In brackets: times the floor.\n\n${text}`,
  );
process.exit(0);
