/**
 * Large arrivals read in workers of this page. Their script is fetched as soon as this one is here, though none begins before there is
 * something long to read: later it would be fetched behind the years it is to read, from the same relay.
 */
import type { ReadsBeside } from "../book/reads-beside.ts";
import { readsBeside } from "../book/reads-beside.ts";
import script from "../keys/check-worker.ts?worker&url";

export function readsInWorker(): ReadsBeside {
  // Whether it came shows where a worker does not begin.
  void fetch(script).catch(() => undefined);
  return readsBeside({
    // One core would be enough for the page alone, but it waits more than it works; more than four have nothing left to read.
    threads: Math.min(4, Math.max(1, navigator.hardwareConcurrency)),
    start(heard, failed) {
      const worker = new Worker(script, { type: "module" });
      worker.onmessage = ({ data }) => heard(JSON.parse(data));
      worker.onmessageerror = failed;
      worker.onerror = (event) => {
        event.preventDefault();
        failed();
      };
      return {
        begin: (begin) => worker.postMessage(begin),
        ask: (asked) => worker.postMessage(asked, [asked.bytes.buffer]),
        stop: () => worker.terminate(),
      };
    },
    setTimeout: (run, after) => setTimeout(run, after),
    clearTimeout: (timer) => clearTimeout(timer as number),
  });
}
