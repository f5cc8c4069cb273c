/**
 * What looks at the page from inside it, put there before the app. Nothing of the app is asked: what is measured is what stands on the
 * screen, and a moment counts when the frame that shows it has been drawn.
 */
import type { UnheardDevice, UnheardPage } from "./unheard-page.ts";

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
  const began = (from: string): void => {
    if (waiting?.from === from && waiting.since === null) waiting.since = performance.now();
  };
  // From when the page hears of it: until then a browser makes out whether a finger pressed, scrolled or zoomed.
  addEventListener("click", () => began("press"), true);
  const Native = WebSocket;
  globalThis.WebSocket = class extends Native {
    constructor(...to: ConstructorParameters<typeof WebSocket>) {
      super(...to);
      this.addEventListener("message", () => began("message"));
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
export const watchedPage = (device: UnheardDevice, slower: number): Promise<UnheardPage> =>
  device.page({ first: WATCH, slower });

/** How long the page must have been current, so that it was not merely between two things. */
const STEADY_MS = 3_000;
const LOOK_MS = 500;

/** What was seen of a start, once the page has been current for so many milliseconds. */
export async function startSeen(
  page: UnheardPage,
  sights: readonly Sight[] = [],
  steady = STEADY_MS,
): Promise<StartSeen> {
  for (;;) {
    // Null where it is too early to ask.
    const seen = await page.run(
      (wanted) => (typeof benchWatch === "undefined" ? null : benchWatch.started(wanted)),
      sights,
    );
    if (seen?.isCurrent && seen.now - seen.current > steady) return seen;
    await new Promise((done) => setTimeout(done, LOOK_MS));
  }
}

export interface Took {
  readonly ms: number;
  /** Milliseconds of processor that the page's thread took meanwhile. */
  readonly work: number;
  readonly longest: number;
}

/** What follows is of the same game too: it is drawn, but the page may still be busy with it. */
const AFTER_MS = 1_500;

/** From the event that `act` brings about until the sights are drawn. */
export async function tookUntil(
  page: UnheardPage,
  from: "press" | "message",
  sights: readonly Sight[],
  act: () => Promise<unknown>,
): Promise<Took> {
  const since = await page.run(() => benchWatch.now());
  await page.ask("Performance.enable", { timeDomain: "threadTicks" });
  const worked = async (): Promise<number> => {
    const { metrics } = await page.ask<{ metrics: readonly { name: string; value: number }[] }>(
      "Performance.getMetrics",
    );
    return 1000 * (metrics.find(({ name }) => name === "TaskDuration")?.value ?? 0);
  };
  const before = await worked();
  await page.run((kind, wanted) => benchWatch.arm(kind, wanted), from, sights);
  await act();
  const ms = await page.run(() => benchWatch.took());
  const work = (await worked()) - before;
  await page.ask("Performance.disable");
  await new Promise((later) => setTimeout(later, AFTER_MS));
  return { ms, work, longest: (await longTasks(page, since)).longest };
}

export const longTasks = (page: UnheardPage, since = 0): Promise<LongTasks> =>
  page.run((at) => benchWatch.tasks(at), since);
