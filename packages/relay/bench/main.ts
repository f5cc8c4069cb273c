/**
 * `npm run bench:relay`: our relay, a general server and the bare floor, side by side. Each workload starts each server anew in a process
 * of its own on an empty store, with the same client and the same payloads, one server after another.
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
import type { Workload } from "./workloads.ts";
import { appends, bulk, fanOut, hostile, lateJoin, stalled, storm, visitedRooms } from "./workloads.ts";

const servers: readonly ServerName[] = ["ours", "hocuspocus", "floor"];
const workloads: readonly (readonly [string, Workload])[] = [
  ["W1", appends],
  ["W2", lateJoin],
  ["W3", fanOut],
  ["W4", visitedRooms],
  ["W5", storm],
  ["W6", stalled],
  ["W7", hostile],
  ["W8", bulk],
];

const given = process.argv.slice(2);
const scale = given.includes("--quick") ? 0.1 : 1;
const only = given[given.indexOf("--only") + 1];

async function run(server: ServerName, workload: Workload): Promise<Figure[]> {
  const folder = await mkdtemp(join(tmpdir(), "sward-bench-relay-"));
  let served: Served = await serve(`server-${server}`, folder);
  const target = { server, port: served.port };
  try {
    return await workload({
      target,
      served,
      scale,
      restart: async () => {
        await served.kill();
        served = await serve(`server-${server}`, folder, target.port);
        return served;
      },
    });
  } finally {
    await served.kill();
    await rm(folder, { recursive: true, force: true });
  }
}

const results = new Map<ServerName, Figure[]>(servers.map((server) => [server, []]));
for (const [name, workload] of workloads) {
  if (given.includes("--only") && name !== only) continue;
  for (const server of servers) {
    const from = performance.now();
    try {
      results.get(server)?.push(...(await run(server, workload)));
    } catch (cause) {
      process.stderr.write(`  ${name} was not finished by ${server}: ${String(cause)}\n`);
    }
    process.stderr.write(`${name} ${server}: ${((performance.now() - from) / 1000).toFixed(1)} s\n`);
  }
}

const text = table(results);
console.log(text);
if (given.includes("--write"))
  await writeSection(
    "Beside others",
    `The servers one after another in one run, by \`npm run bench:relay -- --write\`. In brackets: times the floor.\n\n${text}`,
  );
process.exit(0);
