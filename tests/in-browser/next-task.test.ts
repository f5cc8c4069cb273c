/** Tasks of a page's thread, by the browser's own queue and, where it has none, by ports. */
import { beforeAll, describe, expect, test } from "vitest";
import { nextTask } from "../../packages/client/src/desk/next-task.ts";

type NextTask = typeof nextTask;

let byPorts: NextTask;

beforeAll(async () => {
  const own = Object.getOwnPropertyDescriptor(globalThis, "scheduler") as PropertyDescriptor;
  delete (globalThis as { scheduler?: unknown }).scheduler;
  // Another module to the browser, which chooses once more.
  const without = "../../packages/client/src/desk/next-task.ts?without";
  byPorts = ((await import(/* @vite-ignore */ without)) as { nextTask: NextTask }).nextTask;
  Object.defineProperty(globalThis, "scheduler", own);
});

const ways: [string, () => NextTask][] = [
  ["the browser's queue", () => nextTask],
  ["ports", () => byPorts],
];

describe.each(ways)("by %s", (_name, way) => {
  test("each in a task of its own, in order, after what was promised before and before a timer of later", async () => {
    const next = way();
    const said: string[] = [];
    await new Promise<void>((done) => {
      setTimeout(done, 50);
      for (const one of ["first", "second"])
        next(() => {
          said.push(one);
          queueMicrotask(() => said.push(`after the ${one}`));
        });
      queueMicrotask(() => said.push("at once"));
    });
    expect(said).toEqual(["at once", "first", "after the first", "second", "after the second"]);
  });
});

test("they are two ways", () => {
  expect(byPorts).not.toBe(nextTask);
  expect([String(nextTask).includes("postTask"), String(byPorts).includes("postTask")]).toEqual([true, false]);
});
