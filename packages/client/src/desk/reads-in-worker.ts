/** Large arrivals read in workers of this page. */
import type { ReadsBeside } from "../book/reads-beside.ts";
import { readsBeside } from "../book/reads-beside.ts";

export const readsInWorker = (): ReadsBeside =>
  readsBeside({
    // One core would be enough for the page alone, but it waits more than it works; more than four have nothing left to read.
    threads: Math.min(4, Math.max(1, navigator.hardwareConcurrency)),
    start(heard, failed) {
      const worker = new Worker(new URL("../keys/check-worker.ts", import.meta.url), { type: "module" });
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
