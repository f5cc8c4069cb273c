/**
 * Three kinds of test, three projects, one command.
 *
 * `node`        tests/<package>/**            the quick ones: everything that needs no browser.
 * `browser`     tests/browser/**              run in Node and drive whole pages in a real browser (several devices, signal gone,
 *                                             relay killed). One file at a time: two cores, and a timing fault must be ours.
 * `in-browser`  tests/in-browser/**           run inside the page itself, against real IndexedDB, WebCrypto and locks.
 *
 * No project is ever skipped: a machine with no browser gets the packaged one, or a clear error (tests/support/browser.ts).
 *
 * One file:     npx vitest run --config tests/vitest.config.ts tests/core/strokes/singles.test.ts
 * One project:  npx vitest run --config tests/vitest.config.ts --project node
 * Console lines of passing tests are hidden but for `console.info`, which property tests use to print their seed.
 */
import { fileURLToPath } from "node:url";
import { playwright } from "@vitest/browser-playwright";
import { defineConfig } from "vitest/config";
import { launchOptions } from "./support/browser.ts";

const root = fileURLToPath(new URL("..", import.meta.url));

/** As long as anything is waited for that is seen at once when it is so: only a crowded machine ever needs it. */
const PATIENCE = 30_000;

export default defineConfig({
  root,
  test: {
    projects: [
      {
        root,
        test: {
          name: "node",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/browser/**", "tests/in-browser/**", "**/node_modules/**"],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          expect: { poll: { timeout: PATIENCE } },
        },
      },
      {
        root,
        test: {
          name: "browser",
          include: ["tests/browser/**/*.test.ts"],
          globalSetup: ["tests/support/build-app.ts"],
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          expect: { poll: { timeout: PATIENCE } },
          // Where nobody watches, a page that was slow once is asked once more; the report names it as retried. At a desk it fails.
          retry: process.env["CI"] === undefined ? 0 : 1,
        },
      },
      {
        root,
        // Libraries are made ready before the first test: met in the middle of one, they would reload its page.
        optimizeDeps: { entries: ["tests/in-browser/**/*.test.ts", "packages/client/src/index.ts"] },
        test: {
          name: "in-browser",
          include: ["tests/in-browser/**/*.test.ts"],
          testTimeout: 60_000,
          hookTimeout: 60_000,
          expect: { poll: { timeout: PATIENCE } },
          fileParallelism: false,
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            provider: playwright({ launchOptions: await launchOptions() }),
            instances: [{ browser: "chromium" }],
          },
        },
      },
    ],
  },
});
