/**
 * What is drawn first when a match is saved or something comes, counted in frames: the word that it is saved before all that follows
 * from it, a screen before the number on a tab. And nobody can come between the two.
 */
import type { Draft } from "@sward/core";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { startScene } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

/** Parts of the page that are watched, by their selectors. */
const PARTS = [".saved-bar", ".lately", ".sheet-form", ".tab-attention", ".page-head .quiet", "#sheet"] as const;
type Part = (typeof PARTS)[number];

/** In how many-eth frame from now each part is first changed. In the page; `focus` takes the focus as soon as it is said to be saved. */
async function watchFrames(page: Page, focus: string | null): Promise<void> {
  await page.evaluate(
    ([parts, taken]) => {
      const first: Record<string, number> = {};
      let frame = 0;
      let isTaken = false;
      const count = (): void => {
        frame += 1;
        requestAnimationFrame(count);
      };
      requestAnimationFrame(count);
      new MutationObserver((changes) => {
        for (const { target } of changes) {
          const element = target instanceof Element ? target : target.parentElement;
          for (const part of parts) if (element?.closest(part)) first[part] ??= frame;
        }
        if (first[".saved-bar"] === undefined || taken === null || isTaken) return;
        isTaken = true;
        document.querySelector<HTMLElement>(taken)?.focus();
      }).observe(document.body, { childList: true, subtree: true, characterData: true });
      Object.assign(globalThis, { firstChanged: first });
    },
    [PARTS, focus] as const,
  );
}

const firstChanged = (page: Page): Promise<Partial<Record<Part, number>>> =>
  page.evaluate(() => (globalThis as unknown as { firstChanged: Record<string, number> }).firstChanged);

const field = (page: Page, name: string) => page.locator(`[data-field="${name}"]`);

async function fillIn(page: Page, names: readonly [string, string], score: string): Promise<void> {
  await field(page, "occasion").selectOption("club-competition");
  for (const [seat, name] of [
    [0, names[0]],
    [2, names[1]],
  ] as const) {
    await field(page, `player-${seat}`).fill(name);
    await page.getByRole("option", { name }).first().click();
  }
  await field(page, "score-0-0").fill("7");
  await field(page, "score-0-1").fill(score);
}

const focused = (page: Page): Promise<string | null | undefined> =>
  page.evaluate(() => document.activeElement?.getAttribute("data-field"));

test("that a match is saved is drawn in a frame of its own; the form is emptied, with the focus in it, and the list told after it", async () => {
  const { page, faults } = await scene.open(scene.club.passes.recorder, "Enter");
  await fillIn(page, ["Ada Wren", "Gwen Ashdown"], "3");
  await watchFrames(page, null);
  await field(page, "score-0-1").press("Enter");
  await page.locator(".lately li", { hasText: "7–3" }).waitFor();
  const { ".saved-bar": said, ".lately": listed, ".sheet-form": emptied } = await firstChanged(page);
  expect(said).toBeDefined();
  expect(listed).toBeGreaterThan(said ?? Number.NaN);
  expect(emptied).toBe(listed);
  expect(await field(page, "player-0").inputValue()).toBe("");
  expect(await focused(page)).toBe("player-0");
  expect(faults).toEqual([]);
});

test("a press of Save submits no form, for which the browser would look at each of its fields first", async () => {
  const { page } = await scene.open(scene.club.passes.recorder, "Enter");
  await fillIn(page, ["Bo Linnet", "Gwen Ashdown"], "1");
  await page.evaluate(() => {
    for (const type of ["submit", "click"])
      addEventListener(type, () => Object.assign(globalThis, { [type]: true }), { capture: true });
  });
  await page.getByRole("button", { name: "Save" }).click();
  await page.locator(".lately li", { hasText: "7–1" }).waitFor();
  const happened = (type: string): Promise<boolean> => page.evaluate((of) => of in globalThis, type);
  expect(await happened("click")).toBe(true);
  expect(await happened("submit")).toBe(false);
});

test("who takes the focus to a field before that keeps it there, in the emptied form", async () => {
  const { page } = await scene.open(scene.club.passes.recorder, "Enter");
  await fillIn(page, ["Bo Linnet", "Iris Copperdale"], "4");
  await watchFrames(page, '[data-field="player-2"]');
  await field(page, "score-0-1").press("Enter");
  await page.locator(".lately li", { hasText: "7–4" }).waitFor();
  const { ".saved-bar": said, ".sheet-form": emptied } = await firstChanged(page);
  expect(emptied).toBe(said);
  expect(await focused(page)).toBe("player-2");
  await page.keyboard.type("gwe");
  expect(await field(page, "player-2").inputValue()).toBe("gwe");
  expect(await field(page, "score-0-0").inputValue()).toBe("");
});

test("a correction ends with its screen in the frame that says it is saved", async () => {
  const { page } = await scene.open(scene.club.passes.recorder, "Enter");
  await page.locator(".lately li", { hasText: "7–4" }).getByRole("link").click();
  await field(page, "score-0-1").fill("6");
  await watchFrames(page, null);
  await field(page, "score-0-1").press("Enter");
  await page.locator(".lately li", { hasText: "7–6" }).waitFor();
  const { ".saved-bar": said, "#sheet": left } = await firstChanged(page);
  expect(said).toBeDefined();
  expect(left).toBe(said);
});

test("who goes to take it back at once is let, and is left with the focus beside the button that is gone", async () => {
  const { page } = await scene.open(scene.club.passes.recorder, "Enter");
  await fillIn(page, ["Cass Thorley", "Kit Underlea"], "5");
  await watchFrames(page, ".saved-bar button");
  await field(page, "score-0-1").press("Enter");
  await page.locator(".lately li", { hasText: "7–5" }).waitFor();
  const bar = page.locator(".saved-bar");
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Undo");
  await page.keyboard.press("Enter");
  await bar.getByRole("button", { name: "Undo" }).waitFor({ state: "detached" });
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Close");
  await page.keyboard.press("Enter");
  expect(await bar.innerText()).toBe("");
});

test("a screen is drawn before the number of things to do is counted", async () => {
  const { page } = await scene.open(scene.club.passes.handicapper, "Members");
  const number = page.locator(".tab-attention .tab-count");
  const before = Number.parseInt(await number.innerText(), 10);
  await watchFrames(page, null);
  const joins: Draft = { kind: "player-joined", body: { player: player("newcomer"), standing: "member" } };
  expect((await scene.club.root.append([joins])).ok).toBe(true);
  await expect.poll(async () => Number.parseInt(await number.innerText(), 10)).toBe(before + 1);
  const { ".page-head .quiet": listed, ".tab-attention": counted } = await firstChanged(page);
  expect(listed).toBeDefined();
  expect(counted).toBeGreaterThan(listed ?? Number.NaN);
});
