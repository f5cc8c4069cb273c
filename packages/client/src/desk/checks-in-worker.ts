/** Signatures checked in a worker of this page. */
import type { Breathe } from "../book/breathing.ts";
import script from "../keys/check-worker.ts?worker&url";
import { checksBeside } from "../keys/checks-beside.ts";
import type { Ed25519 } from "../keys/ed25519.ts";
import { platformEd25519 } from "../keys/ed25519.ts";

/** As many are checked by the library before a worker would have begun; of the platform's own far more have been by now. */
const BEFORE = 32;

/** @param lost told when the worker did not start or has died: from then on the page does it, more slowly */
export const checksInWorker = (local: Ed25519, breathe: Breathe, lost: (cause: string) => void): Ed25519 =>
  checksBeside(local, {
    start(heard, failed) {
      const worker = new Worker(script, { type: "module" });
      worker.onmessage = ({ data }) => heard(data);
      worker.onmessageerror = () => failed("unreadable");
      worker.onerror = (event) => {
        event.preventDefault();
        failed(event.message === undefined || event.message === "" ? "not started" : event.message);
      };
      return { ask: (asked) => worker.postMessage(asked), stop: () => worker.terminate() };
    },
    lost,
    breathe,
    setTimeout: (run, after) => setTimeout(run, after),
    clearTimeout: (timer) => clearTimeout(timer as number),
    before: local === platformEd25519 ? 0 : BEFORE,
  });
