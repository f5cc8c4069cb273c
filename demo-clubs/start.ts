/**
 * The README's first command: a relay and the app on one port, the demo clubs in its rooms, and one address for each demo device.
 * The devices' keys are worked out from their names (packages/client/src/demo), so they guard nothing: for showing only.
 */
import { existsSync } from "node:fs";
import { mkdir, readdir, readFile } from "node:fs/promises";
import { join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { encodePass, openWire, systemClock, systemRandom } from "@sward/client";
import type { SignedDemo } from "@sward/client/demo";
import { demoPass, publishDemo, readDemo, signDemo } from "@sward/client/demo";
import { openLevelStorage, packApp, readConfig, startRelay } from "@sward/relay";
import { WebSocket as NodeWebSocket } from "ws";

const here = fileURLToPath(new URL(".", import.meta.url));
const root = join(here, "..");
const app = join(root, "packages/client/dist");

async function readFiles(folder: string): Promise<Map<string, string>> {
  const files = new Map<string, string>();
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile() || !/\.(csv|json)$/.test(entry.name)) continue;
    const path = join(entry.parentPath, entry.name);
    files.set(relative(folder, path).split(sep).join("/"), await readFile(path, "utf8"));
  }
  return files;
}

function stop(what: string, whatToDo: string): never {
  console.error(`The demo cannot start: ${what}\n  ${whatToDo}`);
  process.exit(1);
}

function addresses(demo: SignedDemo, url: string): string {
  const lines: string[] = [];
  for (const club of demo.clubs) {
    lines.push("", `${club.demo.name}`);
    for (const { ref, label, role } of club.demo.devices) {
      if (role === "root") continue;
      lines.push(`  ${label} (${role})`, `    ${url}/#pass=${encodePass(demoPass(ref, label, club, demo))}`);
    }
  }
  return lines.join("\n");
}

if (!existsSync(join(app, "index.html")))
  stop("the app is not built.", "Start with `npm start`, which builds it first.");
const read = readDemo(await readFiles(here));
if (!read.ok) stop("its files have faults.", read.fault.map((fault) => JSON.stringify(fault)).join("\n  "));

const data = join(root, ".data/demo");
const config = readConfig({
  SWARD_RELAY_DATA: data,
  SWARD_RELAY_APP: app,
  ...process.env,
});
if (!config.ok) {
  stop(
    "its settings are not right.",
    config.fault.map(({ variable, expected }) => `${variable} must be ${expected}`).join("\n  "),
  );
}
await mkdir(config.value.data, { recursive: true });
const storage = await openLevelStorage(config.value.data, systemRandom).catch((cause: unknown) =>
  stop(
    `its store in ${config.value.data} cannot be opened (${String((cause as Error).cause ?? cause)}).`,
    "Is it running already?",
  ),
);
const relay = await startRelay(config.value, {
  storage,
  now: Date.now,
  random: systemRandom,
  log: () => undefined,
}).catch((cause: unknown) => stop(String(cause), "Choose another port: SWARD_RELAY_PORT=8788 npm start"));
for (const signal of ["SIGTERM", "SIGINT"] as const) {
  process.once(signal, () => void relay.close().then(() => process.exit(0)));
}
void packApp(app);

console.log("Signing the demo clubs' season, about a thousand entries …");
const demo = await signDemo(read.value);
const wireDeps = {
  fetch,
  WebSocket: NodeWebSocket as unknown as typeof WebSocket,
  now: Date.now,
  random: Math.random,
  setTimeout,
  clearTimeout,
};
const { written, found } = await publishDemo(demo, {
  relay: { url: relay.url, open: openWire, deps: wireDeps as never },
  randomBytes: systemRandom,
  timestamp: systemClock.timestamp,
});
if (found.length > 0)
  console.log(`Kept as they were left: ${found.join(", ")}. For a fresh season delete .data/demo and start again.`);
if (written.length > 0) console.log(`Loaded: ${written.join(", ")}.`);
console.log(
  `\nSward is at ${relay.url}. Each address below opens the app as one device of a club; open several side by side.`,
);
console.log(addresses(demo, relay.url.replace("127.0.0.1", "localhost")));
console.log("\nStop with Ctrl+C. Cut the network, or stop this: the app goes on.");
