/**
 * What looks at the page from inside it, put there before the app. Nothing of the app is asked: what is measured is what stands on the
 * screen, and a moment counts when the frame that shows it has been drawn.
 */
import type { BrowserContext, Page } from "playwright-core";

/** An element that has all these texts is there; or, where none may be, there is none. */
export interface Sight {
  readonly selector: string;
  readonly has: readonly string[];
  readonly none?: boolean;
}

/** Milliseconds since the page was asked for; 0 where it has not been seen. */
export interface StartSeen {
  /** The band, the tabs and a heading. */
  readonly frame: number;
  /** A thing to do, whom something is to be done about, or a member's handicap: so that it can be read. */
  readonly useful: number;
  /** In step with the relay, nothing being read, and what was looked for is there: since then without a break. */
  readonly current: number;
  readonly isCurrent: boolean;
  /** Different values of the bar while entries are checked. */
  readonly steps: number;
  readonly now: number;
}

export interface LongTasks {
  readonly many: number;
  readonly longest: number;
}

/** In the page. */
interface Watch {
  started(sights: readonly Sight[]): StartSeen;
  /** Looks out for the next event of that kind. */
  arm(from: "press" | "message", sights: readonly Sight[]): void;
  /** Resolves with the milliseconds from that event until the sights were drawn. */
  took(): Promise<number>;
  tasks(since: number): LongTasks;
  now(): number;
}

declare const benchWatch: Watch;

function watch(): void {
  const seen = { frame: 0, useful: 0, current: 0 };
  const steps = new Set<number>();
  const tasks: { from: number; took: number }[] = [];
  new PerformanceObserver((list) => {
    for (const { startTime, duration } of list.getEntries()) tasks.push({ from: startTime, took: duration });
  }).observe({ entryTypes: ["longtask"] });

  const isThere = ({ selector, has, none = false }: Sight): boolean =>
    [...document.querySelectorAll(selector)].some(({ textContent }) =>
      has.every((text) => textContent?.includes(text)),
    ) !== none;
  let wanted: readonly Sight[] = [];
  let isCurrent = false;
  const look = (): void => {
    const now = performance.now();
    const isDrawn = document.querySelector("main h1") !== null && document.querySelector(".tabs") !== null;
    if (isDrawn && seen.frame === 0) seen.frame = now;
    if (
      seen.useful === 0 &&
      document.querySelector("main .matter h3, main .last-known-names li, main .roll .roll-handicap") !== null
    )
      seen.useful = now;
    const bar = document.querySelector<HTMLProgressElement>("main progress[max]");
    if (bar !== null) steps.add(bar.value);
    const said = document.querySelector(".connection")?.textContent ?? "";
    const current =
      isDrawn && /In step$/.test(said) && document.querySelector("main progress") === null && wanted.every(isThere);
    if (current && !isCurrent) seen.current = now;
    isCurrent = current;
  };

  let waiting: { from: string; sights: readonly Sight[]; since: number | null; done: (took: number) => void } | null =
    null;
  let taken: Promise<number> = Promise.resolve(Number.NaN);
  const { port1, port2 } = new MessageChannel();
  const drawn = (run: () => void): void => {
    port1.onmessage = run;
    requestAnimationFrame(() => port2.postMessage(null));
  };
  const await_ = (): void => {
    const one = waiting;
    if (one?.since == null || !one.sights.every(isThere)) return;
    waiting = null;
    const { since, done } = one;
    drawn(() => done(performance.now() - since));
  };
  const began = (from: string, at: number): void => {
    if (waiting?.from === from && waiting.since === null) waiting.since = at;
  };
  addEventListener("click", ({ timeStamp }) => began("press", timeStamp), true);
  const Native = WebSocket;
  globalThis.WebSocket = class extends Native {
    constructor(...to: ConstructorParameters<typeof WebSocket>) {
      super(...to);
      this.addEventListener("message", () => began("message", performance.now()));
    }
  };
  new MutationObserver(() => {
    look();
    await_();
  }).observe(document, {
    childList: true,
    subtree: true,
    characterData: true,
    attributes: true,
    attributeFilter: ["value"],
  });

  const own: Watch = {
    started(sights) {
      wanted = sights;
      look();
      return { ...seen, isCurrent, steps: steps.size, now: performance.now() };
    },
    arm(from, sights) {
      taken = new Promise((done) => {
        waiting = { from, sights, since: null, done };
      });
    },
    took: () => taken,
    tasks: (since) => {
      const later = tasks.filter(({ from }) => from >= since);
      return { many: later.length, longest: Math.max(0, ...later.map(({ took }) => took)) };
    },
    now: () => performance.now(),
  };
  Object.assign(globalThis, { benchWatch: own });
}

/** As a script. What compiles this file gives functions their names by a helper that the page does not have. */
export const WATCH = `globalThis.__name = (named) => named; (${watch})()`;

/** A page that is watched from its beginning. */
export async function watchedPage(context: BrowserContext, slower: number): Promise<Page> {
  const page = await context.newPage();
  page.setDefaultTimeout(0);
  await page.addInitScript(WATCH);
  await slow(page, slower);
  return page;
}

/** Everything the page's own thread does takes so many times as long. */
export async function slow(page: Page, rate: number): Promise<void> {
  const browser = await page.context().newCDPSession(page);
  await browser.send("Emulation.setCPUThrottlingRate", { rate });
}

/** How long the page must have been current, so that it was not merely between two things. */
const STEADY_MS = 3_000;

/** What was seen of a start, once the page has been current for so many milliseconds. */
export const startSeen = (page: Page, sights: readonly Sight[], steady = STEADY_MS): Promise<StartSeen> =>
  startedBy(() => page.evaluate((wanted) => benchWatch.started(wanted), sights), steady);

/** @param look asks the page what it has seen; null where it is too early to ask */
export async function startedBy(look: () => Promise<StartSeen | null>, steady = STEADY_MS): Promise<StartSeen> {
  for (;;) {
    const seen = await look();
    if (seen?.isCurrent && seen.now - seen.current > steady) return seen;
    await new Promise((done) => setTimeout(done, 500));
  }
}

export interface Took {
  readonly ms: number;
  /** Milliseconds of processor that the page's thread took meanwhile. */
  readonly work: number;
  readonly longest: number;
}

/** From the event that `act` brings about until the sights are drawn. */
export async function tookUntil(
  page: Page,
  from: "press" | "message",
  sights: readonly Sight[],
  act: () => Promise<unknown>,
): Promise<Took> {
  const since = await page.evaluate(() => benchWatch.now());
  const browser = await page.context().newCDPSession(page);
  await browser.send("Performance.enable", { timeDomain: "threadTicks" });
  const worked = async (): Promise<number> =>
    1000 *
    ((await browser.send("Performance.getMetrics")).metrics.find(({ name }) => name === "TaskDuration")?.value ?? 0);
  const before = await worked();
  await page.evaluate(([kind, wanted]) => benchWatch.arm(kind, wanted), [from, sights] as const);
  await act();
  const ms = await page.evaluate(() => benchWatch.took());
  const work = (await worked()) - before;
  await browser.detach();
  // What follows is of the same game too: it is drawn, but the page may still be busy with it.
  await new Promise((later) => setTimeout(later, 1_500));
  return { ms, work, longest: (await page.evaluate((at) => benchWatch.tasks(at), since)).longest };
}

export const longTasks = (page: Page): Promise<LongTasks> => page.evaluate(() => benchWatch.tasks(0));
