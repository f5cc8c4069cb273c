/**
 * Checking signatures for somebody in another thread: what is asked comes in batches and is answered by number. The code that checks is
 * the same on both sides (`ed25519.ts`), so that it makes no difference to the record where a signature was checked.
 */
import type { Check, Ed25519 } from "./ed25519.ts";

export interface CheckAsk {
  readonly n: number;
  /** The public key, base64url. */
  readonly x: string;
  readonly signature: Uint8Array<ArrayBuffer>;
  readonly message: Uint8Array<ArrayBuffer>;
}

/** By number, whether it is the signature. */
export type CheckAnswer = readonly [n: number, good: boolean];

/** Answers what is asked, one batch after another: `heard` is to be called with each. Never throws. */
export function serveChecks(
  curve: () => Promise<Ed25519>,
  answer: (answers: readonly CheckAnswer[]) => void,
): (asked: readonly CheckAsk[]) => void {
  const checks = new Map<string, Promise<Check>>();

  async function checkOne({ n, x, signature, message }: CheckAsk): Promise<CheckAnswer> {
    try {
      const check = checks.get(x) ?? curve().then((ed25519) => ed25519.checking(x));
      checks.set(x, check);
      return [n, await (await check)(signature, message)];
    } catch {
      return [n, false];
    }
  }

  return (asked) => void Promise.all(asked.map(checkOne)).then(answer);
}
