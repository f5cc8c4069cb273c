/**
 * The laws of the house in plain code: each takes sources and returns what breaks it, as sentences that start with the path. The
 * linter says much of it too, faster and in the editor; this survives a change of linter, and sees what it cannot: the order of
 * core's folders, what a page reaches through other files, and the size of files.
 */
import type { Source } from "./sources.ts";
import { resolveRelative, specifiers, withoutComments } from "./sources.ts";

/** What each package may import besides itself. A trailing `*` allows everything below. */
export const ALLOWED: Readonly<Record<string, readonly string[]>> = {
  "packages/core/src": ["zod/mini", "@noble/hashes/*", "@scure/base", "canonicalize"],
  "packages/relay/src": [
    "@sward/core",
    "node:*",
    "hono",
    "hono/*",
    "@hono/node-server",
    "@hono/node-server/*",
    "@nats-io/jetstream",
    "@nats-io/transport-node",
    "classic-level",
    "lib0/*",
    "pino",
    "prom-client",
    "ws",
    "y-protocols/*",
    "yjs",
    "zod",
  ],
  "packages/client/src": [
    "@sward/core",
    "node:*",
    "@noble/curves/*",
    "@preact/signals",
    "@scure/bip39",
    "@scure/bip39/*",
    "classic-level",
    "commander",
    "idb",
    "jose",
    "jstat",
    "lib0/*",
    "papaparse",
    "preact",
    "preact/*",
    "preact-iso",
    "qr",
    "qr/*",
    "ws",
    "y-protocols/*",
    "y-websocket",
    "yjs",
    "zod/mini",
  ],
};

/** Core's folders, lowest first: each may import those before it, itself, and the ground. */
export const CORE_ORDER = [
  "rules",
  "strokes",
  "exchange",
  "ledger",
  "authority",
  "people",
  "matches",
  "replay",
  "league",
  "review",
  "transport",
] as const;

/** Vocabulary that every folder of core may use. It imports only itself. */
export const GROUND = [
  "ids.ts",
  "result.ts",
  "order.ts",
  "made-later.ts",
  "state.ts",
  "ledger/kinds.ts",
  "ledger/entry.ts",
] as const;

/** Files that may be longer than their kind allows, each with its reason. */
export const LONG_FILES: Readonly<Record<string, string>> = {};

const CORE = "packages/core/src/";
/** What a page loads: nothing they reach may need Node. */
const PAGES = ["packages/client/src/app/main.tsx", "packages/client/src/index.ts"];
const NODE_ONLY = ["node:*", "classic-level", "commander", "ws"];
const CONFIGS = /(^|\/)(vite|vitest)\.config\.ts$/;

const matches = (specifier: string, pattern: string): boolean =>
  pattern.endsWith("*") ? specifier.startsWith(pattern.slice(0, -1)) : specifier === pattern;

/** Imports of a package that its allow-list does not have, and relative imports that leave the package. */
export const foreignImports = (sources: readonly Source[]): string[] =>
  sources.flatMap(({ path, text }) => {
    const home = Object.keys(ALLOWED).find((folder) => path.startsWith(`${folder}/`));
    if (home === undefined) return [];
    return specifiers(text).flatMap((specifier) => {
      if (specifier.startsWith(".")) {
        return resolveRelative(path, specifier).startsWith(`${home}/`)
          ? []
          : [`${path} leaves its package: ${specifier}`];
      }
      return ALLOWED[home]?.some((pattern) => matches(specifier, pattern))
        ? []
        : [`${path} may not import ${specifier}`];
    });
  });

/** Core's files that import a folder above their own, or the package's index. */
export const upwardImports = (sources: readonly Source[]): string[] =>
  sources
    .filter(({ path }) => path.startsWith(CORE) && path !== `${CORE}index.ts`)
    .flatMap(({ path, text }) =>
      specifiers(text)
        .filter((specifier) => specifier.startsWith("."))
        .map((specifier) => resolveRelative(path, specifier))
        .filter((target) => target.startsWith(CORE) && height(target) > height(path))
        .map((target) => `${path} imports upward: ${target}`),
    );

/** Ground is lowest, then the folders in order; what has no place (the index, a folder nobody ranked) is above all. */
const height = (path: string): number => {
  const inside = path.slice(CORE.length);
  if (GROUND.some((file) => file === inside)) return -1;
  const place = CORE_ORDER.findIndex((folder) => inside.startsWith(`${folder}/`));
  return place === -1 ? CORE_ORDER.length : place;
};

/** Folders of core that have no place in the order, which would make them free to import anything. */
export const unrankedFolders = (sources: readonly Source[]): string[] =>
  sources
    .filter(({ path }) => path.startsWith(CORE) && path !== `${CORE}index.ts` && height(path) === CORE_ORDER.length)
    .map(({ path }) => `${path} has no place in the order of core's folders (tests/support/laws.ts)`);

/** What a page loads, followed through its own files, that only Node has. */
export const nodeInPages = (sources: readonly Source[]): string[] => {
  const textsByPath = new Map(sources.map(({ path, text }) => [path, text]));
  const seen = new Set<string>();
  const found: string[] = [];
  const visit = (path: string): void => {
    const text = textsByPath.get(path);
    if (text === undefined || seen.has(path)) return;
    seen.add(path);
    for (const specifier of specifiers(text)) {
      if (specifier.startsWith(".")) visit(resolveRelative(path, specifier));
      else if (NODE_ONLY.some((pattern) => matches(specifier, pattern))) {
        found.push(`${path} is loaded by a page and imports ${specifier}`);
      }
    }
  };
  for (const page of PAGES) visit(page);
  return found;
};

/** Time, chance, the machine's language, and ways round: none of them in core. */
export const impureCore = (sources: readonly Source[]): string[] =>
  sources
    .filter(({ path }) => path.startsWith(CORE))
    .flatMap(({ path, text }) =>
      [...withoutComments(text).matchAll(IMPURE)].map((match) => `${path} uses ${match[0].trim()}`),
    );

const IMPURE =
  /\bnew Date\b|\bDate\s*[.(]|\bMath\.(?:random|pow|exp|log\w*|sqrt|cbrt|sin|cos|tan|hypot)\b|\bIntl\b|\.toLocale\w+|\blocaleCompare\b|\bparseFloat\b|\bperformance\.|\bprocess\.|\bconsole\.|\bglobalThis\b|\bfetch\(|\bcrypto\.|\bset(?:Timeout|Interval)\b|\bqueueMicrotask\b|(?<![\w.])\d+\.\d+(?![\w.])/g;

/** Files longer than 300 lines, or 400 below `tests`. */
export const longFiles = (sources: readonly Source[]): string[] =>
  sources.flatMap(({ path, text }) => {
    const lines = text.replace(/\n$/, "").split("\n").length;
    const limit = path.startsWith("tests/") ? 400 : 300;
    return lines <= limit || path in LONG_FILES
      ? []
      : [`${path} has ${lines} lines of at most ${limit}: split it by concept`];
  });

/** Default exports outside the configurations of tools that ask for one. */
export const defaultExports = (sources: readonly Source[]): string[] =>
  sources
    .filter(
      ({ path, text }) => !CONFIGS.test(path) && /^\s*export\s+default\b|\bas\s+default\b/m.test(withoutComments(text)),
    )
    .map(({ path }) => `${path} has a default export`);

/** Tests that are left out of a run, or that leave out all others. */
export const leftOutTests = (sources: readonly Source[]): string[] =>
  sources
    .filter(({ path }) => path.endsWith(".test.ts") || path.endsWith(".test.tsx") || path.startsWith("tests/support/"))
    .flatMap(({ path, text }) =>
      [...withoutComments(text).matchAll(LEFT_OUT)].map((match) => `${path} has ${match[0]}: mend it or delete it`),
    );

const LEFT_OUT =
  /\b(?:test|it|describe|suite|bench)(?:\.\w+)*\.(?:skip|only|todo|fails|skipIf|runIf)\b|\b(?:context|ctx)\.skip\b|\bx(?:it|test|describe)\(/g;

/** Names that say nothing about what is inside. */
export const emptyNames = (sources: readonly Source[]): string[] =>
  sources
    .filter(({ path }) => /(^|\/)(utils?|helpers?|common|misc|shared)(\/|\.[a-z.]+$)/.test(path))
    .map(({ path }) => `${path}: name the concept, not its use`);
