/**
 * NATS servers of a test's own: one, or three that replicate to each other, on free loopback ports with stores in a folder that the
 * test gives. Each can be killed and started again on what it had. Where no server is installed this fails and says what to install:
 * a test that is left out tells nobody that it was.
 */
import type { ChildProcess } from "node:child_process";
import { spawn } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { delimiter, join } from "node:path";
import type { Storage } from "@sward/relay";
import { connectNats, openJetStreamStorage } from "@sward/relay";
import { random, until } from "./meeting.ts";

/** The server's program. `NATS_SERVER` names one; else it is looked for on the path and where Debian puts it. */
export function natsServerProgram(environment: NodeJS.ProcessEnv = process.env): string {
  const named = environment["NATS_SERVER"];
  const folders = [...(environment["PATH"] ?? "").split(delimiter), "/usr/sbin", "/usr/local/sbin", "/usr/local/bin"];
  const found = named ?? folders.map((folder) => join(folder, "nats-server")).find((path) => existsSync(path));
  if (found !== undefined && existsSync(found)) return found;
  throw new Error(
    "nats-server was not found, and the tests of several relays need it. Debian and Ubuntu: `apt-get install nats-server`; " +
      "macOS: `brew install nats-server`; or set NATS_SERVER to the path of one (2.9 or later).",
  );
}

export interface NatsNode {
  readonly url: string;
  /** Gone at once, without a word. */
  kill(): Promise<void>;
  /** Starts it again on what it had; resolves when it takes connections. */
  start(): Promise<void>;
}

const running = new Set<ChildProcess>();
process.on("exit", () => {
  for (const child of running) child.kill("SIGKILL");
});

/** `folder` is the node's own. `more` is added to its configuration. */
async function natsNode(folder: string, name: string, port: number, more = ""): Promise<NatsNode> {
  mkdirSync(folder, { recursive: true });
  const log = join(folder, "log");
  const config = join(folder, "nats.conf");
  writeFileSync(
    config,
    `server_name: ${name}\nhost: 127.0.0.1\nport: ${port}\nlog_file: "${log}"\njetstream { store_dir: "${folder}" }\n${more}`,
  );
  let child: ChildProcess | null = null;
  const start = async (): Promise<void> => {
    const one = spawn(natsServerProgram(), ["-c", config], { stdio: "ignore" });
    child = one;
    running.add(one);
    one.once("exit", () => running.delete(one));
    const before = existsSync(log) ? readFileSync(log, "utf8").length : 0;
    const said = (): string => (existsSync(log) ? readFileSync(log, "utf8").slice(before) : "");
    await until(`NATS ${name} is ready`, () => said().includes("Server is ready") || one.exitCode !== null, 20_000);
    if (one.exitCode !== null) throw new Error(`NATS ${name} did not start: ${said()}`);
  };
  const kill = async (): Promise<void> => {
    const one = child;
    if (one === null || one.exitCode !== null || one.signalCode !== null) return;
    const gone = new Promise((done) => one.once("exit", done));
    one.kill("SIGKILL");
    await gone;
  };
  await start();
  return { url: `nats://127.0.0.1:${port}`, kill, start };
}

/** One server by itself. */
export async function startNats(folder: string, more = "", port?: number): Promise<NatsNode> {
  return natsNode(folder, "single", port ?? (await freePorts(1))[0] ?? 0, more);
}

/** Three that replicate; resolves when they have agreed on who leads. */
export async function startNatsCluster(folder: string): Promise<readonly NatsNode[]> {
  const ports = await freePorts(6);
  const routes = ports.slice(3).map((port) => `nats-route://127.0.0.1:${port}`);
  const nodes = await Promise.all(
    [0, 1, 2].map((place) =>
      natsNode(
        join(folder, `n${place}`),
        `n${place}`,
        ports[place] ?? 0,
        `cluster { name: sward, host: 127.0.0.1, port: ${ports[place + 3]}, routes: [${routes.join(", ")}] }\n`,
      ),
    ),
  );
  const logs = (): string => [0, 1, 2].map((place) => readFileSync(join(folder, `n${place}`, "log"), "utf8")).join("");
  await until("the NATS servers have a leader", () => logs().includes("metadata leader"), 30_000);
  return nodes;
}

/** Free at this moment, all different. */
export async function freePorts(count: number): Promise<number[]> {
  const servers = await Promise.all(
    Array.from(
      { length: count },
      () =>
        new Promise<ReturnType<typeof createServer>>((done, failed) => {
          const server = createServer();
          server.once("error", failed);
          server.listen(0, "127.0.0.1", () => done(server));
        }),
    ),
  );
  const ports = servers.map((server) => (server.address() as { port: number }).port);
  await Promise.all(servers.map((server) => new Promise((done) => server.close(done))));
  return ports;
}

/** A store at these servers, as a relay of its own opens it. */
export async function openShared(
  servers: readonly string[],
  name: string,
  { replicas = 1, gone = () => undefined }: { replicas?: number; gone?: (cause: string) => void } = {},
): Promise<Storage> {
  const connection = await connectNats({ servers });
  return openJetStreamStorage({ connection, name, replicas, random, gone });
}
