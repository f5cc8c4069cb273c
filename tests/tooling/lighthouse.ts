/**
 * Lighthouse on the built app: `npm run lighthouse`, or `npm run lighthouse -- strokes sharing` for other screens; `front` is the
 * front page of a browser that is no device yet. Kept out of the tests: its scores of speed depend on what else the machine is doing,
 * and it is 111 MB that nothing else needs, so npx fetches it. What is reported of each screen is the run whose performance is the
 * median of three: one run may be a third slower than the next.
 *
 * The app is built, a relay serves it with a small club behind it, and the browser is made a device of that club. Each screen is then
 * measured as by somebody who has the record on the device and the app not yet: the browser's caches and the service worker are
 * thrown away first, what is saved is not. A phone and its slow network are imitated (Lighthouse's default).
 */
import { execFile } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { encodePass } from "@sward/client";
import type { BrowserContext } from "playwright-core";
import { chromium } from "playwright-core";
import { build } from "vite";
import { launchOptions } from "../support/browser.ts";
import { relayWith } from "../support/meeting.ts";
import { foundSmallClub, player } from "../support/small-club.ts";

const LIGHTHOUSE = "lighthouse@12.2.3";
const CATEGORIES = ["performance", "accessibility", "best-practices"] as const;
/** What each screen should reach in each category. */
const AIM = 95;
/** The front page, for a browser that has no device. */
const FRONT = "front";
const RUNS = 3;

interface Audit {
  readonly title: string;
  readonly score: number | null;
  readonly displayValue?: string;
}
interface Report {
  readonly categories: Readonly<
    Record<string, { readonly score: number; readonly auditRefs: readonly { id: string; weight: number }[] }>
  >;
  readonly audits: Readonly<Record<string, Audit>>;
}

const run = promisify(execFile);
const folder = await mkdtemp(join(tmpdir(), "sward-lighthouse-"));

async function main(): Promise<void> {
  const screens = process.argv.slice(2);
  if (screens.length === 0) screens.push(FRONT, "", "members", `members/${player("ada")}`, "entry", "lawn");
  const app = join(folder, "app");
  process.env["NODE_ENV"] = "production";
  await build({
    configFile: fileURLToPath(new URL("../../packages/client/vite.config.ts", import.meta.url)),
    logLevel: "warn",
    build: { outDir: app },
  });
  const relay = await relayWith({ app });
  // The same relay by another name: to a browser another site, where it has no device.
  const strange = relay.origin.replace("127.0.0.1", "localhost");
  const club = await foundSmallClub(relay.origin, new Date().toISOString().slice(0, 10));
  const port = await freePort();
  const options = await launchOptions();
  const context = await chromium.launchPersistentContext(join(folder, "profile"), {
    ...options,
    args: [...options.args, `--remote-debugging-port=${port}`],
    locale: "en-GB",
  });
  try {
    const device = await becomeDevice(context, `${relay.origin}/#pass=${encodePass(club.passes.handicapper)}`);
    for (const screen of screens) {
      const reports: Report[] = [];
      for (let run = 0; run < RUNS; run += 1) {
        const origin = screen === FRONT ? strange : relay.origin;
        await forgetApp(context, origin);
        reports.push(await measure(screen === FRONT ? `${origin}/` : `${device}${screen}`, port));
      }
      say(screen, medianOf(reports));
    }
  } finally {
    await context.close();
    await club.close();
    await relay.close();
  }
}

/** The address of the device, below which its screens are. */
async function becomeDevice(context: BrowserContext, address: string): Promise<string> {
  const page = await context.newPage();
  await page.goto(address);
  await page.getByRole("link", { name: /In step$/ }).waitFor();
  const url = page.url();
  // Only one tab may have a device open.
  await page.close();
  return url;
}

async function forgetApp(context: BrowserContext, origin: string): Promise<void> {
  const page = await context.newPage();
  const browser = await context.newCDPSession(page);
  await browser.send("Storage.clearDataForOrigin", { origin, storageTypes: "service_workers,cache_storage" });
  await browser.send("Network.clearBrowserCache");
  await page.close();
}

async function measure(address: string, port: number): Promise<Report> {
  const path = join(folder, "report.json");
  const wanted = [
    address,
    `--port=${port}`,
    `--only-categories=${CATEGORIES.join(",")}`,
    "--disable-storage-reset",
    "--output=json",
    `--output-path=${path}`,
    "--quiet",
  ];
  const look = () => run("npx", ["--yes", LIGHTHOUSE, ...wanted], { cwd: folder, maxBuffer: 2 ** 26 });
  try {
    // On a busy machine its recording sometimes begins after the page.
    await look().catch((cause: unknown) => (String(cause).includes("NO_NAVSTART") ? look() : Promise.reject(cause)));
  } catch (cause) {
    throw new Error(
      `${LIGHTHOUSE} could not be fetched or did not run. npx needs the npm registry; without it, put a copy in npm's cache on a machine that has it: npx --yes ${LIGHTHOUSE} --version`,
      { cause },
    );
  }
  return JSON.parse(await readFile(path, "utf8"));
}

const performanceOf = ({ categories }: Report): number => categories["performance"]?.score ?? 0;

const medianOf = (reports: readonly Report[]): Report =>
  reports.toSorted((a, b) => performanceOf(a) - performanceOf(b))[Math.floor(reports.length / 2)] as Report;

function say(screen: string, report: Report): void {
  const scores = CATEGORIES.map((name) => [name, Math.round((report.categories[name]?.score ?? 0) * 100)] as const);
  console.info(`\n/${screen}   ${scores.map(([name, score]) => `${name} ${score}`).join("   ")}`);
  if (scores.some(([, score]) => score < AIM)) process.exitCode = 1;
  for (const name of CATEGORIES) {
    for (const { id, weight } of report.categories[name]?.auditRefs ?? []) {
      const audit = report.audits[id];
      if (weight === 0 || audit === undefined || audit.score === null || audit.score >= 0.9) continue;
      console.info(`  ${id} ${Math.round(audit.score * 100)}: ${audit.title} ${audit.displayValue ?? ""}`);
    }
  }
}

function freePort(): Promise<number> {
  return new Promise((found, failed) => {
    const server = createServer();
    server.on("error", failed);
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      server.close(() => found(typeof address === "object" && address !== null ? address.port : 0));
    });
  });
}

try {
  await main();
} finally {
  await rm(folder, { recursive: true, force: true });
}
