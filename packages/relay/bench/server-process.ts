/** What every server under test shares: where it stores, how it tells its port, how much memory it has after a collection. */
import type { ChildProcess } from "node:child_process";
import { fork } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";

export interface Memory {
  /** Bytes. */
  readonly heap: number;
  readonly resident: number;
}

/** Of the child: its arguments. */
export function folderGiven(): { readonly folder: string; readonly port: number } {
  const [, , folder, port] = process.argv;
  if (folder === undefined || port === undefined) throw new Error("a folder and a port");
  return { folder, port: Number(port) };
}

/** Of the child: says that it listens, and answers the parent's questions. */
export function serveParent(port: number, close: () => Promise<unknown>): void {
  process.on("message", (asked) => {
    if (asked === "memory") {
      (globalThis as { gc?: () => void }).gc?.();
      const { heapUsed, external, arrayBuffers, rss } = process.memoryUsage();
      process.send?.({ heap: heapUsed + external + arrayBuffers, resident: rss } satisfies Memory);
    } else if (asked === "close") void close().then(() => process.exit(0));
  });
  process.on("disconnect", () => process.exit(0));
  process.send?.({ port });
}

export interface Served {
  readonly port: number;
  memory(): Promise<Memory>;
  /** SIGKILL. */
  kill(): Promise<void>;
  /** Resolves with the exit code when the process is gone, by whatever. */
  readonly ended: Promise<number | null>;
  close(): Promise<void>;
}

/** Of the parent: starts the module `name` of this folder. `complaints`: what becomes of what it says on its error stream. */
export async function serve(
  name: string,
  folder: string,
  port = 0,
  complaints: "ignore" | "inherit" = "ignore",
): Promise<Served> {
  const module = fileURLToPath(new URL(`${name}.ts`, import.meta.url));
  const child: ChildProcess = fork(module, [folder, String(port)], {
    execArgv: ["--import", "tsx", "--expose-gc"],
    // Some say at length what they think of nonsense.
    stdio: ["ignore", "ignore", complaints, "ipc"],
  });
  const said = async <T>(): Promise<T> => ((await once(child, "message")) as [T])[0];
  const ready = await Promise.race([
    said<{ port: number }>(),
    once(child, "exit").then(() => Promise.reject(new Error(`${name} did not start`))),
  ]);
  const gone = async (act: () => void): Promise<void> => {
    if (child.exitCode !== null || child.signalCode !== null) return;
    const exit = once(child, "exit");
    act();
    await exit;
  };
  return {
    port: ready.port,
    ended: once(child, "exit").then(([code]) => code as number | null),
    memory: () => {
      const answer = said<Memory>();
      child.send("memory");
      return answer;
    },
    kill: () => gone(() => child.kill("SIGKILL")),
    close: () => gone(() => child.send("close")),
  };
}
