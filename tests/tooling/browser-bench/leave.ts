/**
 * A device is put away: its page and its service worker end, and with them the process they were in. A browser opens the next page of the
 * same origin in a process that is still there, beside what earlier pages left to be collected: a hundred megabytes after a join, and a
 * start then has to collect them. Who takes his phone out of a pocket a minute later finds a process of his own.
 */
import type { UnheardPage } from "./unheard-page.ts";

const LOOK_MS = 20;
const PATIENCE_MS = 20_000;

/** Closes a page; resolves when nothing of it is left in memory. */
export async function leave(page: UnheardPage): Promise<void> {
  const asked = await page.browser.newBrowserCDPSession();
  const renderers = async (): Promise<readonly number[]> =>
    (await asked.send("SystemInfo.getProcessInfo")).processInfo.flatMap(({ type, id }) =>
      type === "renderer" ? [id] : [],
    );
  const before = await renderers();
  await page.ask("ServiceWorker.enable");
  await page.ask("ServiceWorker.stopAllWorkers");
  await page.close();
  for (const from = Date.now(); ; ) {
    const now = await renderers();
    if (!before.every((id) => now.includes(id))) break;
    if (Date.now() - from > PATIENCE_MS) throw new Error("a page was closed, and its process is still there");
    await new Promise((later) => setTimeout(later, LOOK_MS));
  }
  await asked.detach();
}
