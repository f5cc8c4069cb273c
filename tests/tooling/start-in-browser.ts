/**
 * How long a book of many years takes to start in a browser: `node --import tsx tests/tooling/start-in-browser.ts`, or with how many
 * entries (30,000 unless said). Kept out of the tests: seconds depend on the machine and on what else it is doing.
 *
 * The app is built and a relay serves it, with a book of ten seasons behind it, an entry to an envelope as live use makes them. A device
 * joins, where every signature is checked; then it starts again, as fast as the machine goes and four times as slowly, as a phone would.
 * Beside the join stands what the same browser needs for the bare Ed25519 of the same entries.
 */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Pass, Signer } from "@sward/client";
import {
  createMemoryDocStore,
  createMemoryVault,
  createSigner,
  encodePass,
  openBook,
  systemRandom,
} from "@sward/client";
import { base64url } from "jose";
import type { BrowserContext, Page } from "playwright-core";
import { build } from "vite";
import { benchBook } from "../../packages/client/bench/world.ts";
import { systemClock } from "../../packages/client/src/desk/platform.ts";
import { openWire } from "../../packages/client/src/wire/wire.ts";
import { launch } from "../support/browser.ts";
import { relayWith, until, wireDeps } from "../support/meeting.ts";

const size = Number(process.argv[2] ?? 30_000);
const PHONE = 4;
const LONG = 50;
const secret = new Uint8Array(32).fill(9);
const seed = (of: number): Uint8Array => new Uint8Array(32).fill(of);
/** Taken into the record at a time, to be put into the room. */
const PORTION = 2_000;

interface Start {
  /** Milliseconds from the beginning of loading. */
  readonly screen: number;
  readonly current: number;
  /** Of tasks longer than 50 ms: how many, the longest, and what all of them have beyond that. */
  readonly long: readonly [number, number, number];
}

/** In the page: when the first screen was drawn, and when the device last came into step with nothing left to check. */
function watch(): void {
  const tasks: number[] = [];
  const seen = { screen: 0, current: 0, tasks };
  new PerformanceObserver((list) => tasks.push(...list.getEntries().map(({ duration }) => duration))).observe({
    entryTypes: ["longtask"],
  });
  let isCurrent = false;
  const look = (): void => {
    const isDrawn = document.querySelector("main h1") !== null && document.querySelector(".tabs") !== null;
    const said = document.querySelector(".connection")?.textContent ?? "";
    const now = isDrawn && /In step/.test(said) && document.querySelector("main progress") === null;
    if (isDrawn && seen.screen === 0) seen.screen = performance.now();
    if (now && !isCurrent) seen.current = performance.now();
    isCurrent = now;
  };
  new MutationObserver(look).observe(document, { childList: true, subtree: true, characterData: true });
  Object.assign(globalThis, { startSeen: () => ({ ...seen, isCurrent, now: performance.now() }) });
}

declare const startSeen: () => { screen: number; current: number; tasks: number[]; isCurrent: boolean; now: number };

async function start(context: BrowserContext, address: string, rate: number): Promise<{ page: Page; start: Start }> {
  const page = await context.newPage();
  // What compiles this file gives functions their names by a helper that the page does not have.
  await page.addInitScript("globalThis.__name = (named) => named");
  await page.addInitScript(watch);
  const browser = await context.newCDPSession(page);
  await browser.send("Emulation.setCPUThrottlingRate", { rate });
  await page.goto(address);
  // In step, and not out of it again for a while.
  await page.waitForFunction(
    () => {
      const { isCurrent, current, now } = startSeen();
      return isCurrent && now - current > 3_000;
    },
    undefined,
    { timeout: 0, polling: 500 },
  );
  const { screen, current, tasks } = await page.evaluate(() => startSeen());
  const most = Math.max(0, ...tasks);
  const beyond = tasks.reduce((sum, task) => sum + task - 50, 0);
  return { page, start: { screen, current, long: [tasks.length, most, beyond] } };
}

/** Milliseconds for as many checks of one signature as there are entries, 64 side by side. */
const bareEd25519 = (page: Page, many: number): Promise<number> =>
  page.evaluate(async (count) => {
    const pair = (await crypto.subtle.generateKey("Ed25519", true, ["sign", "verify"])) as CryptoKeyPair;
    const message = new Uint8Array(400);
    const signature = await crypto.subtle.sign("Ed25519", pair.privateKey, message);
    const check = () => crypto.subtle.verify("Ed25519", pair.publicKey, signature, message);
    const from = performance.now();
    for (let at = 0; at < count; at += 64) await Promise.all(Array.from({ length: 64 }, check));
    return performance.now() - from;
  }, many);

const seconds = (ms: number): string => `${(ms / 1000).toFixed(2)} s`;

function say(what: string, { screen, current, long: [many, most, beyond] }: Start): void {
  const tasks = `${many} tasks over ${LONG} ms, the longest ${Math.round(most)}, ${Math.round(beyond)} beyond`;
  console.info(`${what}: screen ${seconds(screen)}, current ${seconds(current)}; ${tasks}`);
}

const folder = await mkdtemp(join(tmpdir(), "sward-start-"));
process.env["NODE_ENV"] = "production";
await build({
  configFile: fileURLToPath(new URL("../../packages/client/vite.config.ts", import.meta.url)),
  logLevel: "warn",
  build: { outDir: folder },
});
const signers = await Promise.all([1, 2, 3, 4, 5, 6].map((of) => createSigner(seed(of))));
const world = await benchBook(size, signers, true);
const relay = await relayWith({ app: folder });
const root = await openBook({
  book: world.book,
  device: signers[0] as Signer,
  epochs: [{ epoch: 0, secret }],
  vault: createMemoryVault(),
  ledgerStore: createMemoryDocStore(),
  rosterStore: createMemoryDocStore(),
  relay: { url: relay.origin, open: openWire, deps: wireDeps },
  clock: systemClock,
  randomBytes: systemRandom,
  entriesPerBlock: 1,
});
const browser = await launch();
try {
  await until("the relay is met", () => root.caughtUp());
  for (let at = 0; at < size; at += PORTION) {
    const taken = await root.takeEntries(world.entries.slice(at, at + PORTION).map(({ jws }) => jws));
    if (!taken.ok) throw new Error(taken.fault.type);
  }
  await until("the relay has everything", () => root.waiting() === 0, 3_600_000);
  const pass: Pass = {
    v: 1,
    label: "Bench",
    seed: base64url.encode(seed(2)),
    club: { book: world.book, epochs: [{ epoch: 0, secret: base64url.encode(secret) }] },
    leagues: [],
  };
  const context = await browser.newContext({ locale: "en-GB", serviceWorkers: "block" });
  const joined = await start(context, `${relay.origin}/#pass=${encodePass(pass)}`, 1);
  const bare = await bareEd25519(joined.page, size);
  say(`first join of ${size} entries`, joined.start);
  const times = ((joined.start.current - joined.start.screen) / bare).toFixed(1);
  console.info(
    `  bare Ed25519 of as many in this browser: ${seconds(bare)}; the join from its first picture: ${times} times that`,
  );
  const device = joined.page.url();
  await joined.page.close();
  for (const rate of [1, PHONE, PHONE, PHONE]) {
    const again = await start(context, device, rate);
    await again.page.close();
    say(`start again${rate === 1 ? "" : `, ${rate} times as slowly`}`, again.start);
  }
} finally {
  await browser.close();
  await root.close();
  await relay.close();
  await rm(folder, { recursive: true, force: true });
}
