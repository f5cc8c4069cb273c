/**
 * The stages of a start alone, each in a page of its own beside its floor, at growing sizes. The page is built as the app is, without
 * its service worker; the book it is timed with is made here and served to it. What a browser cannot hold is told as such: a page that
 * ran out of memory is closed and the next one begins anew.
 */
import { createReadStream } from "node:fs";
import { createServer } from "node:http";
import { extname, join } from "node:path";
import type { Browser, Page } from "playwright-core";
import type { HeldBook } from "../../../packages/client/bench/big-book.ts";
import type { ServedBook } from "../../../packages/client/bench/browser-book.ts";
import type { BenchPage } from "../../../packages/client/bench/browser-page.ts";
import type { Figure } from "../../../packages/client/bench/measure.ts";
import type { SignedBook } from "../../../packages/client/bench/signed.ts";
import { signedBook } from "../../../packages/client/bench/signed.ts";
import { buildPage } from "./built.ts";

declare const benchPage: BenchPage;
declare const bytesHeld: () => Promise<number>;

interface HeapUsage {
  readonly usedSize: number;
  readonly backingStorageSize?: number;
}

export interface StagePages {
  /** Stages of a start, and a start, of a signed book. */
  entries(size: number, runs: number): Promise<readonly Figure[]>;
  games(size: number, runs: number): Promise<readonly Figure[]>;
  render(size: number, runs: number): Promise<readonly Figure[]>;
  /** A book of that size opened from the page's own storage. */
  big(size: number): Promise<HeldBook>;
  /** Milliseconds for the bare signatures of a book. */
  bare(size: number): Promise<number>;
  close(): Promise<void>;
}

export interface StageOptions {
  /** Milliseconds after which a stage is given up. */
  readonly patience: number;
  readonly folder: string;
}

export async function stagePages(browser: Browser, { patience, folder }: StageOptions): Promise<StagePages> {
  await buildPage(folder);
  let served: { readonly size: number; readonly json: string; readonly update: Uint8Array } | null = null;
  const server = createServer(({ url = "/" }, answer) => {
    const name = url.slice(1).split("?")[0] ?? "";
    if (name === "book.json") answer.end(served?.json);
    else if (name === "book.update") answer.end(served?.update);
    else {
      answer.setHeader("content-type", types[extname(name)] ?? "text/plain");
      createReadStream(join(folder, name))
        .on("error", () => answer.writeHead(404).end())
        .pipe(answer);
    }
  });
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  const address = server.address();
  const port = typeof address === "object" && address !== null ? address.port : 0;

  async function serve(size: number): Promise<void> {
    if (served?.size === size) return;
    const { bench, signers, update }: SignedBook = await signedBook(size);
    const book: ServedBook = { book: bench.book, entries: bench.entries, keys: signers.map(({ key }) => key) };
    served = { size, json: JSON.stringify(book), update };
  }

  /** In a page of its own. @throws when the page died, or took longer than it may */
  async function inPage<T>(run: (page: Page) => Promise<T>): Promise<T> {
    const context = await browser.newContext();
    const page = await context.newPage();
    let timer: NodeJS.Timeout | undefined;
    const over = new Promise<never>((_, fail) => {
      page.on("crash", () => fail(new Error("the page ran out of memory")));
      timer = setTimeout(() => fail(new Error(`it took longer than ${patience / 1000} seconds`)), patience);
    });
    try {
      await page.goto(`http://127.0.0.1:${port}/browser-page.html`);
      await isReady(page);
      return await Promise.race([run(page), over]);
    } finally {
      clearTimeout(timer);
      // A page that died has nothing left to close.
      await Promise.race([context.close(), new Promise((late) => setTimeout(late, 10_000))]);
    }
  }

  /** In a page that has nothing else in memory. */
  const coldStart = (size: number, runs: number): Promise<Figure[]> =>
    inPage(async (page) => {
      await page.evaluate(() => benchPage.fillStart());
      await anew(page);
      return page.evaluate(([of, times]) => benchPage.coldStart(of, times), [size, runs] as const);
    });

  return {
    async entries(size, runs) {
      await serve(size);
      const stages = await inPage((page) => page.evaluate((times) => benchPage.entries(times), runs));
      return [...stages, ...(await coldStart(size, runs))];
    },
    games: (size, runs) =>
      inPage((page) => page.evaluate(([of, times]) => benchPage.games(of, times), [size, runs] as const)),
    render: (size, runs) =>
      inPage((page) => page.evaluate(([of, times]) => benchPage.render(of, times), [size, runs] as const)),
    big: (size) =>
      inPage(async (page) => {
        await page.evaluate((of) => benchPage.fillBig(of), size);
        await anew(page);
        const browserOf = await page.context().newCDPSession(page);
        await page.exposeFunction("bytesHeld", async () => {
          await browserOf.send("HeapProfiler.collectGarbage");
          const { usedSize, backingStorageSize = 0 } = (await browserOf.send("Runtime.getHeapUsage")) as HeapUsage;
          return usedSize + backingStorageSize;
        });
        return page.evaluate(() => benchPage.openBig(bytesHeld));
      }),
    async bare(size) {
      await serve(size);
      return inPage((page) => page.evaluate(() => benchPage.bare()));
    },
    close: () => new Promise((done) => server.close(() => done())),
  };
}

const isReady = (page: Page): Promise<unknown> => page.waitForFunction(() => "benchPage" in globalThis);

async function anew(page: Page): Promise<void> {
  await page.reload();
  await isReady(page);
}

const types: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
};
