/** What a relay answers to plain HTTP: the app, and its health. */
import { mkdirSync, symlinkSync, utimesSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { connect } from "node:net";
import { join } from "node:path";
import { brotliDecompressSync, gunzipSync } from "node:zlib";
import { createMemoryStorage, packApp } from "@sward/relay";
import { afterAll, beforeAll, expect, test } from "vitest";
import { serveAppFile } from "../../packages/relay/src/app-files.ts";
import { temporaryFolders } from "../support/folders.ts";
import type { TestRelay } from "../support/meeting.ts";
import { relayWith } from "../support/meeting.ts";

const folder = temporaryFolders();
let relay: TestRelay;
let appFolder = "";
const longText = "// long\n".repeat(500);

beforeAll(async () => {
  const outside = folder();
  const app = join(outside, "app");
  mkdirSync(join(app, "assets"), { recursive: true });
  appFolder = app;
  mkdirSync(join(app, "guide"));
  writeFileSync(join(outside, "secret.txt"), "secret");
  writeFileSync(join(app, "index.html"), "<!doctype html><title>app</title>");
  writeFileSync(join(app, "service-worker.js"), "// worker");
  writeFileSync(join(app, "manifest.webmanifest"), "{}");
  writeFileSync(join(app, "assets", "main-abc123.js"), "// main");
  writeFileSync(join(app, "guide", "index.html"), "guide");
  writeFileSync(join(app, ".hidden"), "hidden");
  writeFileSync(join(app, "assets", "long-abc123.js"), longText);
  writeFileSync(join(app, "changing.js"), longText);
  writeFileSync(join(app, "picture.png"), longText);
  symlinkSync(join(outside, "secret.txt"), join(app, "link.txt"));
  relay = await relayWith({ app });
});
afterAll(() => relay.close());

const get = (path: string, init: RequestInit = {}) => fetch(relay.origin + path, init);

/** A request as it is typed: `fetch` tidies paths before it sends them. */
const raw = (path: string): Promise<string> =>
  new Promise((done, failed) => {
    const socket = connect(relay.port, "127.0.0.1", () =>
      socket.write(`GET ${path} HTTP/1.1\r\nhost: x\r\nconnection: close\r\n\r\n`),
    );
    let text = "";
    socket.on("data", (data) => {
      text += data.toString();
    });
    socket.on("close", () => done(text));
    socket.on("error", failed);
  });

test("files have their types; named by content they last, others are asked for each time", async () => {
  const facts = async (path: string) => {
    const answer = await get(path);
    return [answer.status, answer.headers.get("content-type"), answer.headers.get("cache-control")];
  };
  const lasting = "public, max-age=31536000, immutable";
  expect(await facts("/")).toEqual([200, "text/html; charset=utf-8", "no-cache"]);
  expect(await facts("/service-worker.js")).toEqual([200, "text/javascript; charset=utf-8", "no-cache"]);
  expect(await facts("/manifest.webmanifest")).toEqual([200, "application/manifest+json", "no-cache"]);
  expect(await facts("/assets/main-abc123.js")).toEqual([200, "text/javascript; charset=utf-8", lasting]);
  expect(await (await get("/guide/")).text()).toBe("guide");
});

test("screens get the page, missing assets and the relay's own paths do not", async () => {
  for (const path of ["/members", "/members/abc/card?x=1", "/share"]) {
    expect(await (await get(path)).text(), path).toContain("<title>app</title>");
  }
  for (const path of [
    "/assets/gone.js",
    "/gone.png",
    "/rooms",
    "/rooms/ledger/x",
    "/health/x",
    "/assets",
    "/assets/",
  ]) {
    expect((await get(path)).status, path).toBe(404);
  }
});

test("scripts come from us alone, and a page may be framed by nobody", async () => {
  for (const path of ["/", "/members", "/assets/main-abc123.js", "/gone.png"]) {
    const { headers } = await get(path);
    const policy = headers.get("content-security-policy") ?? "";
    expect(policy).toContain("script-src 'self';");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(headers.get("x-content-type-options")).toBe("nosniff");
  }
});

/** Answered bytes as they came: `fetch` unpacks them. */
const packedAs = (path: string, accepts: string): Promise<[string | undefined, string | undefined, Buffer]> =>
  new Promise((done, failed) => {
    const asked = request(relay.origin + path, { headers: { "accept-encoding": accepts } }, (answer) => {
      const parts: Buffer[] = [];
      answer.on("data", (part: Buffer) => parts.push(part));
      answer.on("end", () => done([answer.headers["content-encoding"], answer.headers.vary, Buffer.concat(parts)]));
    });
    asked.on("error", failed);
    asked.end();
  });

test("text is packed as the caller asks, and only when that makes it smaller", async () => {
  const script = "/assets/long-abc123.js";
  const [br, varies, brBytes] = await packedAs(script, "gzip, deflate, br");
  expect([br, varies, String(brotliDecompressSync(brBytes))]).toEqual(["br", "accept-encoding", longText]);
  expect(brBytes.length).toBeLessThan(longText.length / 10);
  const [gzip, , gzipBytes] = await packedAs(script, "gzip;q=1.0, br;q=0.5");
  expect([gzip, String(gunzipSync(gzipBytes))]).toEqual(["gzip", longText]);
  for (const accepts of ["", "identity", "deflate", "br;q=0, gzip;q=0"]) {
    expect(await packedAs(script, accepts), accepts).toEqual([undefined, "accept-encoding", Buffer.from(longText)]);
  }
  // As short as this it would only grow; pictures are packed already.
  expect((await packedAs("/assets/main-abc123.js", "br"))[0]).toBeUndefined();
  expect((await packedAs("/picture.png", "br")).slice(0, 2)).toEqual([undefined, undefined]);
  expect(await (await get(script)).text()).toBe(longText);
});

test("a file that changed is packed anew", async () => {
  const text = async () => String(brotliDecompressSync((await packedAs("/changing.js", "br"))[2]));
  expect(await text()).toBe(longText);
  const changed = longText.replaceAll("long", "else");
  writeFileSync(join(appFolder, "changing.js"), changed);
  utimesSync(join(appFolder, "changing.js"), new Date(), new Date(Date.now() + 5000));
  expect(await text()).toBe(changed);
});

test("what was packed before anybody asked is what is answered with", async () => {
  const app = folder();
  mkdirSync(join(app, "assets"));
  const written = new Date("2026-11-01T10:00:00Z");
  const write = (name: string, text: string): void => {
    writeFileSync(join(app, name), text);
    utimesSync(join(app, name), written, written);
  };
  for (const name of ["index.html", "assets/a b%.js", "picture.png", ".hidden.js"]) write(name, longText);
  write("short.js", "// short");
  expect(await packApp(app)).toBe(2);
  // Packed again it would be another text: it says that it was not written since.
  write("assets/a b%.js", longText.replaceAll("long", "else"));
  const answer = await serveAppFile(app, "/assets/a%20b%25.js", "br");
  expect(String(brotliDecompressSync(Buffer.from(await answer.arrayBuffer())))).toBe(longText);
  expect(await packApp(join(app, "nowhere"))).toBe(0);
});

test("no path leads out of the folder", async () => {
  const paths = [
    "/../secret.txt",
    "/%2e%2e/secret.txt",
    "/..%2fsecret.txt",
    "/assets/..%2f..%2fsecret.txt",
    "/assets/%2e%2e/%2e%2e/secret.txt",
    "/..%5csecret.txt",
    "//secret.txt",
    "/link.txt",
    "/.hidden",
    "/%00",
    "/%E0%A4%A",
    "/assets/main-abc123.js%00.html",
  ];
  for (const path of paths) {
    const answer = await raw(path);
    expect(answer, path).toMatch(/^HTTP\/1\.1 (404|400)/);
    expect(answer, path).not.toMatch(/\r\n(secret|hidden)/);
  }
});

test("a relay that serves no app says so", async () => {
  const bare = await relayWith();
  expect((await fetch(`${bare.origin}/`)).status).toBe(404);
  await bare.close();
});

test("health is a real write and read, shared within a second, and may be asked from anywhere", async () => {
  const storage = createMemoryStorage("healthy");
  let probes = 0;
  let broken = false;
  const watched = await relayWith(
    {},
    {
      ...storage,
      probe: async () => {
        probes += 1;
        if (broken) throw new Error("the disk is full");
      },
    },
  );
  const answers = await Promise.all([1, 2, 3].map(() => fetch(`${watched.origin}/health`)));
  expect(answers.map(({ status }) => status)).toEqual([200, 200, 200]);
  expect(await answers[0]!.json()).toEqual({ ok: true, store: "healthy", rooms: 0, connections: 0 });
  expect(answers[0]!.headers.get("access-control-allow-origin")).toBe("*");
  expect(probes).toBe(1);
  broken = true;
  await expect
    .poll(async () => (await fetch(`${watched.origin}/health`)).status, { timeout: 3000, interval: 200 })
    .toBe(503);
  await watched.close();
});
