#!/usr/bin/env node
// Runs from source, so that `npx sward …` works straight after `npm install`, with no build to forget.
import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { register } from "tsx/esm/api";

const [command, ...rest] = process.argv.slice(2);
if (command === "relay") {
  // The relay is a package that this one knows nothing of; its commands are a program of its own.
  const program = fileURLToPath(import.meta.resolve("@sward/relay/commands"));
  const running = spawn(process.execPath, [program, ...rest], { stdio: "inherit" });
  running.on("exit", (code, signal) => {
    process.exitCode = signal === null ? (code ?? 1) : 1;
  });
} else {
  register();
  await import("../src/cli/main.ts");
}
