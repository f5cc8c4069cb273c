/** What a relay answers to plain HTTP: the app, and its health. */
import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { connect } from "node:net";
import { join } from "node:path";
import { createMemoryStorage } from "@sward/relay";
import { afterAll, beforeAll, expect, test } from "vitest";
import { temporaryFolders } from "../support/folders.ts";
import type { TestRelay } from "../support/meeting.ts";
import { relayWith } from "../support/meeting.ts";

const folder = temporaryFolders();
let relay: TestRelay;

beforeAll(async () => {
  const outside = folder();
  const app = join(outside, "app");
  mkdirSync(join(app, "assets"), { recursive: true });
  mkdirSync(join(app, "guide"));
  writeFileSync(join(outside, "secret.txt"), "secret");
  writeFileSync(join(app, "index.html"), "<!doctype html><title>app</title>");
  writeFileSync(join(app, "service-worker.js"), "// worker");
  writeFileSync(join(app, "manifest.webmanifest"), "{}");
  writeFileSync(join(app, "assets", "main-abc123.js"), "// main");
  writeFileSync(join(app, "guide", "index.html"), "guide");
  writeFileSync(join(app, ".hidden"), "hidden");
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
