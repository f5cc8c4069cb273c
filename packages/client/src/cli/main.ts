/** Where the command line meets the process. `bin/sward.mjs` runs this file. */
import { readFile, writeFile } from "node:fs/promises";
import { fail, ok } from "@sward/core";
import { openHome } from "../desk/home.ts";
import type { CliDeps } from "./deps.ts";
import { run } from "./run.ts";

const deps: CliDeps = {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
  setExitCode: (code) => {
    process.exitCode = code;
  },
  readFile: async (path) => {
    try {
      return ok(await readFile(path, "utf8"));
    } catch (error) {
      return fail({ type: "file-not-read", path, cause: error instanceof Error ? error.message : String(error) });
    }
  },
  writeFile: async (path, text) => {
    try {
      await writeFile(path, text);
      return ok(null);
    } catch (error) {
      return fail({ type: "file-not-written", path, cause: error instanceof Error ? error.message : String(error) });
    }
  },
  openHome,
  today: () => {
    const now = new Date();
    const two = (part: number) => String(part).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  },
};

// A reader that has seen enough (`sward rules | head`) closes the pipe: that is no fault of ours.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
});

await run(process.argv.slice(2), deps);
