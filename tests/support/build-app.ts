/**
 * Builds the app once before the browser tests, as `npm start` does, in a process of its own: inside vitest NODE_ENV is "test",
 * so `import.meta.env.PROD` would be false and the service worker's registration compiled out of what is tested.
 */
import { execFile } from "node:child_process";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";

const root = fileURLToPath(new URL("../..", import.meta.url));
const vite = join(dirname(createRequire(import.meta.url).resolve("vite/package.json")), "bin", "vite.js");

export const setup = async (): Promise<void> => {
  await promisify(execFile)(process.execPath, [vite, "build", "packages/client", "--logLevel", "warn"], {
    cwd: root,
    env: { ...process.env, NODE_ENV: "production" },
  });
};
