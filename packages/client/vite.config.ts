import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Plugin } from "vite";
import { defineConfig, transformWithOxc } from "vite";

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/**
 * Emits `sw.js` from src/app/service-worker.ts, with the list of files that make up the app and a hash of their contents put in
 * front: the worker's own bytes change exactly when some file of the app does, which is what makes a browser fetch the new one.
 * Rejected: a plug-in with its own runtime (15 kB, 349 packages, and the build took three times as long).
 */
const serviceWorker = (): Plugin => ({
  name: "sward-service-worker",
  apply: "build",
  // After vite's own, so that the page and the workers' files are in the list.
  enforce: "post",
  async generateBundle(_options, bundle) {
    const hash = createHash("sha256");
    const urls = ["/"];
    for (const [name, file] of Object.entries(bundle).sort(([a], [b]) => (a < b ? -1 : 1))) {
      if (name !== "index.html") urls.push(`/${name}`);
      hash.update(name).update(file.type === "chunk" ? file.code : file.source);
    }
    for (const name of readdirSync(here("public")).sort()) {
      urls.push(`/${name}`);
      hash.update(name).update(readFileSync(here(`public/${name}`)));
    }
    const source = here("src/app/service-worker.ts");
    const { code } = await transformWithOxc(readFileSync(source, "utf8"), source);
    hash.update(code);
    const shell = { version: hash.digest("hex").slice(0, 16), urls };
    this.emitFile({ type: "asset", fileName: "sw.js", source: `const SHELL = ${JSON.stringify(shell)};\n${code}` });
  },
});

/**
 * Core hashes with one function of a file that has many; what is fetched later, for browsers without Ed25519, needs the others. Were
 * the files one module to both, the first view would carry all of them: 3 kB. So core has them as modules of its own.
 */
const OF_CORE = "?core";
const hashOfCore = (): Plugin => ({
  name: "sward-hash-of-core",
  enforce: "pre",
  async resolveId(source, importer) {
    const byCore = source.startsWith("@noble/hashes/") && importer?.includes("/packages/core/") === true;
    if (!byCore && importer?.endsWith(OF_CORE) !== true) return null;
    const found = await this.resolve(source, importer, { skipSelf: true });
    return found === null ? null : found.id + OF_CORE;
  },
});

/**
 * Every import() of a built app goes through a helper that fetches styles and scripts beforehand. There are none to fetch (`cssCodeSplit`
 * and `modulePreload` below), so the helper is weight in the first view and nothing else.
 */
const plainImports = (): Plugin => ({
  name: "sward-plain-imports",
  apply: "build",
  enforce: "pre",
  load: (id) => (id.endsWith("vite/preload-helper.js") ? "export const __vitePreload = (load) => load();" : null),
});

/** A hash of every line the app is made from, rules included: what one version has worked out and kept, no other one shows. */
function hashOfCode(): string {
  const hash = createHash("sha256");
  for (const folder of ["../core/src", "src"]) {
    for (const name of readdirSync(here(folder), { recursive: true, encoding: "utf8" }).sort()) {
      if (/\.tsx?$/.test(name)) hash.update(name).update(readFileSync(here(`${folder}/${name}`)));
    }
  }
  return hash.digest("base64url").slice(0, 22);
}

export default defineConfig({
  root: here("."),
  define: { "import.meta.env.SWARD_CODE": JSON.stringify(hashOfCode()) },
  plugins: [hashOfCore(), plainImports(), serviceWorker()],
  resolve: {
    alias: [
      { find: /^lib0\/logging$/, replacement: here("src/app/plain-logging.ts") },
      { find: /^(lib0\/environment|\.\/environment\.js)$/, replacement: here("src/app/plain-environment.ts") },
    ],
  },
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: {
    outDir: here("dist"),
    emptyOutDir: true,
    target: "es2023",
    // The first view is one file; the others are fetched before they are wanted, so a list of what each needs would only be weight.
    modulePreload: false,
    // Scripts come screen by screen; the styles of all screens stay one file. They are small, their order stays the order written,
    // and no screen is ever drawn without its own because that one file did not come.
    cssCodeSplit: false,
    // What the first view needs comes in one piece: it compresses better than as a dozen that screens happen to share. So does what comes
    // right after it, and what an afternoon at the club is spent with. Left to itself the bundler makes a file of whatever some screens
    // share, and a phone then asks for the sheet of a game in three rounds of twenty files, each round a second of a slow line's time.
    rolldownOptions: {
      output: {
        codeSplitting: {
          groups: [
            { name: "first-view", tags: ["$initial"], priority: 3 },
            {
              name: "soon",
              test: /\/src\/app\/((attention|parts)\/|words\/(play|names|keys)\.)|rolldown.runtime/,
              priority: 2,
            },
            // What a record travels in, wanted as soon as it has been seen.
            {
              name: "travel",
              test: /\/node_modules\/(yjs|lib0)\/|\/src\/book\/(traffic|transport|ledger-doc|room-wire|roster-doc|judging|stored-(idb|rows))\./,
              priority: 2,
            },
            // Wanted before a record has been read, and small for that.
            {
              name: "known",
              test: /\/src\/app\/(last-known\/|members\/roll|words\/(members|last-known))/,
              priority: 2,
            },
            { name: "everyday", test: /\/src\/app\/(card|entry|lawn|members)\//, priority: 1 },
          ],
        },
      },
    },
  },
  worker: { format: "es" },
  server: {
    host: "127.0.0.1",
    // `npm run serve` beside `npm run dev`: the page comes from vite, rooms from the relay.
    proxy: {
      "/rooms": { target: "http://127.0.0.1:8787", ws: true },
      "/health": { target: "http://127.0.0.1:8787" },
    },
  },
});
