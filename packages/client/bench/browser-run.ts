/** The browser's half of the benches, run in a process of its own: what starts a browser and a relay is no part of the client. */
import { spawn } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { InBrowser } from "./browser-figures.ts";

const main = fileURLToPath(new URL("../../../tests/tooling/browser-bench/main.ts", import.meta.url));

/** @param more further arguments of it, such as `--full` */
export async function benchInBrowser(more: readonly string[]): Promise<InBrowser> {
  const folder = await mkdtemp(join(tmpdir(), "sward-bench-"));
  try {
    const out = join(folder, "figures.json");
    await new Promise<void>((done, failed) => {
      const child = spawn(process.execPath, ["--import", "tsx", main, ...more, "--out", out], { stdio: "inherit" });
      child.on("error", failed);
      child.on("exit", (code) =>
        code === 0 ? done() : failed(new Error(`measuring in a browser ended with ${code}`)),
      );
    });
    return JSON.parse(await readFile(out, "utf8"));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
