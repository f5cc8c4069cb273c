/** Signatures checked in another thread: the same answers, whatever becomes of the thread. */
import { fail } from "node:assert";
import { systemRandom } from "@sward/client";
import fc from "fast-check";
import { expect, test } from "vitest";
import { serveChecks } from "../../../packages/client/src/keys/check-service.ts";
import type { BesideDeps } from "../../../packages/client/src/keys/checks-beside.ts";
import { checksBeside } from "../../../packages/client/src/keys/checks-beside.ts";
import { scriptEd25519 } from "../../../packages/client/src/keys/curves-in-script.ts";
import { ed25519Here, platformEd25519 } from "../../../packages/client/src/keys/ed25519.ts";

const SEED = 20261126;

interface Happened {
  readonly lost: string[];
  asked: number;
  local: number;
  stopped: boolean;
}

/** What becomes of the helper after so many batches. */
type Fate = "lives" | "dies" | "throws" | "silent";

/** A helper behind a real channel, with the service on the other side of it. */
function scene(fate: Fate, { after = 0, before = 0 } = {}) {
  const happened: Happened = { lost: [], asked: 0, local: 0, stopped: false };
  let batches = 0;
  const timers: (() => void)[] = [];
  const deps: BesideDeps = {
    start(heard, failed) {
      if (fate === "throws") throw new Error("no workers here");
      const { port1, port2 } = new MessageChannel();
      const service = serveChecks(ed25519Here, (answers) => port2.postMessage(answers));
      port2.onmessage = ({ data }) => service(data);
      port1.onmessage = ({ data }) => heard(data);
      return {
        ask(asked) {
          happened.asked += asked.length;
          batches += 1;
          if (batches <= after || fate === "lives") port1.postMessage(asked);
          else if (fate === "dies") setImmediate(() => failed("out of memory"));
          // As after half a minute.
          else setImmediate(() => timers.at(-1)?.());
        },
        stop() {
          happened.stopped = true;
          port1.close();
        },
      };
    },
    lost: (cause) => happened.lost.push(cause),
    breathe: () => null,
    setTimeout: (run) => timers.push(run),
    clearTimeout: () => undefined,
    before,
  };
  const local = {
    ...scriptEd25519,
    async checking(x: string) {
      const check = await scriptEd25519.checking(x);
      return (...given: Parameters<typeof check>) => {
        happened.local += 1;
        return check(...given);
      };
    },
  };
  return { curve: checksBeside(local, deps), happened };
}

/** Signatures of some keys, one in so many spoilt, and what they are worth. */
async function signatures(many: number, spoilt: number) {
  const signers = await Promise.all([1, 2, 3].map((n) => platformEd25519.signing(new Uint8Array(32).fill(n))));
  return Promise.all(
    Array.from({ length: many }, async (_, at) => {
      const { x, sign } = signers[at % 3] ?? fail("a signer");
      const message = systemRandom(40).slice();
      const signature = (await sign(message)).slice();
      const good = at % spoilt !== 0;
      if (!good) signature[at % 64] = (signature[at % 64] as number) ^ 1;
      return { x, message, signature, good };
    }),
  );
}

async function answersOf(curve: ReturnType<typeof scene>["curve"], asked: Awaited<ReturnType<typeof signatures>>) {
  const checks = new Map<string, Awaited<ReturnType<typeof curve.checking>>>();
  for (const { x } of asked) if (!checks.has(x)) checks.set(x, await curve.checking(x));
  const check = (x: string) => checks.get(x) ?? fail("a key");
  return Promise.all(asked.map(({ x, signature, message }) => check(x)(signature, message)));
}

test("what a helper answers is what is so, and the page checks none of it", async () => {
  const { curve, happened } = scene("lives");
  const asked = await signatures(60, 5);
  expect(await answersOf(curve, asked)).toEqual(asked.map(({ good }) => good));
  expect(happened).toEqual({ lost: [], asked: 60, local: 0, stopped: false });
});

test("the first few are checked here, and no helper is started for them", async () => {
  const { curve, happened } = scene("lives", { before: 10 });
  const asked = await signatures(12, 5);
  expect(await answersOf(curve, asked.slice(0, 10))).toEqual(asked.slice(0, 10).map(({ good }) => good));
  expect(happened.asked).toBe(0);
  expect(await answersOf(curve, asked)).toEqual(asked.map(({ good }) => good));
  expect([happened.asked, happened.local]).toEqual([12, 10]);
});

test.each<[Fate, string]>([
  ["throws", "Error: no workers here"],
  ["dies", "out of memory"],
  ["silent", "silent"],
])("a helper that %s is given up and told of once; what it owed is checked here", async (fate, cause) => {
  const { curve, happened } = scene(fate);
  const asked = await signatures(20, 4);
  expect(await answersOf(curve, asked)).toEqual(asked.map(({ good }) => good));
  expect(await answersOf(curve, asked)).toEqual(asked.map(({ good }) => good));
  expect(happened.lost).toEqual([cause]);
  expect(happened.local).toBe(40);
  expect(happened.stopped).toBe(fate !== "throws");
});

test(`in whatever batches they are asked, and whenever the helper dies, the answers are the same (seed ${SEED})`, async () => {
  const asked = await signatures(24, 3);
  const sizes = fc.array(fc.integer({ min: 1, max: 8 }), { minLength: 3, maxLength: 6 });
  const fates = fc.constantFrom<Fate>("lives", "dies", "silent");
  await fc.assert(
    fc.asyncProperty(fates, fc.nat(4), fc.nat(9), sizes, async (fate, after, before, parts) => {
      const { curve } = scene(fate, { after, before });
      const answers: boolean[] = [];
      let from = 0;
      for (const part of parts) {
        const some = asked.slice(from, from + part);
        answers.push(...(await answersOf(curve, some)));
        from += part;
      }
      expect(answers).toEqual(asked.slice(0, from).map(({ good }) => good));
    }),
    { seed: SEED, numRuns: 30 },
  );
});

test("what can be no key is refused here", async () => {
  await expect(scene("lives").curve.checking("AAAA")).rejects.toThrow("32 bytes");
});
