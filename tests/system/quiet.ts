/**
 * When nothing more will happen by itself. Everything in the simulator is either an event that the schedule holds, or follows from
 * one at once; only WebCrypto works on threads of its own. So its calls are counted: none under way and the event loop gone round
 * once means that all that one event set off has come to its end. Rejected: `settled()` of every book (what is forgotten there would
 * be left out of the simulation exactly where it matters).
 */

let underWay = 0;
let whenNone: (() => void) | null = null;

const counted = ["sign", "verify", "encrypt", "decrypt", "digest", "deriveBits", "deriveKey", "importKey", "exportKey"];

/** Counts the platform's crypto from now on; once in a process. */
export function countCrypto(): void {
  const subtle = crypto.subtle as unknown as Record<string, (...args: unknown[]) => Promise<unknown>>;
  for (const name of counted) {
    const real = subtle[name]!.bind(crypto.subtle);
    subtle[name] = (...args) => {
      underWay += 1;
      return real(...args).finally(() => {
        underWay -= 1;
        if (underWay === 0) whenNone?.();
      });
    };
  }
}

const turn = (): Promise<void> => new Promise((done) => setImmediate(done));

/** Resolves when nothing is under way. */
export async function quiet(): Promise<void> {
  for (;;) {
    await turn();
    if (underWay === 0) return;
    await new Promise<void>((done) => {
      whenNone = done;
    });
    whenNone = null;
  }
}
