/**
 * What a phone at the lawn fetches before it can show the first screen: every script the page names, with all they import, as the
 * built app has it. Bytes and not seconds, so that it says the same on every machine. What comes later (other screens, dialogs, the
 * wire) is fetched by import(), which is not counted; that the first screen draws without it is the second test.
 */
import { readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { gzipSync } from "node:zlib";
import { expect, inject, test } from "vitest";
import { launch } from "../support/browser.ts";
import { foundSmallClub } from "../support/small-club.ts";
import { inStep, openDevice, startRelayWithApp, today } from "./at-a-desk.ts";

/** The promise: under 85 kB of script, gzip. */
const MOST_BYTES = 85_000;

const read = (path: string): string => readFileSync(join(inject("app"), path), "utf8");

/** Static imports of a built module: `import … from "./x.js"`, `import "./x.js"`, `export … from "./x.js"`; never `import("…")`. */
const importsOf = (code: string): readonly string[] =>
  [...code.matchAll(/(?:\bfrom|\bimport)\s*["'`](\.\/[^"'`]+\.js)["'`]/g)].map(
    ([, path]) => `assets/${basename(path ?? "")}`,
  );

function scriptsOf(page: string): ReadonlySet<string> {
  const found = new Set<string>();
  const add = (path: string): void => {
    if (found.has(path)) return;
    found.add(path);
    for (const imported of importsOf(read(path))) add(imported);
  };
  for (const [, path] of page.matchAll(/<(?:script|link)\b[^>]*(?:src|href)="\/([^"]+\.js)"/g)) add(path ?? "");
  return found;
}

test("the first view's script is under 85 kB gzip", () => {
  const scripts = scriptsOf(read("index.html"));
  const sizes = [...scripts].map((path) => [path, gzipSync(read(path), { level: 9 }).length] as const);
  const bytes = sizes.reduce((sum, [, size]) => sum + size, 0);
  console.info(`first view: ${bytes} bytes gzip in ${sizes.map(([path, size]) => `${path} ${size}`).join(", ")}`);
  // The whole of the book is in it: less than this would mean that scripts were not found, not that they had shrunk.
  expect(bytes).toBeGreaterThan(50_000);
  expect(bytes).toBeLessThan(MOST_BYTES);
});

test("what is counted is enough: a device with its record draws the first screen when no other script can be fetched", async () => {
  const [relay, browser] = [await startRelayWithApp(), await launch()];
  const club = await foundSmallClub(relay.origin, today());
  try {
    // Without a service worker, which would have all of them.
    const device = await openDevice(browser, relay.origin, club.passes.handicapper, { serviceWorkers: "block" });
    const address = device.page.url();
    const counted = scriptsOf(read("index.html"));
    const fetched: string[] = [];
    await device.context.route("**/*.js", (route) => {
      const path = new URL(route.request().url()).pathname.slice(1);
      if (counted.has(path)) {
        fetched.push(path);
        return route.continue();
      }
      return route.abort();
    });
    await device.page.goto(address);
    await device.page.getByRole("heading", { name: "What needs attention" }).waitFor();
    await device.page.getByRole("heading", { name: "Changes of handicap to sign off" }).waitFor();
    expect(new Set(fetched)).toEqual(counted);

    // What travels has to wait, and goes when it can; a screen whose script cannot be fetched says so, and comes then too.
    await device.page.getByRole("link", { name: /No signal/ }).waitFor();
    await device.page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
    await device.page.getByRole("heading", { name: "This screen could not be fetched" }).waitFor();
    await device.context.unroute("**/*.js");
    await device.page.getByRole("button", { name: "Try again" }).click();
    await device.page.getByRole("heading", { name: "Members" }).waitFor();
    await inStep(device.page);
  } finally {
    await browser.close();
    await club.close();
    await relay.close();
  }
});
