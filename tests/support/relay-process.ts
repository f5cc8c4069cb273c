/** A relay as a process of its own, as an operator runs it, to be killed or asked to stop. */
import type { ChildProcess } from "node:child_process";
import { spawn } from "node:child_process";
import { until } from "./meeting.ts";

export interface RelayProcess {
  readonly origin: string;
  readonly port: number;
  readonly store: string;
  readonly child: ChildProcess;
  /** Resolves with the exit code, null after a killing signal. */
  end(signal: NodeJS.Signals): Promise<number | null>;
  /** What it has said so far. */
  said(): string;
}

const running = new Set<ChildProcess>();

/** Kills what a test left running. */
export function endAll(): void {
  for (const child of running) child.kill("SIGKILL");
  running.clear();
}

/** Rejects with what it said if it does not come to listen. */
export async function startProcess(
  data: string,
  port = 0,
  settings: Readonly<Record<string, string>> = {},
): Promise<RelayProcess> {
  const child = spawn(process.execPath, ["--import", "tsx", "packages/relay/src/main.ts"], {
    env: {
      PATH: process.env["PATH"] ?? "",
      SWARD_RELAY_DATA: data,
      SWARD_RELAY_PORT: String(port),
      SWARD_RELAY_APP: "",
      ...settings,
    },
    stdio: ["ignore", "pipe", "pipe"],
  });
  running.add(child);
  let said = "";
  for (const stream of [child.stdout, child.stderr])
    stream.on("data", (text: Buffer) => {
      said += text.toString();
    });
  const ended = new Promise<number | null>((done) => child.once("exit", (code) => done(code)));
  await until("the relay listens", () => said.includes('"listening"') || child.exitCode !== null, 20_000);
  const line = said.split("\n").find((text) => text.includes('"listening"'));
  if (line === undefined) throw new Error(`the relay did not start: ${said}`);
  const { url, store } = JSON.parse(line) as { url: string; store: string };
  const at = Number(new URL(url).port);
  return {
    origin: `http://127.0.0.1:${at}`,
    port: at,
    store,
    child,
    end: (signal) => {
      child.kill(signal);
      running.delete(child);
      return ended;
    },
    said: () => said,
  };
}
