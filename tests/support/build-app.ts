/**
 * Builds the app once before the browser tests, as `npm start` does, in a process of its own: inside vitest NODE_ENV is "test",
 * so `import.meta.env.PROD` would be false and the service worker's registration compiled out of what is tested. Into a folder of
 * this run's own, so that two runs, or a run and a demo, do not pull the app from under each other.
 */
import { execFile } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import type { TestProject } from "vitest/node";

const root = fileURLToPath(new URL("../..", import.meta.url));
const vite = join(dirname(createRequire(import.meta.url).resolve("vite/package.json")), "bin", "vite.js");

declare module "vitest" {
  export interface ProvidedContext {
    /** Folder of the built app. */
    readonly app: string;
  }
}

let folder = "";

export async function setup(project: TestProject): Promise<void> {
  folder = await mkdtemp(join(tmpdir(), "sward-app-"));
  const build = [vite, "build", "packages/client", "--outDir", folder, "--emptyOutDir", "--logLevel", "warn"];
  await promisify(execFile)(process.execPath, build, { cwd: root, env: { ...process.env, NODE_ENV: "production" } });
  project.provide("app", folder);
}

export const teardown = (): Promise<void> => rm(folder, { recursive: true, force: true });
