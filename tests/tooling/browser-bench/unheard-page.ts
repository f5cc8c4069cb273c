/**
 * A page whose traffic nobody hears of. What drives a page elsewhere in these tests has the browser tell it of every message of every
 * socket, whole and as base64; of a record of thirty thousand entries that is a sixth of what a first join takes the machine, and no
 * browser does it but one whose developer has looked into it. Here the page is asked what it has seen, and nothing else.
 *
 * Rejected: a second browser with a protocol of its own beside this one (what is measured beside each other would be two browsers').
 */
import type { Browser } from "playwright-core";

export interface UnheardPage {
  goto(url: string): Promise<void>;
  /** What an expression comes to in the page, once it has come about; must be data. */
  value<T>(expression: string): Promise<T>;
  /** With all that it stored. */
  close(): Promise<void>;
}

interface Answer {
  readonly id?: number;
  readonly error?: { readonly message: string };
  readonly result?: {
    readonly result?: { readonly value?: unknown };
    readonly exceptionDetails?: { readonly text: string };
  };
}

/** In a browser that has nothing of ours. @param first script that runs in each document before its own */
export async function unheardPage(browser: Browser, first: string): Promise<UnheardPage> {
  const protocol = await browser.newBrowserCDPSession();
  const { browserContextId } = await protocol.send("Target.createBrowserContext");
  const { targetId } = await protocol.send("Target.createTarget", { url: "about:blank", browserContextId });
  const { sessionId } = await protocol.send("Target.attachToTarget", { targetId, flatten: false });
  const owed = new Map<number, (answer: Answer) => void>();
  let count = 0;
  protocol.on("Target.receivedMessageFromTarget", (event) => {
    if (event.sessionId !== sessionId) return;
    const answer = JSON.parse(event.message) as Answer;
    owed.get(answer.id ?? 0)?.(answer);
    owed.delete(answer.id ?? 0);
  });

  async function ask(method: string, params: object): Promise<Answer["result"]> {
    count += 1;
    const id = count;
    const answering = new Promise<Answer>((heard) => owed.set(id, heard));
    await protocol.send("Target.sendMessageToTarget", { sessionId, message: JSON.stringify({ id, method, params }) });
    const { error, result } = await answering;
    const fault = error?.message ?? result?.exceptionDetails?.text;
    if (fault !== undefined) throw new Error(`${method}: ${fault}`);
    return result;
  }

  await ask("Page.enable", {});
  await ask("Page.addScriptToEvaluateOnNewDocument", { source: first });
  return {
    async goto(url) {
      await ask("Page.navigate", { url });
    },
    async value<T>(expression: string) {
      const answer = await ask("Runtime.evaluate", { expression, returnByValue: true, awaitPromise: true });
      return answer?.result?.value as T;
    },
    async close() {
      await protocol.send("Target.disposeBrowserContext", { browserContextId });
      await protocol.detach();
    },
  };
}
