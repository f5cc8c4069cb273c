/**
 * The language's tables of dates, which take a page a tenth of a second to ask for, are asked for in a thread of their own before the page
 * asks: in this order, whatever the machine, and by every start.
 */
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Scene } from "./at-a-desk.ts";
import { inStep, startScene } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

/** Notes in the page, in order, which threads are begun and where a language is asked for; before any script of its own. */
const note = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    const order: string[] = [];
    const Native = globalThis.Worker;
    globalThis.Worker = class extends Native {
      constructor(...of: ConstructorParameters<typeof Native>) {
        super(...of);
        order.push(String(of[0]).replace(/.*\/|-.*/g, ""));
      }
    };
    for (const name of ["DateTimeFormat", "Collator", "NumberFormat"] as const) {
      const asked = Intl[name];
      Object.assign(Intl, {
        [name]: new Proxy(asked, {
          construct: (target, of) => {
            order.push(name);
            return Reflect.construct(target, of) as object;
          },
        }),
      });
    }
    Object.assign(globalThis, { order });
  });

test("a thread that reads them is the first thing a start begins, and ends when it has", async () => {
  const { page, faults } = await scene.open(scene.club.passes.handicapper, "To do");
  await note(page);
  const read: string[] = [];
  const ended: string[] = [];
  page.on("worker", (worker) => {
    read.push(worker.url());
    worker.on("close", () => ended.push(worker.url()));
  });
  await page.reload();
  await inStep(page);
  await page.locator(".matter").first().waitFor();
  const order = await page.evaluate(() => (globalThis as unknown as { order: readonly string[] }).order);
  expect(order[0]).toBe("dates");
  expect(order).toContain("DateTimeFormat");
  const ofDates = read.filter((url) => /\/dates-read-/.test(url));
  expect(ofDates).toHaveLength(1);
  await expect.poll(() => ended).toEqual(expect.arrayContaining(ofDates));
  expect(faults).toEqual([]);
});
