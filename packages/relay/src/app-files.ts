/**
 * Serves the built app from one folder. Addresses of screens (`/members/…`) have no file of their own and get `index.html`; a
 * missing asset is a plain 404, because HTML in the place of a script breaks a page in ways nobody can read. Headers keep scripts
 * to our own files; connections may go to any relay, since a club chooses its own.
 */
import { readdir, readFile, realpath, stat } from "node:fs/promises";
import { extname, join, relative, resolve, sep } from "node:path";
import type { PackableFile } from "./app-packing.ts";
import { pack, packingFor } from "./app-packing.ts";

/** By extension; anything else is served as bytes to be saved, never guessed. */
const contentTypes: Readonly<Record<string, string>> = {
  ".css": "text/css; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".ico": "image/x-icon",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".map": "application/json; charset=utf-8",
  ".mjs": "text/javascript; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".txt": "text/plain; charset=utf-8",
  ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json",
  ".webp": "image/webp",
  ".woff2": "font/woff2",
};

export const securityHeaders: Readonly<Record<string, string>> = {
  "content-security-policy": [
    "default-src 'self'",
    "script-src 'self'",
    // Preact writes style attributes; they cannot run anything.
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "connect-src 'self' https: wss: http://localhost:* ws://localhost:* http://127.0.0.1:* ws://127.0.0.1:*",
    "worker-src 'self'",
    "manifest-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join("; "),
  "x-content-type-options": "nosniff",
  "referrer-policy": "no-referrer",
  "cross-origin-opener-policy": "same-origin",
  "permissions-policy": "camera=(self), geolocation=(), microphone=()",
};

/** Vite names these after their content, so an address never changes what it means. */
const named = /^\/assets\//;

/** Pictures and fonts are compressed already. */
const packable = /^(text\/|application\/(json|manifest\+json|wasm)|image\/svg)/;

/** Answers a GET for this path of an address (still percent-encoded), or 404. `folder` is the app's, `accepts` the encodings taken. */
export async function serveAppFile(folder: string, path: string, accepts?: string): Promise<Response> {
  const file = await findFile(folder, path);
  const page = file === null && isScreen(path) ? await findFile(folder, "/index.html") : file;
  if (page === null)
    return new Response("Not found.\n", { status: 404, headers: { "content-type": "text/plain", ...securityHeaders } });
  const lasting = named.test(path) && file !== null;
  const type = typeOf(page.name);
  const packing = packable.test(type) ? packingFor(accepts) : null;
  const packed = packing === null ? null : await pack(page, packing);
  return new Response(new Uint8Array(packed ?? page.bytes), {
    headers: {
      "content-type": type,
      "cache-control": lasting ? "public, max-age=31536000, immutable" : "no-cache",
      ...(packed === null || packing === null ? {} : { "content-encoding": packing }),
      ...(packable.test(type) ? { vary: "accept-encoding" } : {}),
      ...securityHeaders,
    },
  });
}

/**
 * Packs every file as browsers ask for it, one after another, before anybody does: whoever comes first after a relay's start would wait a
 * second for the first screen's script alone. To be left running beside everything else.
 * @returns how many there are now; one that cannot be read is left for whoever asks for it
 */
export async function packApp(folder: string): Promise<number> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  let packed = 0;
  for (const entry of entries) {
    if (!entry.isFile() || !packable.test(typeOf(entry.name))) continue;
    const path = relative(folder, join(entry.parentPath, entry.name)).split(sep).map(encodeURIComponent).join("/");
    const file = await findFile(folder, `/${path}`);
    if (file !== null && (await pack(file, "br").catch(() => null)) !== null) packed += 1;
  }
  return packed;
}

const typeOf = (name: string): string => contentTypes[extname(name)] ?? "application/octet-stream";

/** An address of a screen: no file name at its end, and none of the paths that are not the app's. */
const isScreen = (path: string): boolean =>
  decodePath(path) !== null && !/^\/(assets|rooms|health)(\/|$)/.test(path) && extname(path) === "";

async function findFile(folder: string, path: string): Promise<(PackableFile & { readonly name: string }) | null> {
  const decoded = decodePath(path);
  if (decoded === null) return null;
  const root = resolve(folder);
  const name = resolve(join(root, decoded.endsWith("/") ? `${decoded}index.html` : decoded));
  if (!name.startsWith(root + sep)) return null;
  try {
    // A link inside the folder must not lead out of it.
    const real = await realpath(name);
    if (!real.startsWith((await realpath(root)) + sep)) return null;
    return { name, path: real, changed: (await stat(real)).mtimeMs, bytes: await readFile(real) };
  } catch {
    return null;
  }
}

function decodePath(path: string): string | null {
  try {
    const decoded = decodeURIComponent(path);
    return /[\0\\]/.test(decoded) || decoded.split("/").some((part) => part.startsWith(".")) ? null : decoded;
  } catch {
    return null;
  }
}
