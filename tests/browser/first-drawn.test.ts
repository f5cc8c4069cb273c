/**
 * What needs attention is drawn as far as the screen reaches, and then the rest: nothing may be shorter on the screen than it is counted,
 * or something in sight would come late, and all of it must come.
 */
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { MATTER, PARAGRAPH } from "../../packages/client/src/app/attention/first-drawn.ts";
import { members, player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { startScene } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

/** The foot of the screen, which is drawn with the last of it. */
const allOf = async (page: Page): Promise<readonly { readonly height: number; readonly paragraphs: number }[]> => {
  await page.locator(".attention-met").waitFor();
  return page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>(".matter")].map((matter) => ({
      height: matter.getBoundingClientRect().height + Number.parseFloat(getComputedStyle(matter).marginBottom),
      paragraphs: Math.max(1, matter.querySelectorAll(":scope > p").length),
    })),
  );
};

test("each thing to do is as tall as it is counted, or taller, on a wide screen and on a phone; on a low one all of it comes", async () => {
  const { page, faults } = await scene.open(scene.club.passes.handicapper, "To do");
  let many = 0;
  for (const [width, height] of [
    [1_280, 900],
    [390, 844],
    [1_280, 160],
  ] as const) {
    await page.setViewportSize({ width, height });
    await page.locator(".tab-members a").click();
    await page.locator(".roll").first().waitFor();
    await page.locator(".tab-attention a").click();
    const all = await allOf(page);
    for (const one of all) expect(one.height).toBeGreaterThanOrEqual(MATTER + PARAGRAPH * one.paragraphs);
    expect(all.length).toBeGreaterThan(3);
    if (many > 0) expect(all).toHaveLength(many);
    many = all.length;
  }
  expect(await page.locator(".below").count()).toBe(0);
  expect(faults).toEqual([]);
});

test("what does not fit on the screen comes a few screens at a time", async () => {
  const { page } = await scene.open(scene.club.passes.handicapper, "To do");
  await page.locator(".tab-members a").click();
  await page.locator(".roll").first().waitFor();
  await page.setViewportSize({ width: 1_280, height: 60 });
  await page.evaluate(() => {
    const came: number[] = [];
    new MutationObserver(() => came.push(document.querySelectorAll(".matter").length)).observe(document.body, {
      childList: true,
      subtree: true,
    });
    Object.assign(globalThis, { came });
  });
  await page.locator(".tab-attention a").click();
  const all = await allOf(page);
  const came = await page.evaluate(() => (globalThis as unknown as { came: number[] }).came);
  const steps = [...new Set([0, ...came])];
  expect(steps.at(-1)).toBe(all.length);
  // Three screens of this height are two things to do; the last of them may stand on the edge.
  const most = Math.max(...steps.map((many, n) => many - (steps[n - 1] ?? 0)));
  expect(most).toBeLessThanOrEqual(3);
  expect(Math.min(...steps.slice(1).map((many, n) => many - steps[n]!))).toBeGreaterThan(0);
});

test("a name that comes while its matter is on the screen is written there, though nothing else of the matter is new", async () => {
  const { page } = await scene.open(scene.club.passes.handicapper, "To do");
  await page.locator(".attention-met").waitFor();
  const titled = page.locator(".matter h3", { hasText: ": the card changed after it was signed" });
  await titled.first().waitFor();
  const [name = ""] = (await titled.first().innerText()).split(":");
  const [key] = members.find(([, full]) => full === name)!;
  await scene.club.root.roster.write(new Map([[player(key), { name: "Xenia Quill", short: "Xenia Q." }]]));
  await page.locator(".matter h3", { hasText: "Xenia Quill: the card changed" }).waitFor({ timeout: 20_000 });
});
