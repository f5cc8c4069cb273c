/** Checks signatures here until there have been many, then beside the page: nobody starts a worker for a small club's names. */
import type { Check, Ed25519 } from "./ed25519.ts";

/** @param beside asked once, after `many` checks; when it cannot be had everything is checked here */
export function besideWhenMany(here: Ed25519, beside: () => Promise<Ed25519>, many: number): Ed25519 {
  let count = 0;
  let started: Promise<Ed25519> | null = null;
  return {
    signing: here.signing,
    async checking(x) {
      const check = await here.checking(x);
      let there: Promise<Check> | null = null;
      return async (signature, message) => {
        count += 1;
        if (count <= many) return check(signature, message);
        started ??= beside().catch(() => here);
        there ??= started.then((curve) => curve.checking(x));
        return (await there)(signature, message);
      };
    },
  };
}
