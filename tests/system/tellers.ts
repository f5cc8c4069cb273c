/**
 * Stories told side by side, in as many processes as there are cores; they share nothing. What tells them is one file, put together
 * beforehand: what is imported only when it is needed would otherwise be read from the disk in real time, while simulated time rushes on.
 */
import { fork } from "node:child_process";
import { availableParallelism } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "vite";
import type { Story } from "./simulate.ts";

export interface Telling {
  readonly seed: string;
  readonly steps: number;
}

/** Calls `told` with each story as it ends. Resolves when all are told. */
export async function tellAll(tellings: readonly Telling[], told: (story: Story) => void): Promise<void> {
  const queue = [...tellings];
  teller ??= putTogether();
  const file = await teller;
  const tellers = Math.min(availableParallelism(), queue.length);
  await Promise.all(Array.from({ length: tellers }, () => tellFrom(file, queue, told)));
}

let teller: Promise<string> | null = null;

/** Among the packages, so that it finds those that it leaves out. */
const folder = fileURLToPath(new URL("../../node_modules/.cache/sward-stories", import.meta.url));

async function putTogether(): Promise<string> {
  await build({
    configFile: false,
    logLevel: "warn",
    build: {
      ssr: fileURLToPath(new URL("./teller.ts", import.meta.url)),
      outDir: folder,
      emptyOutDir: false,
      minify: false,
      rolldownOptions: { output: { codeSplitting: false, entryFileNames: "teller.mjs" } },
    },
  });
  return join(folder, "teller.mjs");
}

function tellFrom(file: string, queue: Telling[], told: (story: Story) => void): Promise<void> {
  return new Promise((done, failed) => {
    const process = fork(file, [], {
      // Yjs says each time that it takes another client id because somebody writes under ours.
      stdio: ["ignore", "ignore", "inherit", "ipc"],
      execArgv: [],
      serialization: "advanced",
    });
    const next = (): void => {
      const telling = queue.shift();
      if (telling === undefined) process.disconnect();
      else process.send(telling);
    };
    process.on("message", (story) => {
      told(story as Story);
      next();
    });
    process.on("error", failed);
    process.on("exit", (code) => (code === 0 ? done() : failed(new Error(`a teller ended with ${code}`))));
    next();
  });
}
