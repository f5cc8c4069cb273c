/**
 * A real browser on any machine, never skipped: where one is installed it is used, else one Playwright downloaded before, else
 * the one packaged in the npm registry (an optional dependency, Linux on x64 only), else an error that says what to install.
 *
 * Rejected: `npx playwright install` during `npm test` (a download of 150 MB from outside the registry, refused on many
 * networks) and Playwright's `channel: "chromium"` (does not find the browser that Debian and Ubuntu install).
 */
import { existsSync } from "node:fs";
import { access, constants } from "node:fs/promises";
import { delimiter, join } from "node:path";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { chromium } from "playwright-core";
import { packagedBrowser } from "./packaged-browser.ts";

export interface FoundBrowser {
  /** Absolute path of a Chromium, Chrome or Edge. */
  executablePath: string;
  /** Where it was found, for the log. */
  from: "CHROMIUM" | "installed" | "playwright" | "packaged";
  /** To be set for it besides the environment it is started from. */
  env: Readonly<Record<string, string>>;
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
    return { executablePath: named, from: "CHROMIUM", env: {} };
  }
  const installed = await findInstalled(machine);
  if (installed !== undefined) return { executablePath: installed, from: "installed", env: {} };
  if (existsSync(machine.playwrightPath))
    return { executablePath: machine.playwrightPath, from: "playwright", env: {} };
  if (machine.packaged && machine.platform === "linux" && machine.arch === "x64") {
    const packaged = await packagedBrowser();
    if (packaged !== undefined) return { ...packaged, from: "packaged" };
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

/** How Playwright starts it, for tests that drive it and for those that run inside it. */
export const launchOptions = async (): Promise<{
  executablePath: string;
  args: string[];
  env: Record<string, string>;
}> => {
  const { executablePath, env } = await findBrowser();
  const inherited = Object.entries(process.env).filter((pair): pair is [string, string] => pair[1] !== undefined);
  return { executablePath, args: [...BROWSER_FLAGS], env: { ...Object.fromEntries(inherited), ...env } };
};

/** Starts the browser. Close it in `afterAll`. */
export const launch = async (): Promise<Browser> => chromium.launch(await launchOptions());

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
  // What is waited for is seen at once when it is there: only a crowded machine ever needs so long.
  context.setDefaultTimeout(60_000);
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
