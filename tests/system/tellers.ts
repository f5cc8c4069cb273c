/** Stories told side by side, in as many processes as there are cores; they share nothing. */
import { fork } from "node:child_process";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import type { Story } from "./simulate.ts";

export interface Telling {
  readonly seed: string;
  readonly steps: number;
}

/** Calls `told` with each story as it ends. Resolves when all are told. */
export async function tellAll(tellings: readonly Telling[], told: (story: Story) => void): Promise<void> {
  const queue = [...tellings];
  const tellers = Math.min(availableParallelism(), queue.length);
  await Promise.all(Array.from({ length: tellers }, () => tellFrom(queue, told)));
}

function tellFrom(queue: Telling[], told: (story: Story) => void): Promise<void> {
  return new Promise((done, failed) => {
    const teller = fork(fileURLToPath(new URL("./teller.ts", import.meta.url)), [], {
      // Yjs says each time that it takes another client id because somebody writes under ours.
      stdio: ["ignore", "ignore", "inherit", "ipc"],
      execArgv: ["--import", "tsx"],
      serialization: "advanced",
    });
    const next = (): void => {
      const telling = queue.shift();
      if (telling === undefined) teller.disconnect();
      else teller.send(telling);
    };
    teller.on("message", (story) => {
      told(story as Story);
      next();
    });
    teller.on("error", failed);
    teller.on("exit", (code) => (code === 0 ? done() : failed(new Error(`a teller ended with ${code}`))));
    next();
  });
}
