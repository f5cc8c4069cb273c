/**
 * A real browser on any machine, never skipped: where one is installed it is used, else one Playwright downloaded before, else
 * the one packaged in the npm registry (an optional dependency, Linux on x64 only), else an error that says what to install.
 *
 * The packaged one is unpacked by us into node_modules/.cache: its own unpacker writes to a temporary folder shared by every
 * user of the machine. It is about a year behind, so it is for tests only.
 *
 * Rejected: `npx playwright install` during `npm test` (a download of 150 MB from outside the registry, refused on many
 * networks) and Playwright's `channel: "chromium"` (does not find the browser that Debian and Ubuntu install).
 */
import { createReadStream, createWriteStream, existsSync } from "node:fs";
import { access, chmod, constants, mkdir, rename, rm } from "node:fs/promises";
import { createRequire } from "node:module";
import { delimiter, dirname, join } from "node:path";
import { pipeline } from "node:stream/promises";
import { fileURLToPath } from "node:url";
import { createBrotliDecompress } from "node:zlib";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { chromium } from "playwright-core";

export interface FoundBrowser {
  /** Absolute path of a Chromium, Chrome or Edge. */
  executablePath: string;
  /** Where it was found, for the log. */
  from: "CHROMIUM" | "installed" | "playwright" | "packaged";
}

/**
 * Tests serve their pages from loopback only, so nothing here weakens a browser that meets the open network: no sandbox
 * because containers and root cannot have one, and no background traffic because a closed network answers it with noise.
 */
export const BROWSER_FLAGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--disable-dev-shm-usage",
] as const;

const INSTALLED = {
  linux: ["chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "google-chrome-stable"],
  darwin: [
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
  ],
  win32: [
    "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
    "C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe",
    "C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe",
    "C:\\Program Files\\Microsoft\\Edge\\Application\\msedge.exe",
  ],
} as const;

const INSTALL_LINES = [
  "No browser found for the browser tests. Do one of these, then run the tests again:",
  "  Debian, Ubuntu:   sudo apt-get install chromium",
  "  macOS:            brew install --cask google-chrome",
  "  Windows:          winget install Google.Chrome",
  "  any:              npx playwright install chromium-headless-shell",
  "  already have one: CHROMIUM=/path/to/chrome npm test",
].join("\n");

export interface Machine {
  env: Readonly<Record<string, string | undefined>>;
  platform: string;
  arch: string;
  /** Whether the packaged browser may be used. */
  packaged: boolean;
  /** Path where Playwright would keep its own download. */
  playwrightPath: string;
}

const thisMachine = (): Machine => ({
  env: process.env,
  platform: process.platform,
  arch: process.arch,
  packaged: true,
  playwrightPath: chromium.executablePath(),
});

/** The first browser of the order in the header. @throws Error with install lines when there is none. */
export const findBrowser = async (machine: Machine = thisMachine()): Promise<FoundBrowser> => {
  const named = machine.env["CHROMIUM"];
  if (named !== undefined && named !== "") {
    if (!existsSync(named)) {
      throw new Error(
        `CHROMIUM names a file that does not exist: ${named}. Correct it, or unset it to have one looked for.`,
      );
    }
    return { executablePath: named, from: "CHROMIUM" };
  }
  const installed = await findInstalled(machine);
  if (installed !== undefined) return { executablePath: installed, from: "installed" };
  if (existsSync(machine.playwrightPath)) return { executablePath: machine.playwrightPath, from: "playwright" };
  if (machine.packaged && machine.platform === "linux" && machine.arch === "x64") {
    const packaged = await unpackPackaged();
    if (packaged !== undefined) return { executablePath: packaged, from: "packaged" };
  }
  throw new Error(INSTALL_LINES);
};

const findInstalled = async (machine: Machine): Promise<string | undefined> => {
  const names: readonly string[] = INSTALLED[machine.platform as keyof typeof INSTALLED] ?? [];
  const folders =
    machine.platform === "linux" ? (machine.env["PATH"] ?? "").split(delimiter).filter((f) => f !== "") : [""];
  for (const name of names) {
    for (const folder of folders) {
      const path = folder === "" ? name : join(folder, name);
      if (await isExecutable(path)) return path;
    }
  }
  return undefined;
};

const isExecutable = (path: string): Promise<boolean> =>
  access(path, constants.X_OK).then(
    () => true,
    () => false,
  );

/** Unpacks once (about 2 s, 190 MB); the rename at the end means a half-written file is never mistaken for a browser. */
const unpackPackaged = async (): Promise<string | undefined> => {
  const packed = packagedFile();
  if (packed === undefined) return undefined;
  const target = fileURLToPath(
    new URL(`../../node_modules/.cache/sward-browser/${packed.version}/chromium`, import.meta.url),
  );
  if (existsSync(target)) return target;
  await mkdir(dirname(target), { recursive: true });
  const partial = `${target}.${process.pid}`;
  try {
    await pipeline(createReadStream(packed.path), createBrotliDecompress(), createWriteStream(partial));
    await chmod(partial, 0o755);
    await rename(partial, target);
  } finally {
    await rm(partial, { force: true });
  }
  return target;
};

const packagedFile = (): { path: string; version: string } | undefined => {
  const folder = fileURLToPath(new URL("../../node_modules/@sparticuz/chromium", import.meta.url));
  const path = join(folder, "bin", "chromium.br");
  if (!existsSync(path)) return undefined;
  const { version } = createRequire(import.meta.url)(join(folder, "package.json")) as { version: string };
  return { path, version };
};

/** Starts the browser. Close it in `afterAll`. */
export const launch = async (): Promise<Browser> => {
  const { executablePath } = await findBrowser();
  return chromium.launch({ executablePath, args: [...BROWSER_FLAGS] });
};

/** One person's device: storage, service workers and signal of its own, like a separate phone. */
export interface Device {
  context: BrowserContext;
  page: Page;
  /** Everything the page threw or logged as an error so far: expect it to equal []. */
  faults: string[];
  /** No signal: every request and websocket of this device fails, as in a club with thick walls. */
  goOffline(): Promise<void>;
  online(): Promise<void>;
  close(): Promise<void>;
}

/** A device with one open page and nothing stored. Options as Playwright's (viewport, userAgent, ...). */
export const newDevice = async (
  browser: Browser,
  options: Parameters<Browser["newContext"]>[0] = {},
): Promise<Device> => {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const faults: string[] = [];
  page.on("pageerror", (error) => faults.push(String(error)));
  page.on("console", (message) => {
    if (message.type() === "error" && !isLostSignal(message.text())) faults.push(message.text());
  });
  return {
    context,
    page,
    faults,
    goOffline: () => context.setOffline(true),
    online: () => context.setOffline(false),
    close: () => context.close(),
  };
};

/** Chromium itself logs each refused request of a device without signal; that is the weather, not a fault of the page. */
const isLostSignal = (text: string): boolean =>
  /net::ERR_(INTERNET_DISCONNECTED|CONNECTION_REFUSED|CONNECTION_RESET|FAILED|ADDRESS_UNREACHABLE)/.test(text);

/** Opens `url` on a fresh device, runs `body`, closes the device whatever happens. */
export const withPage = async <T>(
  browser: Browser,
  url: string,
  body: (page: Page, device: Device) => Promise<T>,
): Promise<T> => {
  const device = await newDevice(browser);
  try {
    await device.page.goto(url);
    return await body(device.page, device);
  } finally {
    await device.close();
  }
};
