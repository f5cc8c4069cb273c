import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { findBrowser, launch, newDevice, withPage } from "../support/browser.ts";

const PAGE = `<!doctype html><title>harness</title><link rel="icon" href="data:,"><script>
  const open = () => new Promise((done, fail) => {
    const request = indexedDB.open("harness", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("cards");
    request.onsuccess = () => done(request.result);
    request.onerror = () => fail(request.error);
  });
  window.write = async (value) => {
    const tx = (await open()).transaction("cards", "readwrite");
    tx.objectStore("cards").put(value, "index");
    return new Promise((done, fail) => { tx.oncomplete = () => done(true); tx.onabort = () => fail(tx.error); });
  };
  window.read = async () => {
    const request = (await open()).transaction("cards").objectStore("cards").get("index");
    return new Promise((done) => { request.onsuccess = () => done(request.result ?? null); });
  };
</script>`;

const server = createServer((_request, response) => response.setHeader("content-type", "text/html").end(PAGE));
let url = "";
let browser: Browser;

beforeAll(async () => {
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  browser = await launch();
});

afterAll(async () => {
  await browser?.close();
  await new Promise((done) => server.close(done));
});

test("IndexedDB keeps what was written over a reload, and another device does not see it", async () => {
  const north = await newDevice(browser);
  const south = await newDevice(browser);
  await north.page.goto(url);
  expect(await north.page.evaluate("write(1010)")).toBe(true);
  await north.page.reload();
  expect(await north.page.evaluate("read()")).toBe(1010);
  await south.page.goto(url);
  expect(await south.page.evaluate("read()")).toBe(null);
  expect([...north.faults, ...south.faults]).toEqual([]);
  await north.close();
  await south.close();
});

test("a device without signal reaches nothing, and does again when it is back", async () => {
  await withPage(browser, url, async (page, device) => {
    const asks = () =>
      page.evaluate(() =>
        fetch("/").then(
          () => "answered",
          () => "lost",
        ),
      );
    expect(await asks()).toBe("answered");
    await device.goOffline();
    expect(await asks()).toBe("lost");
    await device.online();
    expect(await asks()).toBe("answered");
    expect(device.faults).toEqual([]);
  });
});

test("a page's own error is a fault of the device", async () => {
  await withPage(browser, url, async (page, device) => {
    await page.evaluate("setTimeout(() => { throw new Error('planted') })");
    await expect.poll(() => device.faults.join()).toContain("planted");
  });
});

const bare = { env: {}, platform: "linux", arch: "arm64", packaged: false, playwrightPath: "/nowhere/chrome" } as const;

test("no browser anywhere is an error that says what to install, and CHROMIUM naming no file is one that names it", async () => {
  await expect(findBrowser(bare)).rejects.toThrow(/apt-get install chromium/);
  await expect(findBrowser({ ...bare, env: { CHROMIUM: "/nowhere/at-all" } })).rejects.toThrow("/nowhere/at-all");
});

test("CHROMIUM is used before anything else", async () => {
  const found = await findBrowser({ ...bare, env: { CHROMIUM: process.execPath } });
  expect(found).toEqual({ executablePath: process.execPath, from: "CHROMIUM", env: {} });
});
