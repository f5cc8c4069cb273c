/** Reads the repository's own sources as text, for the tests that hold the house's laws. */
import { readdirSync, readFileSync } from "node:fs";
import { posix } from "node:path";
import { fileURLToPath } from "node:url";

export const repository = fileURLToPath(new URL("../..", import.meta.url));

export interface Source {
  /** From the root, with forward slashes: `packages/core/src/ids.ts`. */
  path: string;
  text: string;
}

const MADE = new Set(["node_modules", "dist", ".tsc", ".data", ".git", "test-results"]);

const walk = (folder: string): string[] =>
  readdirSync(`${repository}/${folder}`, { withFileTypes: true }).flatMap((entry) => {
    const path = posix.join(folder, entry.name);
    if (entry.isDirectory()) return MADE.has(entry.name) ? [] : walk(path);
    return [path];
  });

/** Every file below these folders whose name ends in one of `endings`, in the order of their paths. */
export const readSources = (folders: readonly string[], endings: readonly string[]): Source[] =>
  folders
    .flatMap(walk)
    .filter((path) => endings.some((ending) => path.endsWith(ending)))
    .sort()
    .map((path) => ({ path, text: readFileSync(`${repository}/${path}`, "utf8") }));

/** Comments become nothing, so that prose may name what code may not. A `//` after a colon is taken for an address. */
export const withoutComments = (text: string): string =>
  text.replace(/\/\*[\s\S]*?\*\//g, (comment) => comment.replace(/[^\n]/g, "")).replace(/(^|[^:"'`])\/\/.*$/gm, "$1");

/** What a file imports or re-exports, as written: `./ids.ts`, `zod/mini`. Static, dynamic and type-only alike. */
export const specifiers = (text: string): string[] =>
  [...withoutComments(text).matchAll(/(?<!["'])\bfrom\s*["']([^"'\n]+)["']|\bimport\s*\(?\s*["']([^"'\n]+)["']/g)].map(
    (match) => match[1] ?? match[2] ?? "",
  );

/** `./kinds.ts` seen from `packages/core/src/ledger/entry.ts` is `packages/core/src/ledger/kinds.ts`. */
export const resolveRelative = (from: string, specifier: string): string =>
  posix.normalize(posix.join(posix.dirname(from), specifier.replace(/\?.*$/, "")));
