/**
 * Ed25519 beside the page. A check by the library keeps a phone's thread busy for ten milliseconds; and a browser's own, for all that it
 * answers with a promise, is done in the thread that asks: in Chromium 100 µs of every 100, where handing it to a worker takes 5. A
 * record that is joined has thousands of them. So a worker does it.
 * A worker takes a third of a second to begin, so the first few checks, which may be all there are, are done here, one at a time, with
 * a turn for the page between them.
 *
 * A worker that does not start, dies or falls silent is given up for good and that is told; what it still owed, and all that comes
 * after, is checked here the same way. Rejected: starting it again (what killed it, for want of memory most likely, is still there).
 */
import type { Breathe } from "../book/breathing.ts";
import type { CheckAnswer, CheckAsk } from "./check-service.ts";
import type { Check, Ed25519 } from "./ed25519.ts";

/** Someone in another thread who answers as `check-service.ts` does. */
export interface Helper {
  ask(asked: readonly CheckAsk[]): void;
  stop(): void;
}

export interface BesideDeps {
  /** Throws, or calls `failed` later, when there is no other thread to be had. */
  readonly start: (heard: (answers: readonly CheckAnswer[]) => void, failed: (cause: string) => void) => Helper;
  /** Told once, when the helper is given up. */
  readonly lost: (cause: string) => void;
  readonly breathe: Breathe;
  readonly setTimeout: (run: () => void, after: number) => unknown;
  readonly clearTimeout: (timer: unknown) => void;
  /** Checks that are done here before a helper is started. */
  readonly before: number;
}

/** How long the helper may be silent while it owes an answer, in milliseconds; the slowest phone takes one for a batch. */
const PATIENCE = 30_000;

interface Owed extends CheckAsk {
  readonly settle: (good: boolean | Promise<boolean>) => void;
  readonly here: Check;
}

export function checksBeside(local: Ed25519, deps: BesideDeps): Ed25519 {
  const owed = new Map<number, Owed>();
  let helper: Helper | null = null;
  let isLost = false;
  let count = 0;
  let batch: Owed[] = [];
  let here: Promise<unknown> = Promise.resolve();
  let timer: unknown = null;

  /** One after another, whoever asks for how many at once. */
  function checkHere(check: Check, signature: CheckAsk["signature"], message: CheckAsk["message"]): Promise<boolean> {
    const turn = here.then(async () => {
      await deps.breathe();
      return check(signature, message);
    });
    here = turn.catch(() => undefined);
    return turn;
  }

  function giveUp(cause: string): void {
    if (isLost) return;
    isLost = true;
    deps.clearTimeout(timer);
    helper?.stop();
    helper = null;
    for (const { settle, here: check, signature, message } of owed.values())
      settle(checkHere(check, signature, message));
    owed.clear();
    deps.lost(cause);
  }

  function heard(answers: readonly CheckAnswer[]): void {
    for (const [n, good] of answers) {
      owed.get(n)?.settle(good);
      owed.delete(n);
    }
    wait();
  }

  function wait(): void {
    deps.clearTimeout(timer);
    if (owed.size > 0 && !isLost) timer = deps.setTimeout(() => giveUp("silent"), PATIENCE);
  }

  function send(): void {
    const asked = batch;
    batch = [];
    if (isLost) return;
    try {
      helper ??= deps.start(heard, giveUp);
      helper.ask(asked.map(({ n, x, signature, message }) => ({ n, x, signature, message })));
      wait();
    } catch (cause) {
      giveUp(String(cause));
    }
  }

  return {
    signing: local.signing,
    async checking(x) {
      // Also rejects for what can be no key.
      const check = await local.checking(x);
      return (signature, message) => {
        count += 1;
        if (isLost || count <= deps.before) return checkHere(check, signature, message);
        return new Promise((settle) => {
          const one: Owed = { n: count, x, signature, message, settle, here: check };
          owed.set(one.n, one);
          if (batch.push(one) === 1) queueMicrotask(send);
        });
      };
    },
  };
}
