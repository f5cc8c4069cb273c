/**
 * Pages whose doings nobody hears of. What drives a page elsewhere in these tests has the browser tell it of every message of every socket,
 * whole and as base64 (of a record of thirty thousand entries that is a sixth of what a first join takes the machine), and of all that a
 * script throws: the browser then looks up the line of each `new Error`, for which it reads the whole script once more, half a tenth of a
 * second of a phone where a library makes one as it loads. No browser does either but one whose developer has looked into it. Here the
 * page is asked what it has seen, told what to do, and nothing else.
 *
 * Rejected: a second browser with a protocol of its own beside this one (what is measured beside each other would be two browsers').
 */
import type { Browser } from "playwright-core";

export interface UnheardPage {
  readonly browser: Browser;
  goto(url: string): Promise<void>;
  /** What an expression comes to in the page, once it has come about; must be data. */
  value<T>(expression: string): Promise<T>;
  /** What a function comes to that runs there, with data as it is given: nothing else of here is known in the page. */
  run<Given extends readonly unknown[], T>(inPage: (...given: Given) => T, ...given: Given): Promise<Awaited<T>>;
  /** Something of the browser's own protocol. */
  ask<T = unknown>(method: string, params?: object): Promise<T>;
  close(): Promise<void>;
}

export interface PageOptions {
  /** Script that runs in each document before its own. */
  readonly first: string;
  /** Everything the page's own thread does takes so many times as long. */
  readonly slower?: number;
}

/** A browser that has nothing of ours at first, and keeps what is put into it. */
export interface UnheardDevice {
  page(options: PageOptions): Promise<UnheardPage>;
  /** With all that its pages stored. */
  close(): Promise<void>;
}

interface Answer {
  readonly id?: number;
  readonly error?: { readonly message: string };
  readonly result?: object & { readonly exceptionDetails?: { readonly text: string } };
}

/** As wide as those of other tests. */
const SIZE = { width: 1280, height: 720 };

/**
 * A browser of a desk opens a window for each device's first page, and loads what stands round the page: five hundred scripts of its own, on
 * both processors of a small machine. A phone's is there already.
 */
const WINDOW_MS = 2_500;

export async function unheardDevice(browser: Browser): Promise<UnheardDevice> {
  const protocol = await browser.newBrowserCDPSession();
  const { browserContextId } = await protocol.send("Target.createBrowserContext");
  return {
    async page({ first, slower = 1 }) {
      const tab = await openTab(browser, browserContextId);
      await tab.ask("Page.enable");
      await tab.ask("Page.addScriptToEvaluateOnNewDocument", { source: first });
      // Else a field that is filled in has no focus, where there are several pages.
      await tab.ask("Emulation.setFocusEmulationEnabled", { enabled: true });
      await tab.ask("Emulation.setTouchEmulationEnabled", { enabled: true });
      await new Promise((drawn) => setTimeout(drawn, WINDOW_MS));
      if (slower !== 1) await tab.ask("Emulation.setCPUThrottlingRate", { rate: slower });
      async function value<T>(expression: string): Promise<T> {
        const asked = { expression, returnByValue: true, awaitPromise: true };
        const { result } = await tab.ask<{ result?: { value?: unknown } }>("Runtime.evaluate", asked);
        return result?.value as T;
      }
      return {
        ...tab,
        browser,
        value,
        run: (inPage, ...given) => value(`(${inPage})(${given.map((one) => JSON.stringify(one)).join(", ")})`),
        async goto(url) {
          await tab.ask("Page.navigate", { url });
        },
      };
    },
    async close() {
      await protocol.send("Target.disposeBrowserContext", { browserContextId });
      await protocol.detach();
    },
  };
}

async function openTab(browser: Browser, browserContextId: string): Promise<Pick<UnheardPage, "ask" | "close">> {
  const protocol = await browser.newBrowserCDPSession();
  const { targetId } = await protocol.send("Target.createTarget", { url: "about:blank", browserContextId, ...SIZE });
  const { sessionId } = await protocol.send("Target.attachToTarget", { targetId, flatten: false });
  const owed = new Map<number, (answer: Answer) => void>();
  let count = 0;
  protocol.on("Target.receivedMessageFromTarget", (event) => {
    if (event.sessionId !== sessionId) return;
    const answer = JSON.parse(event.message) as Answer;
    owed.get(answer.id ?? 0)?.(answer);
    owed.delete(answer.id ?? 0);
  });
  return {
    async ask<T>(method: string, params: object = {}) {
      count += 1;
      const id = count;
      const answering = new Promise<Answer>((heard) => owed.set(id, heard));
      await protocol.send("Target.sendMessageToTarget", { sessionId, message: JSON.stringify({ id, method, params }) });
      const { error, result } = await answering;
      const fault = error?.message ?? result?.exceptionDetails?.text;
      if (fault !== undefined) throw new Error(`${method}: ${fault}`);
      return result as T;
    },
    async close() {
      await protocol.send("Target.closeTarget", { targetId });
      await protocol.detach();
    },
  };
}
