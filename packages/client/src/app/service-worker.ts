/**
 * The app after the server is gone: its files are kept by the browser, so it opens in a pavilion with no signal, or when the
 * machine that served it is switched off for good. What people enter is kept elsewhere (the vault); this holds only the app.
 *
 * - All files of one version are fetched before that version is installed, so a page never mixes two versions.
 * - A new version waits until the page asks ({@link ACTIVATE}): nobody's half-entered match is reloaded away.
 * - Pages come from the kept copy first, whatever their path, since the app reads its own path; so it opens at once with a bad
 *   signal too. Rejected: asking the network first, which hangs for half a minute at the edge of a signal.
 * - `/rooms` and `/health` are the relay's and are never touched: a kept answer about the relay would be a lie.
 *
 * The build puts `SHELL` in front (packages/client/vite.config.ts) and turns types into nothing. This file imports nothing, for
 * it is served as a classic script: a module worker was never given control of the page when that was tried.
 */

/** Put in front by the build: every file of the app, and a hash over their contents. */
declare const SHELL: { readonly version: string; readonly urls: readonly string[] };

/** The part of the service worker's world that is used here; TypeScript has the page's types loaded instead. */
interface Lifetime extends Event {
  waitUntil(work: Promise<unknown>): void;
}
interface Fetched extends Event {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
interface Told extends Event {
  readonly data: unknown;
}
interface World {
  readonly location: Location;
  readonly clients: { claim(): Promise<void> };
  skipWaiting(): Promise<void>;
  addEventListener(name: "install" | "activate", listener: (event: Lifetime) => void): void;
  addEventListener(name: "fetch", listener: (event: Fetched) => void): void;
  addEventListener(name: "message", listener: (event: Told) => void): void;
}

const world = self as unknown as World;

/** Sent by the page when the person agrees to load the new version: `registration.waiting.postMessage("activate")`. */
const ACTIVATE = "activate";
const PREFIX = "sward-app-";
const CACHE = PREFIX + SHELL.version;
const FILES = new Set(SHELL.urls);

const install = async (): Promise<void> => {
  const cache = await caches.open(CACHE);
  // Past the browser's own cache, which may still hold the older version of a file whose name has no hash in it.
  await cache.addAll(SHELL.urls.map((url) => new Request(url, { cache: "reload" })));
};

const activate = async (): Promise<void> => {
  for (const name of await caches.keys()) {
    if (name.startsWith(PREFIX) && name !== CACHE) await caches.delete(name);
  }
  await world.clients.claim();
};

const fromShell = async (path: string, request: Request): Promise<Response> => {
  const kept = await (await caches.open(CACHE)).match(path, { ignoreVary: true });
  return kept ?? fetch(request);
};

world.addEventListener("install", (event) => event.waitUntil(install()));
world.addEventListener("activate", (event) => event.waitUntil(activate()));
world.addEventListener("message", (event) => {
  if (event.data === ACTIVATE) void world.skipWaiting();
});
world.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== world.location.origin) return;
  if (/^\/(rooms|health)(\/|$)/.test(url.pathname)) return;
  if (request.mode === "navigate") event.respondWith(fromShell("/", request));
  else if (FILES.has(url.pathname)) event.respondWith(fromShell(url.pathname, request));
});
