/** Long work lets others have their turn, and comes to the same. */
import { createHash } from "node:crypto";
import { expect, test } from "vitest";
import { createBreathe, inSteps, neverBreathe } from "../../../packages/client/src/book/breathing.ts";
import type { Steps } from "../../../packages/core/src/replay/steps.ts";

function* counting(to: number, seen: string[]): Generator<void, number, void> {
  for (let at = 1; at <= to; at += 1) {
    seen.push(`work ${at}`);
    yield;
  }
  return to;
}

test("work is done in one go by whoever never breathes", async () => {
  const seen: string[] = [];
  const working = inSteps(counting(3, seen), neverBreathe);
  seen.push("somebody else");
  expect(await working).toBe(3);
  expect(seen).toEqual(["work 1", "work 2", "work 3", "somebody else"]);
});

test("others have their turn after so many milliseconds of work, counted anew from the end of each turn", async () => {
  let clock = 0;
  const seen: string[] = [];
  const turn = (): Promise<void> => {
    seen.push(`turn at ${clock}`);
    clock += 100;
    return Promise.resolve();
  };
  const breathe = createBreathe({ now: () => clock, turn, after: 6 });
  function* working(): Generator<void, string, void> {
    for (let at = 0; at < 8; at += 1) {
      clock += 2;
      yield;
    }
    return "done";
  }
  expect(await inSteps(working(), breathe)).toBe("done");
  expect(seen).toEqual(["turn at 6", "turn at 112"]);
});

test("what begins after a pause has a turn's work before it, but steps that are long themselves are parted all the same", () => {
  let clock = 0;
  const turn = (): Promise<void> => Promise.resolve();
  const breathe = createBreathe({ now: () => clock, turn, after: 6 });
  const parted = (...pauses: number[]): boolean[] =>
    pauses.map((pause) => {
      clock += pause;
      return breathe() !== null;
    });
  expect(parted(1_000, 5, 1)).toEqual([false, false, true]);
  expect(parted(60, 60, 60)).toEqual([false, true, false]);
});

test("what is thrown in the middle of the work comes to whoever waits for it", async () => {
  function* failing(): Generator<void, never, void> {
    yield;
    throw new Error("damaged");
  }
  await expect(inSteps(failing(), () => Promise.resolve())).rejects.toThrow("damaged");
});

test("what a step wants hashed the platform hashes, and the step after it is told nothing", async () => {
  const many = "a line of a card, é\n".repeat(500);
  function* asking(): Steps<readonly unknown[]> {
    const digest = yield () => many;
    return [digest, yield];
  }
  const [digest, nothing] = await inSteps(asking(), neverBreathe);
  expect(digest).toEqual(new Uint8Array(createHash("sha256").update(many, "utf8").digest()));
  expect(nothing).toBe(undefined);
});
