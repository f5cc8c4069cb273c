/**
 * The app after the server is gone, with the real build and a server that can be stopped. The build made for the browser tests
 * is served as it is; only the new version is made here, by changing the worker's bytes as a new build would.
 */
import { existsSync, readFileSync } from "node:fs";
import type { Server } from "node:http";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { extname } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, inject, test } from "vitest";
import { launch, newDevice } from "../support/browser.ts";

const dist = inject("app");
const TYPES: Record<string, string> = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".webmanifest": "application/manifest+json",
};
const worker = readFileSync(`${dist}/sw.js`, "utf8");
let servedWorker = worker;
let health = 0;
let server: Server;
let url = "";
let browser: Browser;

const start = async (port: number): Promise<void> => {
  server = createServer((request, response) => {
    const path = new URL(request.url ?? "/", "http://localhost").pathname;
    if (path === "/health") return void response.end(String(++health));
    const file = existsSync(`${dist}${path}`) && extname(path) !== "" ? path : "/index.html";
    response.setHeader("content-type", TYPES[extname(file)] ?? "application/octet-stream");
    response.setHeader("cache-control", "no-cache");
    response.end(file === "/sw.js" ? servedWorker : readFileSync(`${dist}${file}`));
  });
  await new Promise<void>((done) => server.listen(port, "127.0.0.1", done));
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
};

const stop = async (): Promise<void> => {
  server.closeAllConnections();
  await new Promise((done) => server.close(done));
};

const install = `navigator.serviceWorker.register("/sw.js")
  .then(() => navigator.serviceWorker.ready)
  .then(() => new Promise((done) => navigator.serviceWorker.controller
    ? done(true) : navigator.serviceWorker.addEventListener("controllerchange", () => done(true))))`;

beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());
afterEach(async () => {
  servedWorker = worker;
  if (server.listening) await stop();
});

test("the app opens at any of its addresses after the server is gone for good", async () => {
  await start(0);
  const device = await newDevice(browser);
  await device.page.goto(url);
  expect(await device.page.evaluate(install)).toBe(true);
  // The app names its window itself, once it has drawn.
  const title = "Devices in this browser · Sward";
  await stop();
  await device.page.reload();
  await expect.poll(() => device.page.title()).toBe(title);
  await device.page.goto(`${url}/members/anyone?from=link`);
  await expect.poll(() => device.page.title()).toBe(title);
  await expect.poll(() => device.page.locator("#app").innerText()).not.toBe("");
  await device.close();
});

test("answers about the relay are never kept", async () => {
  await start(0);
  const device = await newDevice(browser);
  await device.page.goto(url);
  await device.page.evaluate(install);
  const ask = () => device.page.evaluate(() => fetch("/health").then((answer) => answer.text()));
  const first = Number(await ask());
  expect(Number(await ask())).toBe(first + 1);
  await device.page.goto(`${url}/health`);
  expect(await device.page.locator("body").innerText()).toBe(String(first + 2));
  await device.page.goto(url);
  await stop();
  await expect(ask()).rejects.toThrow(/Failed to fetch/);
  await device.close();
});

test("a new version waits until the page asks for it, and the old one's files are then dropped", async () => {
  await start(0);
  const device = await newDevice(browser);
  await device.page.goto(url);
  await device.page.evaluate(install);
  servedWorker = worker.replace(/"version":"\w+"/, '"version":"next"');
  expect(servedWorker).not.toBe(worker);
  const waiting = () =>
    device.page.evaluate(() => navigator.serviceWorker.ready.then((registration) => registration.waiting !== null));
  await device.page.evaluate(() =>
    navigator.serviceWorker.ready.then((registration) => registration.update().then(() => 0)),
  );
  await expect.poll(waiting).toBe(true);
  expect(await device.page.evaluate(() => caches.keys())).toHaveLength(2);
  await device.page.evaluate(() =>
    navigator.serviceWorker.ready.then((registration) => registration.waiting?.postMessage("activate")),
  );
  await expect.poll(waiting).toBe(false);
  await expect.poll(() => device.page.evaluate(() => caches.keys())).toEqual(["sward-app-next"]);
  await device.close();
});

test("a version of which one file cannot be fetched is not installed", async () => {
  await start(0);
  const device = await newDevice(browser);
  await device.page.goto(url);
  await device.page.evaluate(install);
  servedWorker = worker.replace(/"version":"\w+","urls":\[/, '"version":"torn","urls":["http://127.0.0.1:1/gone.js",');
  expect(servedWorker).not.toBe(worker);
  const update = () =>
    device.page.evaluate(() =>
      navigator.serviceWorker.ready
        .then((registration) => registration.update())
        .then((registration) => {
          const next = registration.installing;
          if (next === null) return "none";
          return new Promise<string>((done) => next.addEventListener("statechange", () => done(next.state)));
        }),
    );
  expect(await update()).toBe("redundant");
  await stop();
  await device.page.reload();
  await expect.poll(() => device.page.locator("#app").innerText()).not.toBe("");
  await device.close();
});
